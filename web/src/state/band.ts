/** What counts as right. */
export interface Band {
  target: number;
  low: number;
  high: number;
}

/** The band of `tolerance` (a fraction) to both sides of a target. */
export const bandAround = (target: number, tolerance: number): Band => ({
  target,
  low: target * (1 - tolerance),
  high: target * (1 + tolerance),
});
