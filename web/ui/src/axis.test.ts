import { describe, expect, it } from 'vitest';
import { dayAt, place, ticks, within } from './axis';

describe('a line of time', () => {
  const axis = { from: 10, days: 20 };

  it('places days in per cent, and knows the way back', () => {
    expect(place(axis, 10)).toBe(0);
    expect(place(axis, 30)).toBe(100);
    expect(place(axis, 5)).toBe(-25);
    expect(within(axis, 5)).toBe(0);
    expect(within(axis, 31)).toBe(100);
    expect(dayAt(axis, 0.5)).toBe(20);
    expect(dayAt(axis, -1)).toBe(10);
    expect(dayAt(axis, 2)).toBe(30);
    expect(place({ from: 0, days: 0 }, 3)).toBe(0);
  });

  it('labels only where there is room', () => {
    const dates = Array.from({ length: 365 }, (_, i) => `Mon ${(i % 28) + 1} Feb`);
    for (const [days, width] of [[2, 300], [65, 300], [65, 900], [365, 300], [365, 900]] as const) {
      const list = ticks({ from: 0, days }, dates, width);
      const labels = list.filter((t) => t.label);
      expect(labels.length, `${days} days`).toBeGreaterThan(1);
      for (let i = 1; i < labels.length; i += 1) {
        const gap = (((labels[i]?.x ?? 0) - (labels[i - 1]?.x ?? 0)) * width) / 100;
        expect(gap).toBeGreaterThanOrEqual(62);
      }
      expect(list.length).toBeLessThanOrEqual(width / 4 + 1);
      expect(labels[0]?.label).toBe('1 Feb');
    }
  });

  it('draws nothing on a line without length', () => {
    expect(ticks({ from: 0, days: 0 }, [], 100)).toEqual([]);
    expect(ticks({ from: 0, days: 5 }, [], 0)).toEqual([]);
  });
});
