import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedRig } from '../../canned';
import { Desk, type Field, type WiredSheet } from '../../desk.svelte';
import { mounted, textOf } from '../../mounted';
import { cannedAt, cannedRun, cannedWired, emptyWired } from './canned';
import { fieldAt } from '../../fields';
import { options, shownOf } from './states';
import Wired from './Wired.svelte';

function deskWith(sheet: WiredSheet | undefined, fetch: (path: string, init?: RequestInit) => Promise<Response> = () => Promise.reject(new Error('no program in this test'))): Desk {
  const desk = new Desk(fetch);
  desk.rig.value = cannedRig({ revision: sheet?.revision ?? 'aaaa0001' });
  desk.wired.value = sheet;
  return desk;
}

function press(target: HTMLElement, selector: string, text: string): void {
  const found = [...target.querySelectorAll<HTMLElement>(selector)].find((x) => textOf(x).includes(text));
  expect(found, `${selector} with ${text}`).toBeDefined();
  found?.click();
  flushSync();
}

function row(target: HTMLElement, name: string): string {
  return textOf([...target.querySelectorAll('tr')].find((x) => textOf(x.querySelector('.name')) === name) ?? null);
}

describe('How is it wired?', () => {
  it('tells which sizes and ratings the last change altered', () => {
    const desk = deskWith(cannedWired({ since: 'aaaa0000', shifts: [{ name: 'main', before: { us: '2 AWG', metric: '33.6 mm²' }, after: { us: '4/0 AWG', metric: '107 mm²' } }, { name: 'spare fuse', before: { us: '5 A', metric: '5 A' }, after: { us: '', metric: '' } }] }));
    desk.change = { words: 'a change', difference: '', since: 'aaaa0000' };
    mounted(Wired, { desk }, (target) => {
      const told = textOf(target.querySelector('[aria-label="Since the last change"]'));
      expect(told).toBe('Since the last change main 2 AWG → 4/0 AWGspare fuse 5 A → gone');
      desk.units = 'metric';
      flushSync();
      expect(textOf(target.querySelector('[aria-label="Since the last change"]'))).toContain('33.6 mm² → 107 mm²');
    });
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => expect(textOf(target)).not.toContain('Since the last change'));
  });

  it('tells the AC side by leg, and marks what is over in words', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      const table = [...target.querySelectorAll('h2')].find((h) => h.textContent === 'AC by leg')?.parentElement?.querySelector('table');
      const rows = [...(table?.querySelectorAll('tbody tr') ?? [])].map((row) => [...row.children].map(textOf).join(' | '));
      expect(rows).toEqual([
        'shore50 A at 120 V', 'L1 | 20.1 A | 30.0 A | 50 A | 65 A |  | within', 'L2 | 45.0 A | 55.0 A (50.0 to 60.0 A) | 50 A | 65 A |  | over for hours',
        'neutral |  | 25.0 A |  |  |  | ', 'Not told which leg: washer.',
      ]);
      expect(table?.querySelectorAll('tr.over').length).toBe(1);
    });
    mounted(Wired, { desk: deskWith(emptyWired()) }, (target) => expect(textOf(target)).not.toContain('AC by leg'));
  });

  it('shows the whole answer', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toBe('3 runs, 1 of them proposed; 1 fuse.');
      expect(row(target, 'main')).toContain('proposed');
      expect(row(target, 'main')).toContain('120 A full inverter');
      expect(row(target, 'main')).toContain('0.8 to 3.1 %');
      expect(row(target, 'hidden line')).toContain('not known');
      expect(row(target, 'hidden line')).toContain('To know it: lay a tape along its way.');
      expect(row(target, 'shore cord')).toContain('not solved; may carry 200 A');
      expect(target.textContent).toContain('no run reaches it');
      expect(textOf(target.querySelector('.problems'))).toBe('no single cable is thick enough.');
      expect(target.textContent).toContain('Follow local codes.');
      expect(target.querySelectorAll('.caution').length).toBe(1);
      expect(target.querySelectorAll('a').length).toBe(0);
    });
  });

  it('shows one state, then a short', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      press(target, '.wide button', 'noon, hot');
      expect(row(target, 'main')).toContain('−40 A');
      expect(row(target, 'main')).toContain('3 W');
      expect(textOf(target.querySelector('.told'))).toContain('13.20 V, +40.0 A');
      expect(textOf(target.querySelector('.told'))).toContain('the fan runs');
      press(target, '.wide button', 'short circuit');
      expect(row(target, 'main')).toContain('21,000 A of 20,000 A main fuse: more than it can stop by itself');
      expect(row(target, 'hidden line')).toContain('nothing in it to stop a short');
    });
  });

  it('tells the limit behind a proposal and accepts it with what it hangs on', async () => {
    const asked: string[] = [];
    const desk = deskWith(cannedWired(), (path, init) => {
      asked.push(`${path} ${typeof init?.body === 'string' ? init.body : ''}`);
      return Promise.resolve(new Response(path.startsWith('/api/wired/accept') ? '{"revision":"aaaa0001","edits":[{"path":"wiring","old":"","new":"{}"}]}' : JSON.stringify(cannedRig())));
    });
    await new Promise<void>((done, failed) => {
      mounted(Wired, { desk }, (target) => {
        press(target, 'tr.proposed button', 'Why');
        const why = textOf(target.querySelector('.why'));
        expect(why).toContain('1 AWG would lose 3.4 %');
        expect(why).toContain('up to 4 ft long, 1 AWG would do');
        expect(why).toContain('2 AWG at its short end, 4/0 AWG at its long end');
        press(target, '.why button', 'Accept with the run it hangs on');
        window.setTimeout(() => {
          try {
            expect(asked[0]).toContain('/api/wired/accept?run=wiring%2Fruns%2Fmain');
            expect(asked[1]).toContain('"edits":[{"path":"wiring","old":"","new":"{}"}]');
            expect(asked[1]).toContain('"note":"accepted: main and 1 more"');
            done();
          } catch (error) {
            failed(error instanceof Error ? error : new Error(String(error)));
          }
        }, 20);
      });
    });
  });

  it('changes a size where it stands, and takes the proposal along', async () => {
    const asked: string[] = [];
    const desk = deskWith(cannedWired(), (path) => {
      asked.push(path);
      return Promise.resolve(new Response(path.startsWith('/api/wired/accept') ? '{"revision":"aaaa0001","edits":[{"path":"wiring","old":"","new":"{}"}]}' : '{"problem":"","means":{"us":"","metric":""},"state":"","remark":"","offers":[]}'));
    });
    await new Promise<void>((done, failed) => {
      mounted(Wired, { desk }, (target) => {
        press(target, 'tr.proposed button.change', 'about 4 ft');
        const entry = target.querySelector<HTMLInputElement>('.entering input');
        expect(entry?.value).toBe('about 4 ft (2 ft to 8 ft)');
        expect(textOf(target.querySelector('.entering p'))).toContain('It is a proposal: with your value it goes into your file');
        if (!entry) throw new Error('no entry');
        entry.value = '9';
        entry.dispatchEvent(new Event('input', { bubbles: true }));
        flushSync();
        press(target, '.entering .do', 'Save');
        window.setTimeout(() => {
          try {
            expect(asked.find((p) => p.startsWith('/api/wired/accept'))).toBe('/api/wired/accept?run=wiring%2Fruns%2Fmain&path=wiring%2Fruns%2Fmain%2Flength&text=9');
            expect(asked).toContain('/api/edit');
            done();
          } catch (error) {
            failed(error instanceof Error ? error : new Error(String(error)));
          }
        }, 20);
      });
    });
  });

  it('offers no acceptance where nothing is proposed', () => {
    const sheet = cannedWired({ proposed: 0, edits: [], groups: [{ title: 'Battery side', runs: [cannedRun({ known: 'written', choices: [], along: [] })] }] });
    mounted(Wired, { desk: deskWith(sheet) }, (target) => {
      press(target, 'tr.written button', 'Why');
      expect(textOf(target.querySelector('.why'))).toContain('It stands in your file');
      expect([...target.querySelectorAll('button')].filter((x) => textOf(x).startsWith('Accept')).length).toBe(0);
    });
  });

  it('opens a device and refuses to open a shunt', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      const names = [...target.querySelectorAll('th button')].map(textOf);
      expect(names).toEqual(['main fuse']);
      press(target, 'th button', 'main fuse');
      expect(textOf(target.querySelector('.live'))).toContain('Tracing what stays live.');
    });
  });

  it('opens a device that is pressed in its run', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      press(target, 'button.device', '200 A class T fuse');
      expect(target.querySelector('th button')?.getAttribute('aria-expanded')).toBe('true');
      expect(target.querySelector('.live')).not.toBeNull();
    });
  });

  it('shows the reader’s units', () => {
    const desk = deskWith(cannedWired());
    desk.units = 'metric';
    mounted(Wired, { desk }, (target) => {
      expect(row(target, 'main')).toContain('53.5 mm², change the size of main 1/0 AWG');
      expect(row(target, 'main')).toContain('0.6 to 2.4 m');
    });
  });

  it('marks too much by form and word', () => {
    const hot = cannedRun({ worst: cannedAt({ bar: 1.2, load: '120 %' }) });
    mounted(Wired, { desk: deskWith(cannedWired({ groups: [{ title: 'Battery side', runs: [hot] }] })) }, (target) => {
      expect(target.querySelector('tr.proposed .over')).not.toBeNull();
      expect(row(target, 'main')).toContain('120 %of 200 A');
    });
  });

  it('lets a guess that stands in the file be entered', () => {
    mounted(Wired, { desk: deskWith(cannedWired()) }, (target) => {
      press(target, '.enter', 'Enter it');
      expect(target.querySelector<HTMLInputElement>('.entry input')?.value).toContain('12 ft');
    });
  });

  it('is whole when empty', () => {
    mounted(Wired, { desk: deskWith(emptyWired()) }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toBe('0 runs.');
      expect(target.querySelectorAll('tbody tr').length).toBe(0);
    });
  });

  it('tells what is missing, what is broken, and what was refused', () => {
    mounted(Wired, { desk: deskWith(emptyWired({ state: 'gaps', gaps: [{ path: 'bank/block/capacity', at: 'bank, block', what: 'capacity of a block', hint: 'read its label', raw: '' }] })) }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toContain('One value is missing');
      expect(target.textContent).toContain('read its label');
    });
    const desk = deskWith(emptyWired({ state: 'faults', sentence: '' }));
    desk.rig.value = cannedRig({ revision: 'aaaa0000', faults: [{ path: 'people', line: 4, column: 1, value: 'many', problem: 'not a number', limit: '', hint: '' }] });
    mounted(Wired, { desk }, (target) => {
      expect(textOf(target.querySelector('.faults li'))).toContain('Line 4: not a number');
    });
    const refused = deskWith(undefined);
    refused.rig.value = undefined;
    refused.wired.refusal = 'the rig cannot be wired yet';
    mounted(Wired, { desk: refused }, (target) => {
      expect(textOf(target.querySelector('[role=alert]'))).toBe('the rig cannot be wired yet');
    });
  });
});

describe('states and fields', () => {
  it('finds a state, and falls back to the worst', () => {
    const sheet = cannedWired();
    expect(options(sheet).map((o) => o.label)).toEqual(['worst of each run', 'full inverter', 'noon, hot', 'short circuit']);
    expect(shownOf(sheet, 'noon, hot')).toEqual({ of: 'state', at: 1 });
    expect(shownOf(sheet, '!')).toEqual({ of: 'fault' });
    expect(shownOf(sheet, 'gone')).toEqual({ of: 'worst' });
  });

  it('finds the field of a path', () => {
    const field = (path: string): [string, Field] => [path, { path } as Field];
    const fields = new Map([field('wiring/runs/*/length'), field('wiring/runs/*/gauge')]);
    expect(fieldAt(fields, 'wiring/runs/main/length')?.path).toBe('wiring/runs/*/length');
    expect(fieldAt(fields, 'wiring/runs/main')).toBeUndefined();
  });
});
