import { describe, expect, it } from 'vitest';
import type { Field } from '../../desk.svelte';
import { bare, guessable, hint, knowing, known, opened, plain, sent, settled, usualUnit } from './entry';

function field(form: string, change: Partial<Field> = {}): Field {
  return { path: 'a/b', key: 'b', form, doc: 'what it is', ...change };
}

describe('an entry', () => {
  it('tells from the words how well a value is known', () => {
    const cases: Record<string, ReturnType<typeof knowing>> = {
      '65 W': 'stated', 'about 65 W': 'about', '~65 W': 'about', '60 W to 70 W': 'about', 'about 65 W +- 5 W': 'about', '65 W measured': 'measured', unknown: 'unknown', Unknown: 'unknown', '': 'stated',
    };
    for (const [text, how] of Object.entries(cases)) expect(knowing(text), text).toBe(how);
  });

  it('changes only the words around the value', () => {
    expect(known('65 W', 'about')).toBe('about 65 W');
    expect(known('about 65 W', 'measured')).toBe('65 W measured');
    expect(known('65 W measured', 'stated')).toBe('65 W');
    expect(known('about 65 W +- 5 W', 'stated')).toBe('65 W');
    expect(known('60 W to 70 W', 'about')).toBe('60 W to 70 W');
    expect(known('65 W', 'unknown')).toBe('unknown');
    expect(known('unknown', 'stated')).toBe('');
    expect(known('', 'about')).toBe('');
    expect(bare('  about   300 W at 60 %  ')).toBe('300 W at 60 %');
  });

  it('types a list of names without its brackets', () => {
    expect(opened({ raw: '[fan, lamp]' }, field('names'))).toBe('fan, lamp');
    expect(sent('fan, lamp', field('names'))).toBe('[fan, lamp]');
    expect(sent('  ', field('names'))).toBe('');
    expect(sent('190', field('value'), '200 W')).toBe('190 W');
    expect(sent('about 2.5', field('value'), 'about 3 gal/d')).toBe('about 2.5 gal/d');
    expect(sent('60 measured', field('value'), '65 W')).toBe('60 W measured');
    expect(sent('3', field('value'), '2')).toBe('3');
    expect(sent('12', field('value'), 'about 10 to 14 ft')).toBe('12 ft');
    expect(sent('12', field('value'), 'about 12 ft (10 ft to 14 ft)')).toBe('12 ft');
    expect(sent('about 12', field('value'), '3.05 m (2.5 to 4 m)')).toBe('about 12 m');
    expect(sent('8', field('value'), '10 AWG')).toBe('8 AWG');
    expect(sent('12', field('value'), '37 ft 6 in')).toBe('12'); // two units: it is asked which
    expect(sent('4 kW', field('value'), '200 W')).toBe('4 kW');
    expect(sent(' 65 W ', field('value'))).toBe('65 W');
    expect(sent(' two\nlines ', field('text', { lines: true }))).toBe(' two\nlines ');
  });

  it('gives a bare number the unit that its reader sees, or thinks in where nothing stands there', () => {
    expect(sent('12', field('value'), '10 ft')).toBe('12 ft');
    expect(sent('10 to 14', field('value'), '12 ft')).toBe('10 to 14 ft');
    expect(sent('4/0', field('value'), '2 AWG')).toBe('4/0 AWG');
    expect(sent('60 x 27', field('size'), '58.7 in x 26.8 in')).toBe('60 x 27 in');
    expect(sent('3 x 20', field('cylinders'), '2 x 30 lb')).toBe('3 x 20 lb');
    expect(sent('250', field('draw'), '300 W at 60 %')).toBe('250 W');
    expect(sent('5', field('value'), '10 mm²')).toBe('5 mm²');
    const run = field('value', { kinds: ['length'], units: ['m', 'ft'], limits: ['0 m to 60 m'] });
    const roof = field('value', { kinds: ['length'], units: ['m', 'ft'], limits: ['0.5 m to 4 m'] });
    expect(sent('12', run, '', usualUnit(run, 'us'))).toBe('12 ft');
    expect(sent('12', run, '', usualUnit(run, 'metric'))).toBe('12 m');
    expect(sent('92', roof, '', usualUnit(roof, 'us'))).toBe('92 in');
    expect(sent('12', run, '37 ft 6 in', usualUnit(run, 'us'))).toBe('12');
    expect(usualUnit(field('value', { kinds: ['voltage'], units: ['V', 'mV'] }), 'us')).toBe('V');
    expect(usualUnit(field('value', { kinds: ['count'] }), 'us')).toBe('');
    expect(usualUnit(field('draw', { kinds: ['power', 'current'], units: ['W', 'A'] }), 'us')).toBe('');
    expect(plain('300 W (200 to 400 W) at 60 %')).toBe('300 W at 60 %');
  });

  it('takes away the words and ends of an estimate that is said to be right', () => {
    const cases: Record<string, string> = {
      'about 22.6 V (22 V to 25 V)': '22.6 V', 'about 325 W (250 W to 420 W) at about 60 % (45 % to 80 %)': '325 W at 60 %', '~65 W': '65 W', '200 W': '200 W', 'about 65 W +- 5 W': '65 W',
      '60 W to 70 W': '65 W', 'about 1 % to 7 %': '65 W', '': '65 W', 'about 4 % +- 3 %': '4 %', 'when used': 'when used', 'travel trailer': 'travel trailer', 'about 30 W': '30 W',
    };
    for (const [raw, right] of Object.entries(cases)) expect(settled(raw, '65 W (60 to 70 W)'), raw).toBe(right);
  });

  it('offers estimates where there can be any, and says the limits', () => {
    expect([field('value'), field('draw'), field('word'), undefined].map(guessable)).toEqual([true, true, false, false]);
    expect(hint(field('value', { limits: ['0 V to 10 V', '0 A to 3 A'] }))).toBe('what it is. 0 V to 10 V, or 0 A to 3 A');
    expect(hint(undefined)).toBe('');
  });

  it('hints at days as people write them', () => {
    const from: Field = { path: 'trip/*/from', key: 'from', form: 'date', doc: 'first day, such as 2027-01-05' };
    expect(hint(from)).toBe('first day: October 20, 20 Oct 2027 or 10/20/2027');
  });
});
