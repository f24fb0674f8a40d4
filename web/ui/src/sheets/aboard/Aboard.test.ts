import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedRig, cannedTrip } from '../../canned';
import { Desk, type Field, type RigView } from '../../desk.svelte';
import { mounted, shown, textOf } from '../../mounted';
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
      expect(rows.slice(0, 4)).toEqual(['block, capacity | 100 Ah', 'starts at | 100 % defaultThat is right: Bank starts atfull on arrival', 'heats below | 39.2 °F aboutThat is right: Bank heats below', 'opens at | not known unknown']);
    });
  });

  it('begins with what is aboard in one sentence, in the reader’s units, and a total beside its kind of part', () => {
    const desk = deskWith(cannedRig());
    mounted(Aboard, { desk }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toBe('60 lb of propane.');
      expect(textOf(target.querySelector('#part-bank h2'))).toBe('Bank1.28 kWh');
      expect(textOf(target.querySelector('.alike'))).toBe('5 estimates: its ends are usual.');
      desk.units = 'metric';
      flushSync();
      expect(textOf(target.querySelector('.sentence'))).toBe('27.2 kg of propane.');
    });
  });

  it('leads to a kind of part', () => {
    const rig = cannedRig();
    const bank = rig.sections[0];
    if (!bank) throw new Error('no bank');
    for (const path of ['roof', 'shore', 'trip']) rig.sections.push({ ...bank, path, title: path, total: { us: '', metric: '' }, parts: [] });
    mounted(Aboard, { desk: deskWith(rig) }, (target) => {
      const buttons = [...target.querySelectorAll<HTMLButtonElement>('.index button')];
      expect(buttons.map(textOf)).toEqual(['Bank 1.28 kWh', 'roof', 'shore', 'trip', 'Revisions']);
      buttons[2]?.click();
      flushSync();
      expect(document.activeElement?.id).toBe('part-shore');
    });
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => expect(target.querySelector('.index')).toBeNull());
  });

  it('keeps details of a part back until they are asked for', () => {
    const rig = cannedRig();
    const kettle = (path: string, key: string, state: 'default' | 'taken' | 'stated') => ({
      path: `appliances/kettle/${path}`, pattern: `appliances/*/${path}`, key, text: { us: '1', metric: '1' }, raw: '', state, why: '', line: 0,
    });
    rig.sections.push({ path: 'appliances', title: 'Appliances', doc: '', form: 'list', there: true, total: { us: '1', metric: '1' }, parts: [{
      path: 'appliances/kettle', pattern: 'appliances/*', name: 'kettle', member: true, lists: [], unsaid: [],
      rows: [kettle('power', 'power', 'taken'), kettle('surge', 'surge', 'taken'), kettle('power factor', 'power factor', 'default'), kettle('standby', 'standby', 'stated')],
    }] });
    mounted(Aboard, { desk: deskWith(rig) }, (target) => {
      expect(target.querySelectorAll('#part-appliances tr').length).toBe(4); // on paper all of them stand
      const keys = (): string[] => [...target.querySelectorAll('#part-appliances tr:not(.spare) th')].map(textOf);
      expect(keys()).toEqual(['power', 'standby']);
      expect(textOf(target.querySelector('#part-appliances .acts'))).toContain('More details (2)');
      expect(textOf(target.querySelector('#part-appliances .acts'))).toContain('Remove kettle');
      target.querySelector<HTMLButtonElement>('#part-appliances .acts button')?.click();
      flushSync();
      expect(keys()).toEqual(['power', 'surge', 'power factor', 'standby']);
      target.querySelector<HTMLButtonElement>('#part-appliances .acts button')?.click();
      target.querySelector<HTMLInputElement>('input[type=checkbox]')?.click();
      flushSync();
      expect(keys()).toEqual(['power', 'surge', 'power factor', 'standby']);
    });
  });

  it('names what is needed, and asks for the alternator where a charge line has none', () => {
    const rig = cannedRig({
      gaps: [{ path: 'bank/block/capacity', at: 'bank, block', what: 'the capacity of one block', hint: 'it is printed on its case', raw: '' }],
      asks: [{ at: 'bank', what: 'the vehicle’s alternator', why: 'nothing is charged on the road', list: 'vehicle/alternators' }],
    });
    mounted(Aboard, { desk: deskWith(rig) }, (target) => {
      expect([...target.querySelectorAll('.needed li')].map(textOf)).toEqual(['bank, block: the capacity of one block; it is printed on its case.', 'the vehicle’s alternator. nothing is charged on the road.']);
      expect(target.querySelector('#part-bank .ask .kinds')).not.toBeNull();
      target.querySelector<HTMLButtonElement>('.needed button')?.click();
      expect(document.activeElement?.closest('tr')?.textContent).toContain('capacity');
    });
  });

  it('says in place what each mark on the sheet means', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      expect([...target.querySelectorAll('.legend dt')].map(textOf)).toEqual(['stated', 'about', 'default', 'unknown']);
    });
  });

  it('marks a value that an answer cannot do without', () => {
    const rig = cannedRig({ gaps: [{ path: 'bank/opens at', at: 'bank', what: 'the cut-off', hint: 'it is printed on its case', raw: '' }] });
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

  it('shows the values that are left blank when asked for more', () => {
    mounted(Aboard, { desk: deskWith(cannedRig()) }, (target) => {
      [...target.querySelectorAll<HTMLButtonElement>('.acts button')].find((b) => textOf(b).startsWith('More'))?.click();
      flushSync();
      expect([...target.querySelectorAll('tr.left-blank')].map(textOf)).toEqual(['health left blank', 'block, weight left blank']);
    });
  });

  it('adds a kind that is picked, shows it, and asks for its name', async () => {
    const asked: string[] = [];
    const added = cannedRig({ revision: 'aaaa0002', undo: 'appliances, electric kettle added', added: 'appliances/electric kettle' });
    added.sections.push({ path: 'appliances', title: 'Appliances', doc: '', form: 'list', there: true, total: { us: '1', metric: '1' }, parts: [{
      path: 'appliances/electric kettle', pattern: 'appliances/*', name: 'electric kettle', member: true, lists: [], unsaid: [], rows: [
        { path: 'appliances/electric kettle/name', pattern: 'appliances/*/name', key: 'name', text: { us: 'electric kettle', metric: 'electric kettle' }, raw: 'electric kettle', state: 'stated', why: '', line: 20 },
      ],
    }] });
    const kinds = ['toaster', 'electric kettle', 'blender', 'fan', 'oven', 'printer', 'lights'].map((name) => ({ name, group: 'kitchen', words: { us: '1,500 W', metric: '1,500 W' }, also: name === 'electric kettle' ? ['tea kettle'] : [] }));
    const desk = new Desk((path, init) => {
      asked.push(`${path} ${String(init?.body ?? '')}`);
      if (path.startsWith('/api/kinds')) return Promise.resolve(Response.json({ kinds }));
      if (path === '/api/part') return Promise.resolve(Response.json(added));
      return Promise.resolve(Response.json(cannedTrip()));
    });
    const rig = cannedRig();
    rig.sections.push({ path: 'appliances', title: 'Appliances', doc: '', form: 'list', there: true, total: { us: '1', metric: '1' }, parts: [] });
    desk.rig.value = rig;
    const settle = async (): Promise<void> => {
      for (let i = 0; i < 8; i += 1) await Promise.resolve();
      await new Promise((done) => setTimeout(done));
      flushSync();
    };
    await shown(Aboard, { desk }, async (target) => {
      target.querySelector<HTMLButtonElement>('#part-appliances .opener')?.click();
      flushSync();
      await settle();
      expect(target.querySelectorAll('.kinds li').length).toBe(7);
      const search = target.querySelector<HTMLInputElement>('.kinds input');
      if (!search) throw new Error('no search');
      search.value = 'tea ket';
      search.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      expect([...target.querySelectorAll('.kinds li')].map(textOf)).toEqual(['electric kettle 1,500 W']);
      target.querySelector<HTMLButtonElement>('.kinds li button')?.click();
      await settle();
      expect(asked.find((a) => a.startsWith('/api/part'))).toContain('"kind":"electric kettle"');
      const block = target.querySelector('[data-part="appliances/electric kettle"]');
      expect(block?.classList.contains('fresh')).toBe(true);
      expect(block?.querySelector<HTMLInputElement>('.asks input')?.value).toBe('electric kettle');
      expect(desk.added).toBe('');
      expect(target.querySelector('.kinds')).toBeNull();
    });
  });

  it('asks for a link of the charge line what it is, and for what belongs to that; a bare number takes the unit of its reader', async () => {
    const bodies: string[] = [];
    const desk = new Desk((path, init) => {
      if (path === '/api/part') bodies.push(String(init?.body));
      return Promise.resolve(Response.json(path === '/api/part' ? cannedRig({ revision: 'aaaa0002' }) : path.startsWith('/api/kinds') ? { kinds: [] } : cannedTrip()));
    });
    const field = (key: string, kind: string, unit: string): Field => ({ path: `charge line/*/${key}`, key: key.slice(key.lastIndexOf('/') + 1), form: 'value', doc: '', kinds: [kind], units: [unit] });
    const group = (key: string): Field => ({ path: `charge line/*/${key}`, key, form: 'group', doc: '' });
    desk.fields = new Map([field('fuse', 'current', 'A'), field('position maximum', 'current', 'A'), group('run'), field('run/gauge', 'section', 'mm2'), field('run/length', 'length', 'm'), field('plug', 'current', 'A')].map((f) => [f.path, f]));
    const rig = cannedRig();
    rig.sections.push({ path: 'charge line', title: 'Charge line', doc: '', form: 'list', there: true, total: { us: '', metric: '' }, parts: [] });
    desk.rig.value = rig;
    await shown(Aboard, { desk }, async (target) => {
      target.querySelector<HTMLButtonElement>('[id="part-charge line"] .opener')?.click();
      await later();
      flushSync();
      target.querySelector<HTMLButtonElement>('.other')?.click();
      flushSync();
      const labels = (): string[] => [...target.querySelectorAll('.form label')].map(textOf);
      expect(labels()).toEqual(['what it is', 'fuse', 'position maximum']);
      const what = target.querySelector<HTMLSelectElement>('.form select');
      if (!what) throw new Error('it is not asked what it is');
      expect([...what.options].map((o) => o.value)).toEqual(['fuse', 'run', 'plug']);
      what.value = 'run';
      what.dispatchEvent(new Event('change', { bubbles: true }));
      flushSync();
      expect(labels()).toEqual(['what it is', 'run, gauge', 'run, length']);
      for (const [i, text] of ['6', '12'].entries()) {
        const entry = target.querySelectorAll<HTMLInputElement>('.form input')[i];
        if (!entry) throw new Error('no entry');
        entry.value = text;
        entry.dispatchEvent(new Event('input', { bubbles: true }));
      }
      [...target.querySelectorAll<HTMLButtonElement>('.form button')].find((b) => textOf(b) === 'Add it')?.click();
      await later();
      expect(bodies.join()).toContain('"values":{"run/gauge":"6 AWG","run/length":"12 ft"}');
    });
  });

  it('asks what becomes of those that name a part before it goes', async () => {
    const asked: string[] = [];
    const desk = new Desk((path, init) => {
      asked.push(`${path} ${String(init?.body ?? '')}`);
      if (path.startsWith('/api/part/users')) return Promise.resolve(Response.json({ users: [{ words: 'array front, controller', goes: 'array front' }], others: ['rear unit'] }));
      return Promise.resolve(Response.json(path === '/api/part' ? cannedRig({ revision: 'aaaa0002' }) : cannedTrip()));
    });
    const rig = cannedRig();
    rig.sections.push({ path: 'controllers', title: 'Controllers', doc: '', form: 'named', there: true, total: { us: '', metric: '' }, parts: [{
      path: 'controllers/front unit', pattern: 'controllers/*', name: 'front unit', member: true, lists: [], unsaid: [], rows: [],
    }] });
    desk.rig.value = rig;
    await shown(Aboard, { desk }, async (target) => {
      const press = async (text: string): Promise<void> => {
        [...target.querySelectorAll<HTMLButtonElement>('#part-controllers button')].find((b) => textOf(b).startsWith(text))?.click();
        await new Promise((done) => setTimeout(done, 20));
        flushSync();
      };
      await press('Remove front unit');
      expect(textOf(target.querySelector('.users'))).toContain('Named by array front, controller. If it goes:');
      expect(asked.some((a) => a.startsWith('/api/part '))).toBe(false);
      await press('Keep it');
      expect(target.querySelector('.users')).toBeNull();
      await press('Remove front unit');
      await press('Name this instead');
      expect(asked.find((a) => a.startsWith('/api/part '))).toContain('"do":"remove","path":"controllers/front unit","users":"point","to":"rear unit"');
    });
  });

  it('offers what may have been meant as buttons', async () => {
    const edits: string[] = [];
    const desk = new Desk((path, init) => {
      if (path.startsWith('/api/try')) return Promise.resolve(Response.json({ problem: 'not known; did you mean 4 °C?', means: { us: '', metric: '' }, state: '', remark: '', offers: [{ text: '4 C', words: '4 C' }] }));
      edits.push(`${path} ${String(init?.body ?? '')}`);
      return Promise.resolve(Response.json(path === '/api/edit' ? cannedRig({ revision: 'aaaa0002' }) : cannedTrip()));
    });
    desk.rig.value = cannedRig();
    await shown(Aboard, { desk }, async (target) => {
      target.querySelectorAll<HTMLButtonElement>('button.value')[2]?.click();
      flushSync();
      const entry = target.querySelector<HTMLInputElement>('.entry input');
      if (!entry) throw new Error('no entry');
      entry.value = '4 Cc';
      entry.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      await new Promise((done) => setTimeout(done, 200));
      flushSync();
      const offer = target.querySelector<HTMLButtonElement>('.offers button');
      expect(textOf(offer)).toBe('4 C');
      offer?.click();
      await new Promise((done) => setTimeout(done, 20));
      expect(edits.find((e) => e.startsWith('/api/edit'))).toContain('"new":"4 C"');
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

  /** A desk whose program takes every edit, with what was asked of it. */
  function taking(): { desk: Desk; bodies: string[] } {
    const bodies: string[] = [];
    const desk = new Desk((path, init) => {
      if (path === '/api/edit') bodies.push(String(init?.body));
      return Promise.resolve(new Response(JSON.stringify(path === '/api/edit' ? cannedRig() : path.startsWith('/api/try') ? { problem: '', means: { us: '', metric: '' }, state: '', remark: '', offers: [] } : cannedTrip())));
    });
    desk.rig.value = cannedRig();
    desk.fields = new Map(['bank/block/capacity', 'bank/starts at'].map((path) => [path, { path, key: path.slice(path.lastIndexOf('/') + 1), form: 'value', doc: '' }]));
    return { desk, bodies };
  }

  const later = (ms = 20): Promise<void> => new Promise((done) => window.setTimeout(done, ms));

  async function entering(what: string, type: string | undefined, then: (target: HTMLElement, entry: HTMLInputElement) => void): Promise<string[]> {
    const { desk, bodies } = taking();
    const open = new Promise<void>((done, failed) => {
      mounted(Aboard, { desk }, (target) => {
        const row = [...target.querySelectorAll('tr')].find((r) => textOf(r).startsWith(what));
        row?.querySelector<HTMLButtonElement>('button.value')?.click();
        flushSync();
        const entry = target.querySelector<HTMLInputElement>('.entry input');
        if (!entry) throw new Error(`no entry for ${what}`);
        if (type !== undefined) {
          entry.value = type;
          entry.dispatchEvent(new Event('input', { bubbles: true }));
          flushSync();
        }
        then(target, entry);
        later().then(done, failed);
      });
    });
    await open;
    return bodies;
  }

  it('keeps what was typed when its reader goes elsewhere, and drops it on Escape', async () => {
    const leave = (_: HTMLElement, entry: HTMLInputElement): void => void entry.dispatchEvent(new FocusEvent('focusout', { bubbles: true, relatedTarget: document.body }));
    document.hasFocus = () => true;
    expect((await entering('block, capacity', '230', leave)).join()).toContain('"old":"100 Ah","new":"230 Ah"');
    expect(await entering('block, capacity', undefined, leave)).toEqual([]);
    const escape = (target: HTMLElement, entry: HTMLInputElement): void => {
      entry.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
      flushSync();
      leave(target, entry);
    };
    expect(await entering('block, capacity', '230', escape)).toEqual([]);
  });

  it('says beside a value, and for a whole part, that what was taken is right', async () => {
    const { desk, bodies } = taking();
    const rig = cannedRig();
    const bank = rig.sections[0]?.parts[0];
    if (!bank) throw new Error('no bank');
    for (const row of bank.rows.slice(0, 1)) row.state = 'taken';
    if (bank.rows[1]) Object.assign(bank.rows[1], { state: 'taken', raw: '100 %' });
    desk.rig.value = rig;
    await shown(Aboard, { desk }, async (target) => {
      const press = (text: string): void => [...target.querySelectorAll<HTMLButtonElement>('#part-bank button')].find((b) => textOf(b).startsWith(text))?.click();
      press('That is right: Bank block, capacity');
      await later();
      expect(bodies.join()).toContain('"old":"100 Ah","new":"100 Ah"');
      bodies.length = 0;
      desk.rig.value = rig;
      flushSync();
      press('All of it is right');
      await later();
      expect(bodies.join()).toContain('"path":"bank/block/capacity","old":"100 Ah","new":"100 Ah"');
      expect(bodies.join()).toContain('"path":"bank/starts at","old":"100 %","new":"100 %"');
    });
  });

  it('leaves an entry open that cannot be saved while another is opened, and moves nothing before the press has ended', async () => {
    const { desk, bodies } = taking();
    document.hasFocus = () => true;
    await shown(Aboard, { desk }, async (target) => {
      const value = (n: number): HTMLButtonElement | undefined => target.querySelectorAll<HTMLButtonElement>('button.value')[n];
      value(0)?.click();
      flushSync();
      const entry = target.querySelector<HTMLInputElement>('.entry input');
      if (!entry) throw new Error('no entry');
      entry.value = '230';
      entry.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      window.dispatchEvent(new Event('pointerdown'));
      entry.dispatchEvent(new FocusEvent('focusout', { bubbles: true, relatedTarget: document.body }));
      await later();
      expect(bodies).toEqual([]);
      value(1)?.click(); // the next value below, which is the third by now
      flushSync();
      expect(target.querySelectorAll('.entry').length).toBe(2);
      window.dispatchEvent(new Event('pointerup'));
      await later();
      expect(bodies.join()).toContain('"old":"100 Ah","new":"230 Ah"');
    });
  });

  it('makes a choice at once with the mouse, and with the keys when it is left', async () => {
    const { desk, bodies } = taking();
    desk.fields = new Map([['bank/block/capacity', { path: 'bank/block/capacity', key: 'capacity', form: 'word', doc: '', words: ['100 Ah', '200 Ah', '300 Ah'] }]]);
    document.hasFocus = () => true;
    await shown(Aboard, { desk }, async (target) => {
      target.querySelector<HTMLButtonElement>('button.value')?.click();
      flushSync();
      const choice = target.querySelector<HTMLSelectElement>('.entry select');
      if (!choice) throw new Error('no choice');
      expect([...target.querySelectorAll('.entry .acts button')].map(textOf)).toEqual(['Cancel', 'Leave it out']);
      const step = (to: number): void => {
        choice.options[to]!.selected = true;
        choice.dispatchEvent(new Event('change', { bubbles: true }));
        flushSync();
      };
      choice.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', bubbles: true }));
      step(2);
      await later();
      expect(bodies).toEqual([]);
      choice.dispatchEvent(new Event('pointerdown', { bubbles: true }));
      window.dispatchEvent(new Event('pointerup'));
      step(3);
      await later();
      expect(bodies.length).toBe(1);
      expect(target.querySelector('.entry')).toBeNull();
    });
  });

  it('keeps what was typed when its sheet is left', async () => {
    const { desk, bodies } = taking();
    mounted(Aboard, { desk }, (target) => {
      target.querySelector<HTMLButtonElement>('button.value')?.click();
      flushSync();
      const entry = target.querySelector<HTMLInputElement>('.entry input');
      if (!entry) throw new Error('no entry');
      entry.value = '230';
      entry.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
    });
    await later();
    expect(bodies.join()).toContain('"old":"100 Ah","new":"230 Ah"');
  });

  it('says of what was filled in that it is right', async () => {
    const right = (target: HTMLElement, entry: HTMLInputElement): void => {
      expect(entry.value).toBe('100 %');
      const button = target.querySelector<HTMLButtonElement>('.entry .do');
      expect(textOf(button)).toBe('That is right');
      button?.click();
    };
    expect((await entering('starts at', undefined, right)).join()).toContain('"old":"","new":"100 %"');
  });
});
