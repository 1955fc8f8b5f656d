/** Where a function of one variable is zero. */

const mostSteps = 200;

/**
 * Root of `f` between `low` and `high`, at which it has different signs: as exact as doubles allow. Interpolates where that is safe and
 * halves where it is not, so that it never does worse than halving and mostly needs a tenth of its steps.
 * Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149 (from memory, high confidence).
 */
export function rootBetween(f: (x: number) => number, low: number, high: number): number {
  return closeIn(f, { x: low, y: f(low) }, { x: high, y: f(high) });
}

interface Point {
  x: number;
  y: number;
}

function closeIn(f: (x: number) => number, one: Point, other: Point): number {
  let near = one;
  let far = other;
  let part = 0.5;
  for (let step = 0; step < mostSteps; step += 1) {
    const x = near.x + part * (far.x - near.x);
    const next = { x, y: f(x) };
    const third = next.y > 0 === near.y > 0 ? near : far;
    far = third === near ? far : near;
    near = next;
    const best = Math.abs(far.y) < Math.abs(near.y) ? far : near;
    const least = (2 * Number.EPSILON * Math.abs(best.x) + Number.MIN_VALUE) / Math.abs(far.x - near.x);
    if (best.y === 0 || !(least < 0.5)) {
      return best.x;
    }
    part = Math.min(1 - least, Math.max(least, interpolated(near, far, third) ?? 0.5));
  }
  return near.x;
}

/** Part of the way from `near` to `far` where the parabola through the three, taken sideways, is zero; null where that is not safe. */
function interpolated(near: Point, far: Point, third: Point): number | null {
  const xi = (near.x - far.x) / (third.x - far.x);
  const phi = (near.y - far.y) / (third.y - far.y);
  if (!(phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi)) {
    return null;
  }
  const straight = (near.y / (far.y - near.y)) * (third.y / (far.y - third.y));
  const bend = (near.y / (third.y - near.y)) * (far.y / (third.y - far.y));
  return straight + ((third.x - near.x) / (far.x - near.x)) * bend;
}

/**
 * Root of a falling `f`, sought from `start` in strides that begin at `stride` (more than 0) and double until the sign changes.
 * `f` must not be infinite. Source: as `rootBetween`.
 */
export function fallingRoot(f: (x: number) => number, start: number, stride: number): number {
  let here = { x: start, y: f(start) };
  const way = here.y > 0 ? 1 : -1;
  for (let step = stride; ; step *= 2) {
    const x = here.x + way * step;
    const there = { x, y: f(x) };
    if (there.y > 0 !== here.y > 0 || !Number.isFinite(x)) {
      return closeIn(f, here, there);
    }
    here = there;
  }
}

/** Logarithm of a probability or a sum of squares that may have vanished: of the smallest number there is, at least. */
export const logOf = (value: number): number => Math.log(Math.max(value, Number.MIN_VALUE));
