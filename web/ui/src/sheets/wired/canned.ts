import type { WiredAt, WiredRun, WiredSheet } from '../../desk.svelte';

// Answers for the tests of the sheet: made up, of the right shape, and small enough to read.

const alike = (text: string): { us: string; metric: string } => ({ us: text, metric: text });

export function cannedAt(change: Partial<WiredAt> = {}): WiredAt {
  return { amps: '120 A', drop: '0.21 V', share: '1.6 %', bar: 0.6, load: '60 %', loss: '25 W', ...change };
}

const silent: WiredAt = { amps: '', drop: '', share: '', bar: 0, load: '', loss: '' };

export function cannedRun(change: Partial<WiredRun> = {}): WiredRun {
  return {
    path: 'wiring/runs/main', name: 'main', from: 'bank', to: 'bus bar main', gauge: { us: '1/0 AWG', metric: '53.5 mm² (1/0 AWG)' }, known: 'proposed',
    length: { us: '4 ft (2 to 8 ft)', metric: '1.2 m (0.6 to 2.4 m)' }, lengthWay: 'about', devices: ['wiring/runs/main/devices/main fuse'],
    ampacity: '200 A', mostFuse: '200 A', book: 'made up', at: [cannedAt(), cannedAt({ amps: '−40 A', bar: 0.2, load: '20 %', loss: '3 W' })],
    worst: cannedAt({ loss: '' }), worstIn: 'full inverter', dropIn: 'full inverter', ends: '0.8 to 3.1 %',
    choices: [{
      path: 'wiring/runs/main', part: 'main', chosen: alike('1/0 AWG'), why: alike('1 AWG would lose 3.4 %'), relax: { us: 'up to 4 ft long, 1 AWG would do', metric: 'up to 1.2 m long, 1 AWG would do' }, book: 'made up',
      ends: alike('2 AWG at its short end, 4/0 AWG at its long end'), final: false,
    }],
    measure: ['lay a tape along its way'], along: ['main return'],
    values: [
      { key: 'size', path: 'wiring/runs/main/gauge', raw: '1/0 AWG', hangs: 'wiring/runs/main' },
      { key: 'length', path: 'wiring/runs/main/length', raw: 'about 4 ft (2 ft to 8 ft)', hangs: 'wiring/runs/main' },
    ],
    ...change,
  };
}

export function cannedWired(change: Partial<WiredSheet> = {}): WiredSheet {
  return {
    revision: 'aaaa0001', state: 'answered', gaps: [], sentence: '3 runs, 1 of them proposed; 1 fuse.', book: 'us-rv',
    facts: [{ name: 'Worst drop', value: '1.6 %', where: 'main', note: '0.21 V, full inverter' }],
    counts: [{ state: 'written', n: 1 }, { state: 'unknown', n: 1 }, { state: 'proposed', n: 1 }],
    states: [
      { name: 'full inverter', words: 'inverters at their rating', problem: '', bankV: '12.80 V', bankA: '−120 A', notes: [] },
      { name: 'noon, hot', words: 'clear noon in heat', problem: '', bankV: '13.20 V', bankA: '+40.0 A', notes: ['the fan runs'] },
    ],
    groups: [
      { title: 'Battery side', runs: [cannedRun()] },
      { title: 'Vehicle side', runs: [
        cannedRun({ path: 'charge line/2/run', name: 'hidden line', known: 'unknown', gauge: { us: 'not known', metric: 'not known' }, ampacity: '', choices: [], along: [], devices: [],
          at: [cannedAt({ load: '', bar: 0 }), cannedAt({ load: '', bar: 0 })], worst: cannedAt({ load: '', bar: 0 }) }),
        cannedRun({ path: 'shore/cord', name: 'shore cord', known: 'written', lengthWay: 'stated', length: { us: '30 ft', metric: '9.14 m' }, choices: [], along: [], devices: [],
          at: [silent, silent], worst: silent, worstIn: '', dropIn: '', ends: '' }),
      ] },
    ],
    devices: [{
      path: 'wiring/runs/main/devices/main fuse', name: 'main fuse', what: 'class T fuse', rating: '200 A', volts: '160 V', run: 'main', worst: '120 A', worstIn: 'full inverter',
      fault: '21,000 A', stops: '20,000 A', bar: 1.05, words: 'more than it can stop by itself', over: true, known: 'proposed', opens: true,
      values: [{ key: 'rating', path: 'wiring/runs/main/devices/main fuse/rating', raw: '200 A', hangs: 'wiring/runs/main' }],
    }, {
      path: 'wiring/runs/main return/devices/shunt', name: 'shunt', what: 'shunt', rating: '200 A', volts: '', run: 'main return', worst: '120 A', worstIn: 'full inverter',
      fault: '', stops: '', bar: 0, words: '', over: false, known: 'proposed', opens: false, values: [],
    }],
    since: '', shifts: [],
    ac: [{
      name: 'shore', words: '50 A at 120 V', untold: ['washer'], left: [], legs: [
        { name: 'L1', hours: '20.1 A', all: '30.0 A', madeUp: '', breaker: '50 A', cord: '65 A', bar: 0.6, words: 'within', over: false },
        { name: 'L2', hours: '45.0 A', all: '55.0 A (50.0 to 60.0 A)', madeUp: '', breaker: '50 A', cord: '65 A', bar: 1.1, words: 'over for hours', over: true },
        { name: 'neutral', hours: '', all: '25.0 A', madeUp: '', breaker: '', cord: '', bar: 0, words: '', over: false },
      ],
    }],
    bars: [], edits: [{ path: 'wiring', old: '', new: '{runs: []}' }], proposed: 1,
    guesses: [{ path: 'charge line/2/run/length', what: 'length of hidden line', moves: '4', measure: 'lay a tape along its way', raw: 'about 12 ft', hangs: '' }],
    loose: [{ path: 'bank', part: 'block 2', why: 'no run reaches it' }], problems: ['no single cable is thick enough'], caution: 'Follow local codes.',
    ...change,
  };
}

/** An answer of a rig with nothing in it: every list is there and holds nothing. */
export function emptyWired(change: Partial<WiredSheet> = {}): WiredSheet {
  return {
    revision: 'aaaa0000', state: 'answered', gaps: [], sentence: '0 runs.', book: 'us-rv', facts: [], counts: [], states: [], groups: [], devices: [], since: '', shifts: [], ac: [], bars: [], edits: [],
    proposed: 0, guesses: [], loose: [], problems: [], caution: '', ...change,
  };
}
