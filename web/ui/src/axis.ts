/** Layout of time along a line. Places are per cent of its length, so that a drawing fits a phone, a desk and a page without script. */
export interface Axis {
  readonly from: number; // [d] from arrival
  readonly days: number;
}

export interface Tick {
  readonly day: number;
  readonly x: number; // [%]
  readonly label: string; // empty for a bare tick
}

/** The place of a day [%]. It may lie outside the line. */
export function place(axis: Axis, day: number): number {
  return axis.days > 0 ? (100 * (day - axis.from)) / axis.days : 0;
}

/** The place of a day, kept on the line [%]. */
export function within(axis: Axis, day: number): number {
  return Math.min(Math.max(place(axis, day), 0), 100);
}

/** The day at a place given as a share of the line, kept on the line. */
export function dayAt(axis: Axis, share: number): number {
  return axis.from + Math.min(Math.max(share, 0), 1) * axis.days;
}

const strides = [1, 2, 7, 14, 28, 56, 91, 182, 364];

/** Ticks at whole days, a label wherever there is room for one. dates are the evenings' dates, one a day; width is the room [px]. */
export function ticks(axis: Axis, dates: readonly string[], width: number, room = 62): Tick[] {
  if (!(width > 0) || !(axis.days > 0)) return [];
  const stride = (least: number): number => strides.find((s) => (s * width) / axis.days >= least) ?? 364;
  const bare = stride(4);
  const labelled = Math.max(stride(room), bare);
  const list: Tick[] = [];
  for (let day = Math.ceil(axis.from); day <= axis.from + axis.days + 1e-9; day += 1) {
    if (day % bare !== 0) continue;
    const x = place(axis, day);
    const date = dates[day];
    const cramped = ((100 - x) * width) / 100 < room * 0.7;
    list.push({ day, x, label: day % labelled === 0 && date && !cramped ? short(date) : '' });
  }
  return list;
}

/** "Fri 5 Dec" without its weekday. */
function short(date: string): string {
  return date.replace(/^[A-Z][a-z]{2} /, '');
}
