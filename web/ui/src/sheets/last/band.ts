import type { Curve } from '../../desk.svelte';
import { place, type Axis } from '../../axis';

// The plot is drawn in a box of 1000 by 100 that is stretched over its place: time across, per cent of charge up.

/** The middle of bucket i [%]. */
export function middleOf(curve: Curve, axis: Axis, i: number): number {
  return place(axis, curve.from + (i + 0.5) * curve.bucket);
}

function points(curve: Curve, axis: Axis, column: readonly number[]): string[] {
  return column.map((charge, i) => `${(10 * middleOf(curve, axis, i)).toFixed(1)},${(100 - charge).toFixed(1)}`);
}

/** An open line along a column. */
export function line(curve: Curve, axis: Axis, column: readonly number[]): string {
  const list = points(curve, axis, column);
  return list.length === 0 ? '' : `M${list.join('L')}`;
}

/** The closed area between two columns of equal length. */
export function area(curve: Curve, axis: Axis, low: readonly number[], high: readonly number[]): string {
  if (low.length === 0 || low.length !== high.length) return '';
  return `M${points(curve, axis, high).join('L')}L${points(curve, axis, low).reverse().join('L')}Z`;
}

/** The area between the ends of the nights' lowest charge over all runs, one point a night. */
export function nightly(axis: Axis, nights: readonly { bandLow: number; bandTop: number }[]): string {
  if (nights.length === 0) return '';
  const at = (charge: number, i: number): string => `${(10 * place(axis, i + 0.8)).toFixed(1)},${(100 - charge).toFixed(1)}`;
  const top = nights.map((night, i) => at(night.bandTop, i));
  const low = nights.map((night, i) => at(night.bandLow, i));
  return `M${top.join('L')}L${low.reverse().join('L')}Z`;
}

/** The same curve with so many buckets put together as one, for narrow paper: the lowest and the highest of each group. Its texts are left out. */
export function thinned(curve: Curve, group: number): Curve {
  if (group <= 1) return curve;
  const join = (column: readonly number[], pick: (...values: number[]) => number): number[] => {
    const list: number[] = [];
    for (let i = 0; i < column.length; i += group) list.push(pick(...column.slice(i, i + group)));
    return list;
  };
  return {
    ...curve, bucket: curve.bucket * group, when: [], charge: [], allCharge: [], poorCharge: [], solar: [], load: [], volts: [],
    poor: join(curve.poor, Math.min), low: join(curve.low, Math.min), high: join(curve.high, Math.max), allLow: join(curve.allLow, Math.min), allHigh: join(curve.allHigh, Math.max),
  };
}

/** How many buckets go together on a line so many pixels wide: days with too little room to show their hours become one point each. */
export function grouping(curve: Curve, days: number, width: number, room = 8): number {
  if (!(curve.bucket > 0) || !(width > 0) || width / days >= room) return 1;
  return Math.max(Math.round(1 / curve.bucket), 1);
}

/** The bucket under a day of the stay; -1 when there is none. */
export function bucketAt(curve: Curve, day: number): number {
  const last = curve.low.length - 1;
  if (last < 0 || !(curve.bucket > 0)) return -1;
  return Math.min(Math.max(Math.floor((day - curve.from) / curve.bucket), 0), last);
}

/** The bucket with the lowest charge; -1 when there is none. */
export function lowest(curve: Curve): number {
  let at = curve.low.length > 0 ? 0 : -1;
  for (let i = 1; i < curve.low.length; i += 1) {
    if ((curve.low[i] ?? 101) < (curve.low[at] ?? 101)) at = i;
  }
  return at;
}

/** What stands at a bucket, in words; texts come with their units. */
export function readout(curve: Curve, i: number): string {
  if (i < 0 || i >= curve.low.length) return '';
  const parts = [`${curve.when[i] ?? ''}: battery ${curve.charge[i] ?? ''}`];
  if (curve.allCharge[i]) parts.push(`${curve.allCharge[i]} in nine runs of ten`);
  if (curve.poorCharge[i]) parts.push(`${curve.poorCharge[i]} in a poor run`);
  if (curve.volts[i]) parts.push(curve.volts[i]);
  if (curve.solar[i]) parts.push(`sun ${curve.solar[i]}`);
  if (curve.load[i]) parts.push(`use ${curve.load[i]}`);
  return parts.join(', ');
}

export interface View {
  readonly from: number; // [d]
  readonly days: number;
}

const views = [28, 7, 2];

/** The next closer view around a day, or undefined when there is none. */
export function closer(now: View, stay: number, around: number): View | undefined {
  const days = views.find((v) => v < now.days);
  if (days === undefined) return undefined;
  return { from: Math.min(Math.max(Math.floor(around - days / 2), 0), Math.max(stay - days, 0)), days };
}

/** The same view, moved along the stay by its own length. */
export function moved(now: View, stay: number, by: 1 | -1): View {
  return { ...now, from: Math.min(Math.max(now.from + by * now.days, 0), Math.max(stay - now.days, 0)) };
}
