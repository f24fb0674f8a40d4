import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedRig, cannedTrip } from '../../canned';
import { Desk, type RigsView } from '../../desk.svelte';
import { shown, textOf } from '../../mounted';
import Start from './Start.svelte';

const rigs: RigsView = {
  folder: '/rigs', files: [], recent: [], demos: [], links: [],
  asks: [
    { key: 'kind', number: 1, ask: 'What is it?', choices: ['van', 'travel trailer'], usual: 'van' },
    { key: 'place', number: 3, ask: 'Where will it stand?', choices: [], usual: 'Quartzsite, AZ, US' },
  ],
};

/** A desk whose program knows one town. */
function townDesk(): { desk: Desk; asked: string[] } {
  const asked: string[] = [];
  const desk = new Desk((path, init) => {
    asked.push(`${path} ${String(init?.body ?? '')}`);
    if (path === '/api/rigs') return Promise.resolve(Response.json(rigs));
    if (path.startsWith('/api/new/try')) {
      const known = path.includes('Quartzsite');
      return Promise.resolve(Response.json({
        problem: known ? '' : '“Quartzite” is not in the list of places; did you mean Quartzsite, AZ, US?', means: { us: '', metric: '' }, state: '', remark: '',
        offers: known ? [] : [{ text: 'Quartzsite, AZ, US', words: 'Quartzsite, AZ, US' }],
      }));
    }
    return Promise.resolve(Response.json(path.startsWith('/api/trip') ? cannedTrip() : cannedRig({ saved: path === '/api/save-as', name: 'Siskin' })));
  });
  desk.rig.value = cannedRig({ saved: false, name: 'Siskin: ours', file: 'new rig' });
  return { desk, asked };
}

const later = async (ms = 20): Promise<void> => {
  await new Promise((done) => setTimeout(done, ms));
  flushSync();
};

describe('Which rig?', () => {
  it('offers the town that was meant, and takes it on a press', async () => {
    const { desk } = townDesk();
    await shown(Start, { desk }, async (target) => {
      await later();
      [...target.querySelectorAll('button')].find((b) => textOf(b).startsWith('Begin'))?.click();
      flushSync();
      const place = [...target.querySelectorAll<HTMLInputElement>('.form input')].at(-1);
      if (!place) throw new Error('no place');
      place.value = 'Quartzite';
      place.dispatchEvent(new Event('input', { bubbles: true }));
      await later(320);
      expect(textOf(target.querySelector('.said.wrong'))).toBe('“Quartzite” is not in the list of places');
      target.querySelector<HTMLButtonElement>('.offers button')?.click();
      flushSync();
      expect(place.value).toBe('Quartzsite, AZ, US');
      await later(320);
      expect(target.querySelector('.said.wrong')).toBeNull();
    });
  });

  it('says of a new rig that it is not saved, and saves it under the name that it has', async () => {
    const { desk, asked } = townDesk();
    await shown(Start, { desk }, async (target) => {
      await later();
      expect(textOf(target.querySelector('.unsaved'))).toContain('Your rig is not saved yet: it is gone when the program ends.');
      expect(textOf(target)).not.toMatch(/demo|memory/i);
      expect(target.querySelector<HTMLInputElement>('.unsaved input')?.value).toBe('Siskin ours');
      [...target.querySelectorAll('button')].find((b) => textOf(b) === 'Save')?.click();
      await later();
      expect(asked.find((a) => a.startsWith('/api/save-as'))).toContain('{"name":"Siskin ours"}');
      expect(target.querySelector('.unsaved')).toBeNull();
    });
  });

  it('asks for a name of its own for a rig to look around in', async () => {
    const { desk } = townDesk();
    desk.rig.value = cannedRig({ saved: false, demo: true });
    await shown(Start, { desk }, async (target) => {
      await later();
      expect(textOf(target.querySelector('.unsaved'))).toContain('A rig to look around in');
      expect(target.querySelector<HTMLInputElement>('.unsaved input')?.value).toBe('');
      expect([...target.querySelectorAll('button')].find((b) => textOf(b) === 'Save')?.disabled).toBe(true);
    });
  });
});
