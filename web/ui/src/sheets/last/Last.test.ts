import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { cannedCurve, cannedRig, cannedTrip, emptyTrip } from '../../canned';
import { Desk, type TripSheet } from '../../desk.svelte';
import { mounted, textOf } from '../../mounted';
import Last from './Last.svelte';

function deskWith(trip: TripSheet | undefined): Desk {
  const desk = new Desk(() => Promise.reject(new Error('no program in this test')));
  desk.rig.value = cannedRig();
  desk.trip.value = trip;
  return desk;
}

describe('Will it last?', () => {
  it('shows the whole answer', () => {
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toBe('Propane ends the stay after 1.5 days, on Sat 28 Nov 2026.');
      const rows = [...target.querySelectorAll('details')].map((row) => textOf(row.querySelector('summary')));
      expect(rows.slice(0, 2)).toEqual(['propane 1.5 days Sat 28 Nov', 'battery more than the stay']);
      const slider = target.querySelector('[role=slider]');
      expect(slider?.getAttribute('aria-valuetext')).toContain('lowest Sun 29 Nov 00:00: battery 18 to 50 %');
      expect(target.textContent).toContain('heat loss of furnace');
      expect(target.textContent).toContain('Follow local codes.');
      expect(textOf(target.querySelector('.notes li'))).toBe('The wind is taken as 3.4 mph.');
    });
  });

  it('tells what moves the end of a store, in the reader’s units', () => {
    const desk = deskWith(cannedTrip());
    desk.advice.value = {
      ends: 'propane', switches: [], hours: [{ words: { us: 'Run it 2 hours.', metric: 'Run it 2 hours.' }, caution: '' }], hookups: [],
      ways: [{ store: 'propane', words: { us: 'a third 30 lb cylinder', metric: 'a third 13.6 kg cylinder' }, saves: { us: '', metric: '' }, costs: { us: '', metric: '' }, lasts: '3 days', next: 'the battery ends it then', edits: [{ path: 'stores/propane', old: '2 x 30 lb', new: '3 x 30 lb' }] }],
    };
    mounted(Last, { desk }, (target) => {
      expect(textOf(target.querySelector('.way'))).toContain('a third 30 lb cylinder');
      expect(textOf(target.querySelector('.way'))).toContain('lasts 3 days');
      desk.units = 'metric';
      flushSync();
      expect(textOf(target.querySelector('.way'))).toContain('a third 13.6 kg cylinder');
    });
  });

  it('lets a store that may end stand out, and explains its signs', () => {
    const trip = cannedTrip();
    Object.assign(trip.stores[1] ?? {}, { likely: true, chance: '21 of 100 runs' });
    mounted(Last, { desk: deskWith(trip) }, (target) => {
      const battery = [...target.querySelectorAll('details')].find((d) => textOf(d.querySelector('summary')).startsWith('battery'));
      expect(battery?.classList.contains('ends')).toBe(true);
      expect(textOf(battery?.querySelector('.may') ?? null)).toBe('may not last');
      const key = textOf(target.querySelector('.keys'));
      for (const sign of ['ends here in a typical run', 'nine runs of ten', 'ends the stay first']) expect(key).toContain(sign);
      expect(key).not.toContain('grey');
    });
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => {
      const battery = [...target.querySelectorAll('details')].find((d) => textOf(d.querySelector('summary')).startsWith('battery'));
      expect(battery?.classList.contains('ends')).toBe(false);
      expect(textOf(target.querySelector('.keys'))).toContain('grey outlasts the stay');
    });
  });

  it('tells amp-hours beside watt-hours, and the usual charge at bedtime and at first light', () => {
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => {
      const first = [...target.querySelectorAll('caption')].find((c) => c.textContent === 'Comes from')?.parentElement?.querySelector('tbody tr');
      expect(textOf(first ?? null)).toBe('front1,200 Wh94 Ah');
      expect(textOf(target)).toContain("the bank's nominal 12.8 V");
      expect([...target.querySelectorAll('.rest')].map(textOf)).toEqual(['at bedtime, 22:00 70 %', 'at first light 44 %']);
    });
  });

  it('counts the nights on which something went wrong, and is silent where nothing did', () => {
    const title = (target: HTMLElement): Element | undefined => [...target.querySelectorAll('h2')].find((h) => h.textContent === 'What went wrong');
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => {
      expect(textOf(title(target)?.parentElement?.querySelector('tbody tr') ?? null)).toMatch(/^1 of 2 nights ?inverter cut off by low voltage$/);
    });
    mounted(Last, { desk: deskWith(cannedTrip({ wrong: [] })) }, (target) => expect(title(target)).toBeUndefined());
  });

  it('draws a poor run beside the typical one, and says what it is', () => {
    const curve = cannedCurve({ poor: [50, 20, 30, 0], poorCharge: ['50 %', '20 %', '30 %', '0 %'] });
    mounted(Last, { desk: deskWith(cannedTrip({ curve, poor: 'In a poor run the battery is empty after 1.9 days.' })) }, (target) => {
      expect(target.querySelector('path.poor')?.getAttribute('d')).toBe('M125.0,50.0L375.0,80.0L625.0,70.0L875.0,100.0');
      expect(textOf(target.querySelector('.legend'))).toContain('a poor run, worse than nine in ten');
      expect(textOf(target.querySelector('.second'))).toBe('One night in two goes below the floor. In a poor run the battery is empty after 1.9 days.');
      expect(target.querySelector('[role=slider]')?.getAttribute('aria-valuetext')).toContain('0 % in a poor run');
    });
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => expect(target.querySelector('.poor')).toBeNull());
  });

  it('moves along the battery by keyboard', () => {
    mounted(Last, { desk: deskWith(cannedTrip()) }, (target) => {
      const slider = target.querySelector<SVGElement>('[role=slider]');
      const press = (key: string): string | null => {
        slider?.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
        flushSync();
        return slider?.getAttribute('aria-valuenow') ?? null;
      };
      expect(press('Home')).toBe('0');
      expect(press('ArrowRight')).toBe('1');
      expect(slider?.getAttribute('aria-valuetext')).toContain('Sat 28 Nov 00:00');
      expect(press('End')).toBe('3');
      expect(press('ArrowRight')).toBe('3');
      expect(press('Escape')).toBe('3');
    });
  });

  it('shows the reader’s units', () => {
    const desk = deskWith(cannedTrip());
    desk.units = 'metric';
    mounted(Last, { desk }, (target) => {
      expect(target.textContent).toContain('0.73 kg');
      expect(target.textContent).not.toContain('1.6 lb');
      expect(textOf(target)).toContain('The wind is taken as 1.5 m/s.');
      expect(textOf(target)).toContain('2 kg aboard');
      expect(textOf(target)).not.toContain('mph');
    });
  });

  it('holds for a stay of nothing', () => {
    mounted(Last, { desk: deskWith(emptyTrip()) }, (target) => {
      expect(target.querySelector('article')).not.toBeNull();
      expect(target.innerHTML).not.toMatch(/NaN|undefined|Infinity/);
    });
  });

  it('never draws a broken number', () => {
    const broken = cannedTrip({ floor: 0, days: 0, dates: [] });
    for (const store of broken.stores) Object.assign(store, { lasts: 1e9, low: -5, high: 1e12 });
    mounted(Last, { desk: deskWith(broken) }, (target) => {
      expect(target.innerHTML).not.toMatch(/NaN|undefined|Infinity/);
    });
  });

  it('names what is missing instead of an answer', () => {
    const trip = emptyTrip({ state: 'gaps', gaps: [{ path: 'bank/block/capacity', at: 'bank, block', what: 'the capacity of one block', hint: 'it is printed on its case', raw: '' }] });
    mounted(Last, { desk: deskWith(trip) }, (target) => {
      expect(textOf(target)).toContain('One value is missing that nobody can guess.');
      expect(textOf(target.querySelector('li .what'))).toBe('the capacity of one blockit is printed on its case.bank, block');
      expect(target.querySelectorAll('li input').length).toBe(1);
    });
  });

  it('names the faults of a file that is not in order', () => {
    const desk = deskWith(emptyTrip({ state: 'faults' }));
    desk.rig.value = cannedRig({ faults: [{ line: 4, column: 1, path: 'banc', value: 'banc', problem: 'unknown key', limit: '', hint: 'did you mean "bank"?' }] });
    mounted(Last, { desk }, (target) => {
      expect(textOf(target.querySelector('li'))).toBe('Line 4: unknown key “banc” at banc. did you mean "bank"?');
    });
  });

  it('says that it is working, and shows a refusal', () => {
    const desk = deskWith(undefined);
    desk.trip.asking = true;
    mounted(Last, { desk }, (target) => expect(textOf(target)).toBe('Living through the stay.'));
    desk.trip.refusal = 'trip: the rig has no stop';
    mounted(Last, { desk }, (target) => expect(textOf(target.querySelector('[role=alert]'))).toBe('trip: the rig has no stop'));
  });
});
