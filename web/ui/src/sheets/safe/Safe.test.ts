import { flushSync } from 'svelte';
import { describe, expect, it, vi } from 'vitest';
import { cannedRig } from '../../canned';
import { Desk, type SafeSheet } from '../../desk.svelte';
import { mounted, textOf } from '../../mounted';
import { cannedCase, cannedCures, cannedFinding, cannedPlace, cannedSafe, emptySafe } from './canned';
import Safe from './Safe.svelte';

type Asked = { path: string; body: unknown };

/** A desk with an answer; what it asks for is kept, and answered from a list of bodies by the beginning of the path. */
function deskWith(sheet: SafeSheet | undefined, bodies: Record<string, unknown> = {}): { desk: Desk; asked: Asked[] } {
  const asked: Asked[] = [];
  const desk = new Desk((path, init) => {
    asked.push({ path, body: typeof init?.body === 'string' ? (JSON.parse(init.body) as unknown) : undefined });
    const key = Object.keys(bodies).find((k) => path.startsWith(k));
    return key ? Promise.resolve(bodies[key] instanceof Response ? bodies[key] : Response.json(bodies[key])) : Promise.reject(new Error('no program in this test'));
  });
  desk.rig.value = cannedRig();
  desk.safe.value = sheet;
  return { desk, asked };
}

/** Mounts the sheet, and lets a check wait for answers. */
async function shown(desk: Desk, check: (target: HTMLElement) => Promise<void>): Promise<void> {
  const target = document.createElement('div');
  document.body.append(target);
  const { mount, unmount } = await import('svelte');
  const made = mount(Safe, { target, props: { desk } });
  try {
    flushSync();
    await check(target);
  } finally {
    await unmount(made);
    target.remove();
  }
}

function press(target: ParentNode, text: string): void {
  const button = [...target.querySelectorAll('button')].find((b) => textOf(b) === text);
  if (!button) throw new Error(`no button ${text}`);
  button.click();
  flushSync();
}

const finding = (target: HTMLElement, verdict: string): HTMLElement => {
  const found = target.querySelector<HTMLElement>(`section[aria-label=${verdict}] article`);
  if (!found) throw new Error(`no finding ${verdict}`);
  return found;
};

