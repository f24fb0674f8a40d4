import { describe, expect, it } from 'vitest';
import { airScale, spot } from './scale';

describe('the scales of the sheet', () => {
  it('puts a share where it belongs and stops at the ends', () => {
    const scale = { from: -0.5, to: 0.5 };
    expect([-0.5, 0, 0.25, 0.5].map((x) => spot(scale, x))).toEqual([0, 50, 75, 100]);
    expect([-7, 1e9].map((x) => spot(scale, x))).toEqual([0, 100]);
    expect([NaN, Infinity].map((x) => spot(scale, x))).toEqual([0, 0]);
    expect(spot({ from: 1, to: 1 }, 1)).toBe(0);
  });

  it('always has freezing on the scale of air', () => {
    for (const numbers of [[], [null], [-40, 44], [12, 31], [NaN, undefined]]) {
      const scale = airScale(numbers);
      const zero = spot(scale, 0);
      expect(zero).toBeGreaterThan(0);
      expect(zero).toBeLessThan(100);
      for (const x of numbers) if (typeof x === 'number' && Number.isFinite(x)) expect(spot(scale, x)).toBeGreaterThan(0);
    }
  });
});
