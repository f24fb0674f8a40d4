/** Where a margin stands on a scale of shares of the limit, in per cent of its width. Beyond the ends it stands at the end. */
export interface Scale {
  readonly from: number;
  readonly to: number;
}

export function spot(scale: Scale, x: number): number {
  const width = scale.to - scale.from;
  if (!(width > 0) || !Number.isFinite(x)) return 0;
  return Math.min(Math.max(((x - scale.from) / width) * 100, 0), 100);
}

/** The scale on which all air temperatures of the rig's places stand, with some room at both ends. Freezing is always on it. */
export function airScale(numbers: readonly (number | null | undefined)[]): Scale {
  const known = numbers.filter((x): x is number => typeof x === 'number' && Number.isFinite(x));
  return { from: Math.min(0, ...known) - 4, to: Math.max(25, ...known) + 4 };
}
