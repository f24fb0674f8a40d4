import type { Curve, RigView, TripSheet } from './desk.svelte';

// Answers for the tests of the page: made up, of the right shape, and small enough to read.

export function cannedCurve(change: Partial<Curve> = {}): Curve {
  return {
    from: 0, bucket: 0.5, step: '12 h',
    low: [60, 40, 55, 18], high: [100, 70, 80, 50], allLow: [50, 30, 40, 10], allHigh: [100, 90, 95, 80],
    allCharge: ['50 to 100 %', '30 to 90 %', '40 to 95 %', '10 to 80 %'], charge: ['60 to 100 %', '40 to 70 %', '55 to 80 %', '18 to 50 %'],
    when: ['Fri 27 Nov 12:00', 'Sat 28 Nov 00:00', 'Sat 28 Nov 12:00', 'Sun 29 Nov 00:00'],
    solar: ['110 W', '0 W', '210 W', '0 W'], load: ['90 W', '60 W', '80 W', '70 W'], volts: ['13.1 V', '12.9 V', '13.3 V', '12.7 V'],
    poor: [], poorCharge: [],
    ...change,
  };
}

function night(i: number, low: number): TripSheet['dates'][number] {
  return {
    date: ['Fri 27 Nov', 'Sat 28 Nov'][i] ?? '', iso: `2026-11-${27 + i}`, place: { us: 'Sandy flat', metric: 'Sandy flat' }, low, bandLow: low - 10, bandTop: low + 10,
    charge: `${low} %`, at: '07:00', bedtime: '70 %', dawn: `${low + 4} %`, in: { us: '1,200 Wh', metric: '1,200 Wh' }, used: { us: '1,500 Wh', metric: '1,500 Wh' },
    thrown: { us: '0 Wh', metric: '0 Wh' }, unmet: { us: '0 Wh', metric: '0 Wh' }, gasLeft: '90 %', air: { us: '30 to 60 °F', metric: '−1 to 16 °C' },
    sun: { us: '3.1 kWh/m²', metric: '3.1 kWh/m²' }, dark: [], inBar: 0.8, thrownBar: 0, usedBar: 1,
  };
}

export function cannedTrip(change: Partial<TripSheet> = {}): TripSheet {
  return {
    revision: 'aaaa0001', difference: '', state: 'answered', gaps: [], sentence: 'Propane ends the stay after 1.5 days, on Sat 28 Nov 2026.', poor: '', nights: 'One night in two goes below the floor.', wrong: [{ what: 'inverter cut off by low voltage', nights: '1', of: '2', bar: 0.5 }], power: ['Breathing machine would lose power in 2 of 200 runs.'],
    days: 2, legs: [{ place: { us: 'Sandy flat', metric: 'Sandy flat' }, from: 0, to: 2 }],
    stores: [
      { store: 'propane', text: '1.5 days', endsOn: 'Sat 28 Nov', why: { us: '4.4 lb aboard', metric: '2 kg aboard' }, working: { us: ['lasts = m ÷ q', '= 2 ÷ 1.3'], metric: ['lasts = m ÷ q'] }, chance: '90 of 100 runs', lasts: 1.5, low: 1, high: 1.8, reached: true, open: false, likely: true },
      { store: 'battery', text: 'more than the stay', endsOn: '', why: { us: 'lowest 40 %', metric: 'lowest 40 %' }, working: { us: [], metric: [] }, chance: '0 of 100 runs', lasts: 2, low: 2, high: 2, reached: false, open: true, likely: false },
    ],
    floor: 20, dates: [night(0, 40), night(1, 18)], curve: cannedCurve(), charge: [{ name: 'at bedtime, 22:00', text: { us: '70 %', metric: '70 %' } }, { name: 'at first light', text: { us: '44 %', metric: '44 %' } }], volts: '12.8 V',
    ledger: [{ title: 'Comes from', rows: [{ name: 'front', perDay: { us: '1,200 Wh', metric: '1,200 Wh' }, whole: { us: '2.4 kWh', metric: '2.4 kWh' }, amps: '94 Ah', ampsIn: '188 Ah', bar: 1 }] },
      { title: 'Propane goes to', rows: [{ name: 'furnace', perDay: { us: '1.6 lb', metric: '0.73 kg' }, whole: { us: '3.2 lb', metric: '1.5 kg' }, amps: '', ampsIn: '', bar: 1 }] }],
    guesses: [{ path: 'appliances/furnace/heat loss', name: 'heat loss of furnace', value: { us: '160 to 260 BTU/h/°F', metric: '85 to 135 W/K' }, share: '60 %', bar: 0.6, reading: 'note its hours over one cold night' }],
    notes: [{ us: 'The wind is taken as 3.4 mph.', metric: 'The wind is taken as 1.5 m/s.' }], caution: 'Follow local codes.', basis: [{ name: 'Weather', text: { us: 'made up', metric: 'made up' } }], members: 100,
    ...change,
  };
}

/** An answer of an empty stay: every list is there and holds nothing. */
export function emptyTrip(change: Partial<TripSheet> = {}): TripSheet {
  return {
    revision: 'aaaa0000', difference: '', state: 'answered', gaps: [], sentence: '', nights: '', poor: '', wrong: [], power: [], days: 0, legs: [], stores: [], floor: 0, dates: [],
    curve: cannedCurve({ low: [], high: [], allLow: [], allHigh: [], allCharge: [], charge: [], when: [], solar: [], load: [], volts: [], bucket: 0 }),
    charge: [], volts: '', ledger: [], guesses: [], notes: [], caution: '', basis: [], members: 1, ...change,
  };
}

export function cannedRig(change: Partial<RigView> = {}): RigView {
  return {
    name: 'Tern', kind: 'van', file: 'tern.yaml', revision: 'aaaa0001', changed: '24 November 2026', today: '25 November 2026', source: 'campwright: 1\n',
    faults: [], gaps: [], asks: [], program: 'test',
    alike: [{ n: 5, why: 'its ends are usual' }], sentence: { us: '60 lb of propane.', metric: '27.2 kg of propane.' }, saved: true, demo: false, label: '2 changes', undo: 'people: 2 to 3', redo: '', added: '',
    sections: [{ path: 'bank', title: 'Bank', doc: 'house battery bank', form: 'group', there: true, total: { us: '1.28 kWh', metric: '1.28 kWh' }, parts: [{
      path: 'bank', pattern: 'bank', name: '', member: false, lists: [], unsaid: ['health', 'block/weight'], rows: [
        { path: 'bank/block/capacity', pattern: 'bank/block/capacity', key: 'block, capacity', text: { us: '100 Ah', metric: '100 Ah' }, raw: '100 Ah', state: 'stated', why: '', line: 9 },
        { path: 'bank/starts at', pattern: 'bank/starts at', key: 'starts at', text: { us: '100 %', metric: '100 %' }, raw: '', state: 'default', why: 'full on arrival', line: 0 },
        { path: 'bank/heats below', pattern: 'bank/heats below', key: 'heats below', text: { us: '39.2 °F', metric: '4 °C' }, raw: 'about 4 C', state: 'about', why: '', line: 11 },
        { path: 'bank/opens at', pattern: 'bank/opens at', key: 'opens at', text: { us: 'not known', metric: 'not known' }, raw: 'unknown', state: 'unknown', why: '', line: 12 },
      ],
    }] }],
    counts: [{ state: 'measured', n: 0 }, { state: 'stated', n: 1 }, { state: 'about', n: 1 }, { state: 'unknown', n: 1 }, { state: 'default', n: 1 }],
    ...change,
  };
}
