import { describe, expect, it } from 'vitest';
import { cannedRig, cannedTrip } from './canned';
import { keep, recall } from './choices';
import { Desk, type Fetch } from './desk.svelte';
import { held } from './pieces/held';
import { sheetOf } from './sheets';

/** A program that answers by the beginning of the path; what it is asked is noted. */
function program(change: Record<string, unknown> = {}) {
  const bodies: Record<string, unknown> = {
    '/api/rig': cannedRig(), '/api/trip': cannedTrip(), '/api/weather': { choices: [] }, '/api/fields': { fields: [] }, '/api/pulse': { revision: 'aaaa0001' }, ...change,
  };
  const seen: string[] = [];
  const sent: unknown[] = [];
  const fetch: Fetch = (path, init) => {
    seen.push(path);
    if (typeof init?.body === 'string') sent.push(JSON.parse(init.body));
    const key = Object.keys(bodies).find((k) => path.startsWith(k));
    if (!key) return Promise.reject(new TypeError('nobody there'));
    const body = bodies[key];
    return Promise.resolve(body instanceof Response ? body.clone() : Response.json(body));
  };
  return { bodies, seen, sent, desk: new Desk(fetch) };
}

describe('the desk', () => {
  it('asks for the rig and what can be said of one, then for the answer, then for the weathers', async () => {
    const { desk, seen } = program();
    await desk.load();
    expect(seen).toEqual(['/api/rig', '/api/fields', '/api/trip?weather=', '/api/weather']);
    expect(desk.trip.value?.days).toBe(2);
  });

  it('follows a change made elsewhere, and asks for nothing when there is none', async () => {
    const { desk, bodies, seen } = program({ '/api/fields': { fields: [{ path: 'name' }] } });
    await desk.load();
    seen.length = 0;
    await desk.look();
    expect(seen).toEqual(['/api/pulse']);
    bodies['/api/pulse'] = { revision: 'bbbb0002' };
    bodies['/api/rig'] = cannedRig({ revision: 'bbbb0002' });
    seen.length = 0;
    await desk.look();
    expect(seen).toEqual(['/api/pulse', '/api/rig', '/api/trip?weather=']);
    expect(desk.change, 'a change made elsewhere is not told as ours').toBeUndefined();
  });

  it('keeps the last answer when the program is gone, says so, and recovers', async () => {
    const { desk, bodies } = program();
    await desk.load();
    delete bodies['/api/pulse'];
    await desk.look();
    expect(desk.silentSince).toMatch(/^\d\d:\d\d$/);
    expect(desk.trip.value?.sentence).toContain('Propane');
    bodies['/api/pulse'] = { revision: 'aaaa0001' };
    await desk.look();
    expect(desk.silentSince).toBe('');
  });

  it('shows a refusal and keeps the last answer', async () => {
    const { desk, bodies } = program();
    await desk.load();
    bodies['/api/trip'] = Response.json({ detail: 'no weather of the name' }, { status: 422 });
    await desk.answer();
    expect(desk.trip.refusal).toBe('no weather of the name');
    expect(desk.trip.value?.days).toBe(2);
    expect(desk.silentSince).toBe('');
  });

  it('makes a change for the revision that is shown and points out the difference', async () => {
    const { desk, bodies, seen, sent } = program();
    await desk.load();
    bodies['/api/edit'] = cannedRig({ revision: 'bbbb0002', undo: 'people: 2 to 3' });
    bodies['/api/trip'] = cannedTrip({ revision: 'bbbb0002', difference: 'battery 0.4 days more' });
    expect(await desk.edit('people', '2', '3')).toBe('');
    expect(sent).toEqual([{ edits: [{ path: 'people', old: '2', new: '3' }], revision: 'aaaa0001' }]);
    expect(seen.at(-1)).toBe('/api/trip?weather=&since=aaaa0001');
    expect(desk.change).toEqual({ words: 'people: 2 to 3', difference: 'battery 0.4 days more', since: 'aaaa0001' });
  });

  it('makes two changes one after the other, the second for what the first left', async () => {
    const { desk, bodies, sent } = program();
    await desk.load();
    bodies['/api/edit'] = cannedRig({ revision: 'bbbb0002' });
    const first = desk.edit('people', '2', '3');
    const second = desk.edit('people', '3', '4');
    expect(await first).toBe('');
    expect(await second).toBe('');
    expect(sent.map((s) => (s as { revision: string }).revision)).toEqual(['aaaa0001', 'bbbb0002']);
  });

  it('hands a refused change back in words and leaves the rig alone', async () => {
    const { desk, bodies } = program();
    await desk.load();
    bodies['/api/edit'] = Response.json({ detail: 'not a whole number' }, { status: 422 });
    expect(await desk.edit('people', '2', '2.5')).toBe('not a whole number');
    expect(desk.rig.value?.revision).toBe('aaaa0001');
    expect(desk.change).toBeUndefined();
  });

  it('shows the rig as it stands when it was changed elsewhere meanwhile', async () => {
    const { desk, bodies } = program();
    await desk.load();
    bodies['/api/edit'] = Response.json({ detail: 'expected "2", found "5"' }, { status: 409 });
    bodies['/api/rig'] = cannedRig({ revision: 'cccc0003' });
    expect(await desk.edit('people', '2', '3')).toContain('changed elsewhere');
    expect(desk.rig.value?.revision).toBe('cccc0003');
  });

  it('says that nothing was changed when the program is gone', async () => {
    const { desk, bodies } = program();
    await desk.load();
    delete bodies['/api/edit'];
    expect(await desk.edit('people', '2', '3')).toContain('nothing was changed');
    expect(desk.silentSince).not.toBe('');
  });

  it('takes back and makes again, and does neither when there is nothing', async () => {
    const { desk, bodies, seen } = program();
    await desk.load();
    bodies['/api/undo'] = cannedRig({ revision: 'bbbb0002', undo: '', redo: 'people: 2 to 3' });
    await desk.undo();
    expect(desk.change?.words).toBe('taken back: people: 2 to 3');
    seen.length = 0;
    await desk.undo();
    expect(seen).toEqual([]);
    bodies['/api/redo'] = cannedRig({ revision: 'aaaa0001' });
    await desk.redo();
    expect(desk.change?.words).toBe('made again: people: 2 to 3');
  });
});

describe('small things', () => {
  it('remembers the reader’s choices and survives what is not its own', () => {
    const store = new Map<string, string>();
    const box = { getItem: (k: string) => store.get(k) ?? null, setItem: (k: string, v: string) => void store.set(k, v) };
    expect(recall(box)).toEqual({ units: 'us', night: false });
    keep(box, { units: 'metric', night: true });
    expect(recall(box)).toEqual({ units: 'metric', night: true });
    for (const text of ['{', 'null', '[]', '{"units":7,"night":"yes"}']) {
      store.set('campwright', text);
      expect(recall(box), text).toEqual({ units: 'us', night: false });
    }
    expect(recall(undefined)).toEqual({ units: 'us', night: false });
  });

  it('reads the sheet from the address', () => {
    expect(['#aboard', '#/aboard', '', '#last', '#nonsense', '#start'].map(sheetOf)).toEqual(['aboard', 'aboard', 'last', 'last', 'last', 'start']);
  });

  it('holds numbers and units together', () => {
    expect(held('after 3.8 days, on Tue 1 Dec')).toBe('after 3.8\u00a0days, on Tue\u00a01\u00a0Dec');
  });
});
