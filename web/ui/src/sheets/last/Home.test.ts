import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedRig, cannedTrip } from '../../canned';
import { Desk, type Row } from '../../desk.svelte';
import { shown, textOf } from '../../mounted';
import Home from './Home.svelte';

/** A desk on a rig with what is said of its home. */
function homeDesk(said: Record<string, string>): { desk: Desk; bodies: string[] } {
  const bodies: string[] = [];
  const desk = new Desk((path, init) => {
    if (path === '/api/edit') bodies.push(String(init?.body));
    return Promise.resolve(Response.json(path === '/api/edit' ? cannedRig({ revision: 'aaaa0002' }) : cannedTrip()));
  });
  const rig = cannedRig();
  const row = (key: string, text: string): Row => ({ path: `home/${key}`, pattern: `home/${key}`, key, text: { us: text, metric: text }, raw: said[key] ?? '', state: said[key] ? 'stated' : 'default', why: '', line: 0 });
  rig.sections.push({ path: 'home', title: 'Home', doc: '', form: 'group', there: true, total: { us: '', metric: '' }, parts: [{
    path: 'home', pattern: 'home', name: '', member: false, lists: [], unsaid: [], rows: [...(said['place'] ? [row('place', said['place'])] : []), row('hookup', said['hookup'] ?? 'none'), row('lived in', 'no')],
  }] });
  desk.rig.value = rig;
  desk.fields = new Map([
    ['home/place', { path: 'home/place', key: 'place', form: 'place', doc: 'name, or latitude and longitude' }],
    ['home/hookup', { path: 'home/hookup', key: 'hookup', form: 'word', doc: '', words: ['none', '30 A', 'unknown'] }],
    ['home/lived in', { path: 'home/lived in', key: 'lived in', form: 'word', doc: '', words: ['yes', 'no'] }],
  ]);
  return { desk, bodies };
}

const later = (): Promise<void> => new Promise((done) => window.setTimeout(done, 20));

describe('At home', () => {
  it('asks where it stands, in the entry for a place', async () => {
    const { desk, bodies } = homeDesk({});
    await shown(Home, { desk }, async (target) => {
      expect(textOf(target)).toContain('Where does it stand between trips?');
      expect(target.querySelector('h2 button')).toBeNull();
      const entry = target.querySelector<HTMLInputElement>('.entry input');
      if (!entry) throw new Error('no entry');
      entry.value = 'Moab, UT';
      entry.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      entry.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
      await later();
      expect(bodies.join()).toContain('"path":"home/place","old":"","new":"Moab, UT"');
    });
  });

  it('lets it be parked dark or plugged in, with one choice', async () => {
    const { desk, bodies } = homeDesk({ place: 'Moab, UT' });
    await shown(Home, { desk }, async (target) => {
      const parked = target.querySelector<HTMLSelectElement>('select');
      if (!parked) throw new Error('no choice');
      expect([...parked.options].map(textOf)).toEqual(['dark, nothing plugged in', 'plugged in, 30 A', 'not known']);
      expect(parked.value).toBe('none');
      parked.value = '30 A';
      parked.dispatchEvent(new Event('change', { bubbles: true }));
      await later();
      expect(bodies.join()).toContain('"path":"home/hookup","old":"","new":"30 A"');
      expect(desk.change?.words).toBe('at home, parked: plugged in, 30 A');
    });
  });
});