describe('Is it safe?', () => {
  it('shows the whole answer, the worst first', () => {
    mounted(Safe, { desk: deskWith(cannedSafe()).desk }, (target) => {
      expect(textOf(target.querySelector('.sentence'))).toBe('Not in order: 1 STOP; 1 question is open.');
      expect([...target.querySelectorAll('section.group')].map((g) => g.getAttribute('aria-label'))).toEqual(['STOP', 'UNDECIDED', 'WARN', 'ACCEPTED']);
      expect([...target.querySelectorAll('.counts li')].map(textOf)).toEqual(['STOP 1', 'UNDECIDED 1', 'WARN 2', 'ACCEPTED 1', 'PASS 4']);
      const stop = finding(target, 'STOP');
      expect(textOf(stop.querySelector('h3'))).toBe('string over the limit in cold');
      expect(textOf(stop.querySelector('.numbers'))).toBe('101.2 V, must be at most 100 V');
      expect(textOf(stop.querySelector('.filled'))).toBe('4 × 25.3 V = 101.2 V');
      expect(textOf(stop.querySelector('figcaption'))).toBe('1.2 % over');
      expect([...stop.querySelectorAll('dt')].map(textOf)).toEqual(['Can happen', 'Ways out', 'M01']);
      expect([...stop.querySelectorAll('.ways li')].map(textOf)).toEqual(['fewer in series', 'another controller']);
      expect(textOf(stop.querySelector('.rule dd'))).toBe('[NEC] 690.7. Sure: standard seen.');
      expect(textOf(finding(target, 'ACCEPTED').querySelector('.reason'))).toBe('The breaker is new.');
    });
  });

  it('gives every verdict a word and a form of its own', () => {
    mounted(Safe, { desk: deskWith(cannedSafe()).desk }, (target) => {
      const forms = new Map<string, string>();
      for (const mark of target.querySelectorAll('.counts svg')) {
        expect(mark.getAttribute('aria-label')).toBe(textOf(mark));
        forms.set(textOf(mark), [...mark.children].map((c) => `${c.tagName} ${c.getAttribute('stroke-dasharray') ?? ''} ${c.getAttribute('class') ?? ''}`).join());
      }
      expect(forms.size).toBe(5);
      expect(new Set(forms.values()).size).toBe(5);
    });
  });

  it('leads an open question with the reading that would settle it', () => {
    mounted(Safe, { desk: deskWith(cannedSafe()).desk }, (target) => {
      const open = finding(target, 'UNDECIDED');
      expect([...open.querySelectorAll('.settle li')].map(textOf)).toEqual(['look up its restart.', 'read the bank.']);
      const text = textOf(open);
      expect(text.indexOf('look up its restart')).toBeLessThan(text.indexOf('12.8 to 13.4 V'));
      expect(finding(target, 'STOP').querySelector('.settle')).toBeNull();
    });
  });

  it('tells the same of several places once, with a line for each', () => {
    const { desk } = deskWith(cannedSafe());
    mounted(Safe, { desk }, (target) => {
      const lines = (): string[] => [...finding(target, 'WARN').querySelectorAll('.cases li')].map(textOf);
      expect(lines()).toEqual(['at home 24 °F, must be at least 32 °F', 'at Sandy flat 18 °F, must be at least 32 °F']);
      desk.units = 'metric';
      flushSync();
      expect(lines()).toEqual(['at home −4.4 °C, must be at least 0 °C', 'at Sandy flat −7.8 °C, must be at least 0 °C']);
      desk.units = 'us';
    });
  });

  it('folds what passes into a line for each rule, with its margin and never a bare tick', () => {
    mounted(Safe, { desk: deskWith(cannedSafe()).desk }, (target) => {
      const rows = [...target.querySelectorAll('section[aria-label="What passes"] summary')];
      expect(rows.map((r) => textOf(r))).toEqual([
        'record lows entered array roof, tightest of 2 51 V ≤ 100 V 12 % M02', 'generator carries it generator 51 V ≤ 100 V 170 % M61',
        'charger stays off charger It is fed by shore only. M50',
      ]);
      const bar = (i: number): string => rows[i]?.querySelector('.run')?.getAttribute('x2') ?? '';
      expect([bar(0), bar(1)]).toEqual(['12%', '100%']);
      expect(rows[0]?.querySelectorAll('.other').length).toBe(1);
      expect(rows[1]?.querySelector('.arrow')).not.toBeNull();
      expect(rows[2]?.querySelector('svg')).toBeNull();
    });
  });

  it('takes a missing value in place, and refuses to save nothing', async () => {
    const { desk, asked } = deskWith(cannedSafe());
    await shown(desk, async (target) => {
      const input = target.querySelector<HTMLInputElement>('.missing input');
      const save = [...target.querySelectorAll<HTMLButtonElement>('.missing button')].find((b) => textOf(b) === 'Save');
      expect(input).not.toBeNull();
      expect(document.activeElement).not.toBe(input);
      save?.click();
      flushSync();
      expect(textOf(target.querySelector('.missing .said'))).toBe('Type the value first.');
      expect(asked.some((a) => a.path === '/api/edit')).toBe(false);
      if (input) input.value = '100 Ah';
      input?.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      save?.click();
      await vi.waitFor(() => expect(asked.find((a) => a.path === '/api/edit')?.body).toMatchObject({ edits: [{ path: 'bank/block/capacity', old: '', new: '100 Ah' }] }));
    });
  });

  it('shows each caution once with the local codes, what was not judged, and the temperatures', () => {
    const { desk } = deskWith(cannedSafe());
    mounted(Safe, { desk }, (target) => {
      expect(textOf(target.querySelector('.caution'))).toBe('Before you touch it live modules Cover them first. Follow local codes.');
      expect(target.innerHTML.split('Cover them first.').length).toBe(2);
      const rest = textOf(target.querySelector('article'));
      expect(rest.indexOf('the capacity of one block')).toBeGreaterThan(0);
      expect(rest.indexOf('the capacity of one block'), 'what is missing comes before the findings').toBeLessThan(rest.indexOf('STOP do not energise'));
      for (const part of ['1 rule waits for what is missing', 'lead-acid at full label', '1 thing that no file can tell', 'unlike plugs mated', '1 mistake of the trade']) {
        expect(rest).toContain(part);
      }
      const places = [...target.querySelectorAll('.foot tbody tr')].map((row) => [...row.querySelectorAll('th,td')].map(textOf).join(' | ').trim());
      expect(places).toEqual([
        'Sandy flat | −15 °F | −4 °F | 108 °F | 1,200 ft |', 'Record low: as written at the stop.', 'Home, Nowhere | Not known: no place is given. Nothing was judged there.',
      ]);
      desk.units = 'metric';
      flushSync();
      expect([...target.querySelectorAll('.foot tbody tr:first-child td.num')].map(textOf)).toEqual(['−26 °C', '−20 °C', '42 °C', '366 m']);
      desk.units = 'us';
    });
  });

  it('opens to the working term by term and the cures with their effect, and applies one', async () => {
    const rig = cannedRig({ revision: 'bbbb0002' });
    const { desk, asked } = deskWith(cannedSafe(), { '/api/safe/cures': cannedCures(), '/api/edit': rig, '/api/safe?since=aaaa0001': cannedSafe({ revision: 'bbbb0002' }), '/api/trip': { state: 'gaps' } });
    await shown(desk, async (target) => {
      expect(asked, 'cures are not tried before somebody looks').toEqual([]);
      const stop = finding(target, 'STOP');
      press(stop, 'Working and cures');
      expect(asked.map((a) => a.path)).toEqual(['/api/safe/cures?rule=M01&place=arrays%2Froof&title=string+over+the+limit+in+cold']);
      const terms = [...stop.querySelectorAll('.inside tbody tr')].map((r) => [...r.querySelectorAll('th,td')].map(textOf).join(' | '));
      expect(terms).toEqual(['n | 4 | modules in series | arrays/roof/in series', 'Tlow | −4 °F | record low at home a; b | extremes']);
      await vi.waitFor(() => expect(textOf(stop)).toContain('wire roof as 2 strings of 2'));
      flushSync();
      const effects = [...stop.querySelectorAll('ol ul li')].map(textOf);
      expect(effects[0]).toMatch(/^STOP ?→ ?becomes ?PASS string stays under: 51 V, must be at most 100 V, 49 % to spare M01$/);
      expect(effects[1]).toContain('array roof: string short in heat');
      expect(textOf(stop.querySelector('code del'))).toBe('−goes: - {in series: 4}');
      expect(textOf(stop.querySelector('code ins'))).toBe('+comes: - {in series: 2}');
      expect(stop.querySelector('form'), 'a STOP cannot be accepted').toBeNull();

      press(stop, 'Apply');
      await vi.waitFor(() => expect(desk.safe.value?.revision).toBe('bbbb0002'));
      expect(asked.find((a) => a.path === '/api/edit')?.body).toEqual({ revision: 'aaaa0001', edits: [{ path: 'arrays/roof/in series', old: '4', new: '2' }] });
    });
  });

  it('accepts a finding only with a written reason', async () => {
    const warned = cannedSafe({ groups: [{ verdict: 'WARN', meaning: 'works', places: [{ place: 'bank', part: 'bank', findings: [cannedFinding({ rule: 'M26', verdict: 'WARN', place: 'bank' })] }] }] });
    const { desk, asked } = deskWith(warned, { '/api/safe/cures': cannedCures({ cures: [], accept: true }), '/api/part': Response.json({ detail: 'cannot be written: disk full' }, { status: 422 }) });
    await shown(desk, async (target) => {
      const warn = finding(target, 'WARN');
      press(warn, 'Working and cures');
      await vi.waitFor(() => expect(warn.querySelector('form')).not.toBeNull());
      expect(textOf(warn)).toContain('No edit that was tried cures it');
      press(warn, 'Accept it');
      expect(textOf(warn.querySelector('[role=alert]'))).toContain('Write the reason first');
      expect(asked.length).toBe(1);
      const reason = warn.querySelector('textarea');
      if (!reason) throw new Error('no place for the reason');
      reason.value = ' It winters plugged in. ';
      reason.dispatchEvent(new Event('input', { bubbles: true }));
      flushSync();
      press(warn, 'Accept it');
      await vi.waitFor(() => expect(textOf(warn.querySelector('[role=alert]'))).toContain('disk full'));
      expect(asked[1]?.body).toEqual({ revision: 'aaaa0001', do: 'add', path: 'accepted', values: { rule: 'M26', place: 'bank', reason: 'It winters plugged in.', on: '2026-11-25' } });
    });
  });

  it('points out what the last change did', () => {
    const { desk } = deskWith(cannedSafe({ since: 'aaaa0000', shifts: [{ rule: 'M54', part: 'hookup', title: 'outlet bears it', before: 'FAIL', after: 'PASS', now: cannedCase({ spare: '0 % to spare' }) }] }));
    mounted(Safe, { desk }, (target) => {
      expect(target.querySelector('.shifts'), 'nothing was changed on this page').toBeNull();
      desk.change = { words: 'shore, limit', difference: '', since: 'aaaa0000' };
      flushSync();
      expect(textOf(target.querySelector('.shifts li'))).toContain('hookup: outlet bears it: 101.2 V, must be at most 100 V, 0 % to spare');
      desk.safe.value = cannedSafe({ since: 'aaaa0000' });
      flushSync();
      expect(textOf(target.querySelector('.shifts'))).toBe('shore, limit: every verdict stands as before.');
    });
  });

  it('judges when it is opened, and anew when the file has changed', async () => {
    const { desk, asked } = deskWith(undefined, { '/api/safe': cannedSafe() });
    await shown(desk, async (target) => {
      await vi.waitFor(() => expect(target.querySelector('.sentence')).not.toBeNull());
      expect(asked.map((a) => a.path)).toEqual(['/api/safe?since=']);
      desk.rig.value = cannedRig();
      flushSync();
      expect(asked.length, 'the same revision is not judged twice').toBe(1);
      desk.rig.value = cannedRig({ revision: 'cccc0003' });
      flushSync();
      expect(asked.length).toBe(2);
    });
  });

  it('holds for a rig of nothing', () => {
    mounted(Safe, { desk: deskWith(emptySafe()).desk }, (target) => {
      expect(target.querySelector('article')).not.toBeNull();
      expect(target.querySelector('section.group, table')).toBeNull();
      expect(target.innerHTML).not.toMatch(/NaN|undefined|Infinity|null/);
    });
  });

  it('never draws a broken number', () => {
    const broken = cannedCase({ margin: -1e12, nominal: 1e12, spare: '', result: { us: '', metric: '' } });
    const sheet = cannedSafe({
      passes: [cannedFinding({ verdict: 'PASS', cases: [] }), cannedFinding({ rule: 'M02', verdict: 'PASS', cases: [cannedCase({ margin: 1e300 }), cannedCase({ margin: null })] })],
      places: [{ ...cannedPlace, lowC: -1e9, highC: 1e9 }, { ...cannedPlace, annualC: null }],
    });
    sheet.groups[0]?.places[0]?.findings.push(cannedFinding({ rule: 'M99', cases: [] }), cannedFinding({ rule: 'M98', cases: [broken] }));
    mounted(Safe, { desk: deskWith(sheet).desk }, (target) => {
      expect(target.innerHTML).not.toMatch(/NaN|undefined|Infinity/);
      const spots = [...target.innerHTML.matchAll(/(?:x|x1|x2|width)="(-?[\d.e+]+)%"/g)].map((m) => Number(m[1]));
      expect(spots.length).toBeGreaterThan(20);
      for (const at of spots) expect(at >= 0 && at <= 100).toBe(true);
    });
  });

  it('names the faults of a file that cannot be judged', () => {
    const { desk } = deskWith(emptySafe({ state: 'faults' }));
    desk.rig.value = cannedRig({ faults: [{ line: 3, column: 7, path: 'people', value: 'many', problem: 'not a number', limit: '1 to 20', hint: 'write 2' }] });
    mounted(Safe, { desk }, (target) => {
      expect(textOf(target.querySelector('.faults li'))).toBe('Line 3: not a number, allowed is 1 to 20 “many” at people. write 2');
    });
  });
});
