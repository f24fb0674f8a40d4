import { describe, expect, it } from 'vitest';
import { cannedCurve } from '../../canned';
import { area, bucketAt, closer, grouping, line, lowest, moved, nightly, readout, thinned } from './band';

const axis = { from: 0, days: 2 };

describe('the band', () => {
  it('draws charge up and time across', () => {
    const curve = cannedCurve();
    expect(line(curve, axis, curve.low)).toBe('M125.0,40.0L375.0,60.0L625.0,45.0L875.0,82.0');
    expect(area(curve, axis, curve.low, curve.high).startsWith('M125.0,0.0L')).toBe(true);
    expect(area(curve, axis, curve.low, [])).toBe('');
    expect(line(curve, axis, [])).toBe('');
  });

  it('finds the bucket under a day, whatever the day', () => {
    const curve = cannedCurve();
    expect([-1, 0, 0.49, 0.5, 1.99, 2, 99].map((d) => bucketAt(curve, d))).toEqual([0, 0, 0, 1, 3, 3, 3]);
    expect(bucketAt(cannedCurve({ low: [] }), 1)).toBe(-1);
    expect(lowest(curve)).toBe(3);
    expect(lowest(cannedCurve({ low: [] }))).toBe(-1);
  });

  it('reads out with units, and says nothing of what is not there', () => {
    expect(readout(cannedCurve(), 1)).toBe('Sat 28 Nov 00:00: battery 40 to 70 %, 30 to 90 % in nine runs of ten, 12.9 V, sun 0 W, use 60 W');
    expect(readout(cannedCurve({ allCharge: [], volts: [], solar: [], load: [] }), 1)).toBe('Sat 28 Nov 00:00: battery 40 to 70 %');
    expect(readout(cannedCurve(), 4)).toBe('');
    expect(readout(cannedCurve(), -1)).toBe('');
  });

  it('reads out the poor run beside the typical one', () => {
    expect(readout(cannedCurve({ poor: [50, 20, 30, 0], poorCharge: ['50 %', '20 %', '30 %', '0 %'] }), 3)).toBe(
      'Sun 29 Nov 00:00: battery 18 to 50 %, 10 to 80 % in nine runs of ten, 0 % in a poor run, 12.7 V, sun 0 W, use 70 W',
    );
  });

  it('loses no end when it is thinned', () => {
    const curve = thinned(cannedCurve({ poor: [50, 20, 30, 0] }), 2);
    expect(curve.poor).toEqual([20, 0]);
    expect(curve.low).toEqual([40, 18]);
    expect(curve.high).toEqual([100, 80]);
    expect(curve.bucket).toBe(1);
    expect(thinned(cannedCurve(), 3).low).toEqual([40, 18]);
    expect(grouping(cannedCurve(), 2, 400)).toBe(1);
    expect(grouping(cannedCurve(), 365, 400)).toBe(2);
    expect(grouping(cannedCurve(), 30, 400)).toBe(1);
    expect(grouping(cannedCurve(), 30, 400, 24)).toBe(2);
    expect(grouping(cannedCurve({ bucket: 0 }), 365, 400)).toBe(1);
  });

  it('draws the nights of all runs', () => {
    expect(nightly(axis, [{ bandLow: 10, bandTop: 90 }, { bandLow: 20, bandTop: 80 }])).toBe('M400.0,10.0L900.0,20.0L900.0,80.0L400.0,90.0Z');
    expect(nightly(axis, [])).toBe('');
  });

  it('comes closer in steps and stays inside the stay', () => {
    let view = closer({ from: 0, days: 65 }, 65, 3);
    expect(view).toEqual({ from: 0, days: 28 });
    view = closer(view ?? axis, 65, 64);
    expect(view).toEqual({ from: 58, days: 7 });
    view = closer(view ?? axis, 65, 60);
    expect(view).toEqual({ from: 59, days: 2 });
    expect(closer(view ?? axis, 65, 60)).toBeUndefined();
    expect(moved({ from: 1, days: 7 }, 65, -1).from).toBe(0);
    expect(moved({ from: 57, days: 7 }, 65, 1).from).toBe(58);
  });
});
