/** Where a value stands on a drawn scale, as per cent from its left end, kept on the scale. */
export function along(value: number, from: number, to: number): number {
  if (!(to > from)) return 0;
  return Math.min(100, Math.max(0, ((value - from) / (to - from)) * 100));
}

export interface Span {
  from: number;
  to: number;
}

/** The scale for the catch: from nothing to somewhat above the band, or above what lies in the bag when that is more. */
export const catchSpan = (bandHigh: number, grams: number | null): Span => ({
  from: 0,
  to: Math.max(bandHigh * 1.15, (grams ?? 0) * 1.05),
});

/**
 * The scale for the rate: the target in the middle, four tolerances to each side, doubled until the rate is on it; so that the scale
 * stands still while the rate settles.
 */
export function rateSpan(target: number, tolerance: number, rate: number | null): Span {
  let half = target * tolerance * 4;
  for (
    let doublings = 0;
    rate !== null && Math.abs(rate - target) > half * 0.8 && doublings < 10;
    doublings++
  )
    half *= 2;
  return { from: Math.max(0, target - half), to: target + half };
}
