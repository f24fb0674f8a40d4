import { describe, expect, it } from 'vitest';
import { cannedRig, cannedTrip } from './canned';
import { keep, recall } from './choices';
import { Desk } from './desk.svelte';
import { held } from './pieces/held';
import { sheetOf } from './sheets';

function answers(bodies: Record<string, unknown>, seen: string[] = []) {
  return (path: string): Promise<Response> => {
    seen.push(path);
    const key = Object.keys(bodies).find((k) => path.startsWith(k));
    if (!key) return Promise.reject(new TypeError('nobody there'));
    const body = bodies[key];
    return Promise.resolve(body instanceof Response ? body : Response.json(body));
  };
}

describe('the desk', () => {
  it('asks for the rig, then for the answer, then for the weathers', async () => {
    const seen: string[] = [];
    const desk = new Desk(answers({ '/api/rig': cannedRig(), '/api/trip': cannedTrip(), '/api/weather': { choices: [] } }, seen));
    await desk.load();
    expect(seen).toEqual(['/api/rig', '/api/trip?weather=', '/api/weather']);
    expect(desk.trip.value?.days).toBe(2);
    seen.length = 0;
    await desk.load();
    expect(seen, 'nothing has changed, so nothing is answered anew').toEqual(['/api/rig']);
  });

  it('answers anew when the file has changed', async () => {
    const bodies: Record<string, unknown> = { '/api/rig': cannedRig(), '/api/trip': cannedTrip(), '/api/weather': { choices: [] } };
    const seen: string[] = [];
    const desk = new Desk(answers(bodies, seen));
    await desk.load();
    bodies['/api/rig'] = cannedRig({ revision: 'bbbb0002' });
    seen.length = 0;
    await desk.load();
    expect(seen).toEqual(['/api/rig', '/api/trip?weather=']);
  });

  it('keeps the last answer when the program is gone, says so, and recovers', async () => {
    const bodies: Record<string, unknown> = { '/api/rig': cannedRig(), '/api/trip': cannedTrip(), '/api/weather': { choices: [] } };
    const desk = new Desk(answers(bodies));
    await desk.load();
    delete bodies['/api/rig'];
    await desk.load();
    expect(desk.silentSince).toMatch(/^\d\d:\d\d$/);
    expect(desk.trip.value?.sentence).toContain('Propane');
    bodies['/api/rig'] = cannedRig();
    await desk.load();
    expect(desk.silentSince).toBe('');
  });

  it('shows a refusal and keeps the last answer', async () => {
    const bodies: Record<string, unknown> = { '/api/rig': cannedRig(), '/api/trip': cannedTrip(), '/api/weather': { choices: [] } };
    const desk = new Desk(answers(bodies));
    await desk.load();
    bodies['/api/trip'] = Response.json({ detail: 'no weather of the name' }, { status: 422 });
    await desk.answer();
    expect(desk.trip.refusal).toBe('no weather of the name');
    expect(desk.trip.value?.days).toBe(2);
    expect(desk.silentSince).toBe('');
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
    expect(['#aboard', '#/aboard', '', '#last', '#nonsense'].map(sheetOf)).toEqual(['aboard', 'aboard', 'last', 'last', 'last']);
  });

  it('holds numbers and units together', () => {
    expect(held('after 3.8 days, on Tue 1 Dec')).toBe('after 3.8\u00a0days, on Tue\u00a01\u00a0Dec');
  });
});
