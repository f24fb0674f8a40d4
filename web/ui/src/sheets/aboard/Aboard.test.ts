import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedRig } from '../../canned';
import { Desk, type RigView } from '../../desk.svelte';
import { mounted, textOf } from '../../mounted';
import Aboard from './Aboard.svelte';

function deskWith(rig: RigView | undefined): Desk {
  const desk = new Desk(() => Promise.reject(new Error('no program in this test')));
  desk.rig.value = rig;
  return desk;
}

describe('What is aboard?', () => {
  it('says in words how well each value is known', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      const rows = [...target.querySelectorAll('tr')].map((row) => [...row.querySelectorAll('th,td')].map(textOf).join(' | '));
      expect(rows.slice(0, 4)).toEqual(['block, capacity | 100 Ah', 'starts at | 100 % defaultfull on arrival', 'heats below | 39.2 °F about', 'opens at | not known unknown']);
    });
  });

  it('shows only the owner’s words on request', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      target.querySelector<HTMLInputElement>('input[type=checkbox]')?.click();
      flushSync();
      expect([...target.querySelectorAll('.all th')].map(textOf)).toEqual(['block, capacity', 'heats below', 'opens at']);
    });
  });

  it('marks a value that an answer cannot do without', () => {
    const rig = cannedRig({ gaps: [{ path: 'bank/opens at', what: 'the cut-off', hint: 'it is printed on its case' }] });
    mounted(Aboard, { desk: deskWith(rig) }, (target) => {
      expect(textOf(target.querySelector('tr.gap td'))).toContain('it is printed on its case');
    });
  });

  it('shows the faults of the file with their lines', () => {
    const rig = cannedRig({ sections: [], counts: [], faults: [{ line: 3, column: 7, path: 'people', value: 'many', problem: 'not a number', limit: '1 to 20', hint: 'write 2' }] });
    mounted(Aboard, { desk: deskWith(rig) }, (target) => {
      expect(textOf(target.querySelector('.faults li'))).toBe('Line 3. people: not a number, allowed is 1 to 20; write 2');
    });
  });

  it('holds for a rig of nothing and for none', () => {
    mounted(Aboard, { desk: deskWith(cannedRig({ sections: [], counts: [] })) }, (target) => expect(target.querySelector('article')).not.toBeNull());
    mounted(Aboard, { desk: deskWith(undefined) }, (target) => expect(textOf(target)).toBe('Nothing has been answered yet.'));
  });

  it('shows the values that are not said when asked for more', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      [...target.querySelectorAll<HTMLButtonElement>('.acts button')].find((b) => textOf(b).startsWith('More'))?.click();
      flushSync();
      expect([...target.querySelectorAll('tr.not-said')].map(textOf)).toEqual(['health not said', 'block, weight not said']);
    });
  });

  it('opens an entry on a press, with what stands in the file, and closes it with Escape', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      target.querySelectorAll<HTMLButtonElement>('button.value')[2]?.click();
      flushSync();
      const entry = target.querySelector<HTMLInputElement>('.entry input');
      expect(entry?.value).toBe('about 4 C');
      entry?.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true, cancelable: true }));
      flushSync();
      expect(target.querySelector('.entry')).toBeNull();
    });
  });
});
