import { describe, expect, it } from 'vitest';
import { isMain, label, mainKeys, oneOf, shown } from './main';

describe('the main values of a part', () => {
  it('are always shown, and so is whatever the owner has said', () => {
    const row = (key: string, state: 'default' | 'taken' | 'stated' | 'about' | 'measured' | 'unknown') => ({ pattern: `appliances/*/${key}`, state });
    expect(isMain('appliances/*', row('power', 'taken'))).toBe(true);
    expect(isMain('appliances/*', row('surge', 'taken'))).toBe(false);
    expect(isMain('appliances/*', row('surge', 'default'))).toBe(false);
    for (const state of ['stated', 'about', 'measured', 'unknown'] as const) expect(isMain('appliances/*', row('surge', state))).toBe(true);
    expect(isMain('bank', { pattern: 'bank/block/weight', state: 'default' })).toBe(false);
    expect(isMain('wiring/runs/*', { pattern: 'wiring/runs/*/anything', state: 'default' })).toBe(true);
  });

  it('are a handful', () => {
    for (const pattern of ['appliances/*', 'modules/*', 'arrays/*', 'trip/*']) expect((mainKeys(pattern) ?? []).length).toBeLessThanOrEqual(8);
  });

  it('have the names of labels, and parts the names of things', () => {
    expect(label('voc per C')).toBe('Voc per C');
    expect(label('input isc')).toBe('input Isc');
    expect(label('vocal')).toBe('vocal');
    expect(shown('appliances/*/runs on', 'ac')).toBe('AC');
    expect(shown('appliances/*/name', 'ac')).toBe('ac');
    expect(oneOf('appliances')).toBe('an appliance');
    expect(oneOf('shore/chargers')).toBe('a charger');
    expect(oneOf('wiring/runs/main/devices')).toBe('a fuse, switch or plug');
    expect(oneOf('wiring/joints')).toBe('to wiring/joints');
  });
});
