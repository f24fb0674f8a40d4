import type { CuresView, EndsRow, Finding, SafeCase, SafeSheet } from '../../desk.svelte';

// Answers for the tests of this sheet: made up, of the right shape, and small enough to read.

const volts = (text: string): { us: string; metric: string } => ({ us: text, metric: text });

export function cannedCase(change: Partial<SafeCase> = {}): SafeCase {
  return {
    part: '', detail: volts(''), result: volts('101.2 V'), sense: '≤', limit: volts('100 V'), worst: volts(''), atBest: volts(''), margin: -0.012, nominal: -0.012, spare: '1.2 % over',
    working: {
      formula: 'Vcold = n × Voc ≤ Vmax', filled: volts('4 × 25.3 V'), result: volts('101.2 V'), limit: volts('100 V'), comes: volts(''), celsius: true,
      terms: [
        { symbol: 'n', name: volts('modules in series'), value: volts('4'), source: volts('arrays/roof/in series'), working: { us: [], metric: [] } },
        { symbol: 'Tlow', name: volts('record low at home'), value: { us: '−4 °F', metric: '−20 °C' }, source: volts('extremes'), working: { us: ['a', 'b'], metric: [] } },
      ],
      source: '[NEC] 690.7',
    },
    ...change,
  };
}

export function cannedFinding(change: Partial<Finding> = {}): Finding {
  return {
    rule: 'M01', verdict: 'STOP', place: 'arrays/roof', title: 'string over the limit in cold', key: 'string over the limit in cold', cases: [cannedCase()],
    consequence: volts('The input dies.'), settle: [], measure: [], ways: [volts('fewer in series'), volts('another controller')], caution: 'live modules', source: '[NEC] 690.7', sure: volts('standard seen'),
    what: volts('Each string.'), except: volts('Full sun.'), accepted: '', ...change,
  };
}

const cold = (part: string, us: string, metric: string): SafeCase =>
  cannedCase({ part, result: { us, metric }, sense: '≥', limit: { us: '32 °F', metric: '0 °C' }, margin: null, nominal: null, spare: '' });

const pass = (rule: string, title: string, cases: SafeCase[]): Finding => cannedFinding({ rule, verdict: 'PASS', title, key: title, cases, consequence: volts(''), ways: [], caution: '' });

const spared = (margin: number, part: string): SafeCase => cannedCase({ part, margin, nominal: margin, spare: `${Math.round(margin * 100)} % to spare`, result: volts('51 V') });

export const cannedPlace: EndsRow = {
  name: 'Sandy flat', home: false, low: { us: '−15 °F', metric: '−26 °C' }, annual: { us: '−4 °F', metric: '−20 °C' }, high: { us: '108 °F', metric: '42 °C' },
  height: { us: '1,200 ft', metric: '366 m' }, lowC: -26, annualC: -20, highC: 42, basis: volts('as written at the stop'), problem: '',
};

/** One of everything. */
export function cannedSafe(change: Partial<SafeSheet> = {}): SafeSheet {
  return {
    revision: 'aaaa0001', state: 'answered', sentence: 'Not in order: 1 STOP; 1 question is open.', book: 'us-rv', rules: 9, scope: '9 rules judged; 2 things only a look, an answer or a meter can tell; 1 mistake of the trade no rule judges yet', since: '', shifts: [],
    counts: [{ verdict: 'STOP', n: 1 }, { verdict: 'UNDECIDED', n: 1 }, { verdict: 'WARN', n: 2 }, { verdict: 'ACCEPTED', n: 1 }, { verdict: 'PASS', n: 4 }],
    groups: [
      { verdict: 'STOP', meaning: 'do not energise', places: [{ place: 'arrays/roof', part: 'array roof', findings: [cannedFinding()] }] },
      {
        verdict: 'UNDECIDED', meaning: 'cannot be told', places: [{ place: 'shore', part: 'charger', findings: [cannedFinding({
          rule: 'M62', verdict: 'UNDECIDED', place: 'shore', title: 'charger sleeps', measure: [volts('look up its restart'), volts('read the bank')], caution: '',
          cases: [cannedCase({ result: volts('12.8 to 13.4 V'), margin: -0.02, nominal: 0.01, spare: '2 % short at worst' })],
        })] }],
      },
      { verdict: 'WARN', meaning: 'works', places: [{ place: 'bank', part: 'bank', findings: [cannedFinding({
        rule: 'M26', verdict: 'WARN', place: 'bank', title: 'cold mornings', cases: [cold('at home', '24 °F', '−4.4 °C'), cold('at Sandy flat', '18 °F', '−7.8 °C')],
      })] }] },
      { verdict: 'ACCEPTED', meaning: 'you live with it', places: [{ place: 'home', part: 'hookup', findings: [cannedFinding({ rule: 'M54', verdict: 'FAIL', place: 'home', accepted: 'The breaker is new.' })] }] },
    ],
    passes: [
      pass('M02', 'record lows entered', [spared(0.12, 'array roof'), spared(0.4, 'array shed')]),
      pass('M61', 'generator carries it', [spared(1.7, 'generator')]),
      pass('M50', 'charger stays off', [cannedCase({ part: 'charger', detail: volts('It is fed by shore only.'), result: volts(''), sense: '', limit: volts(''), margin: null, nominal: null, spare: '' })]),
    ],
    cautions: [{ kind: 'live modules', text: 'Cover them first.' }], local: 'Follow local codes.',
    missing: [{ path: 'bank/block/capacity', at: 'bank, block', what: 'the capacity of one block', hint: 'it is printed on its case', raw: '' }], fault: '', silent: [{ id: 'M70', title: 'lead-acid at full label' }],
    later: [{ id: 'M13', title: 'unlike plugs mated', kind: 'question', why: 'look at both halves' }, { id: 'M38', title: 'fuse too large', kind: 'to come', why: 'needs the wiring' }],
    places: [cannedPlace, { ...cannedPlace, name: 'Nowhere', home: true, lowC: null, annualC: null, highC: null, basis: volts(''), problem: 'no place is given' }],
    ...change,
  };
}

/** An answer of an empty rig: every list is there and holds nothing. */
export function emptySafe(change: Partial<SafeSheet> = {}): SafeSheet {
  return {
    revision: 'aaaa0001', state: 'answered', sentence: '', book: '', rules: 0, scope: '0 rules judged', since: '', shifts: [], counts: [], groups: [], passes: [], cautions: [], local: '', missing: [],
    fault: '', silent: [], later: [], places: [], ...change,
  };
}

export function cannedCures(change: Partial<CuresView> = {}): CuresView {
  return {
    accept: false, on: '2026-11-25',
    cures: [{
      words: 'wire roof as 2 strings of 2', edits: [{ path: 'arrays/roof/in series', old: '4', new: '2' }], sentence: 'No STOP and no FAIL.',
      lines: [{ line: 9, old: ['  - {in series: 4}'], new: ['  - {in series: 2}'] }],
      effects: [
        { rule: 'M01', part: 'array roof', title: 'string stays under', before: 'STOP', after: 'PASS', now: spared(0.49, 'array roof') },
        { rule: 'M03', part: 'array roof', title: 'string short in heat', before: 'PASS', after: 'WARN', now: cannedCase({ spare: '4 % short' }) },
      ],
    }],
    ...change,
  };
}
