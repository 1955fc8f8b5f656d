import { regularizedBeta } from '../incomplete-beta.ts';

/**
 * The order spectrum of something against the angle of the wheel: how much of it repeats once, twice, thrice ... a turn. Each turn
 * gives one complex amplitude an order; their mean is what repeats, their scatter from turn to turn is the noise, whatever its kind.
 */
export interface OrderSums {
  re: number[];
  im: number[];
}

/** Orders looked at: 1 to so many cycles a turn. */
export const mostOrders = 32;

export const noSums: OrderSums = { re: Array(mostOrders).fill(0), im: Array(mostOrders).fill(0) };

/** Adds `values[i]` x `weight`, at `angle` (turns), to a Fourier integral over one turn in each of `sums` (changed in place). */
export function addPoint(
  sums: readonly OrderSums[],
  angle: number,
  values: readonly number[],
  weight: number,
): void {
  const cos = Math.cos(2 * Math.PI * angle);
  const sin = -Math.sin(2 * Math.PI * angle);
  for (let i = 0; i < sums.length; i++) {
    const { re, im } = sums[i]!;
    let real = 2 * weight * values[i]!;
    let imaginary = 0;
    for (let order = 0; order < mostOrders; order++) {
      const next = real * cos - imaginary * sin;
      imaginary = real * sin + imaginary * cos;
      real = next;
      re[order]! += real;
      im[order]! += imaginary;
    }
  }
}

/** Sums over turns of their complex amplitudes, order by order. */
export interface OrderMeans extends OrderSums {
  turns: number;
  /** Sum of squared amplitudes, and of the products of neighbouring turns. */
  square: number[];
  neighbour: number[];
  last: OrderSums;
}

export const noMeans: OrderMeans = {
  ...noSums,
  turns: 0,
  square: Array(mostOrders).fill(0),
  neighbour: Array(mostOrders).fill(0),
  last: noSums,
};

/** The means with one more turn, whose line rises by `rise` over the turn more than what was taken off already. */
export function addTurn(means: OrderMeans, turn: OrderSums, rise: number): OrderMeans {
  const next: OrderMeans = {
    turns: means.turns + 1,
    re: means.re.slice(),
    im: means.im.slice(),
    square: means.square.slice(),
    neighbour: means.neighbour.slice(),
    last: { re: turn.re.slice(), im: turn.im.slice() },
  };
  for (let k = 0; k < mostOrders; k++) {
    const re = turn.re[k]!;
    // The integral of 2 x theta x exp(-2 pi i k theta) over a turn is i / (pi k).
    const im = turn.im[k]! - rise / (Math.PI * (k + 1));
    next.last.im[k] = im;
    next.re[k]! += re;
    next.im[k]! += im;
    next.square[k]! += re * re + im * im;
    if (means.turns > 0) next.neighbour[k]! += re * means.last.re[k]! + im * means.last.im[k]!;
  }
  return next;
}

/** Of one order: amplitude of what repeats, and variance of that mean as a complex number (both parts together). */
export interface OrderFigure {
  amplitude: number;
  variance: number;
}

/** `order` from 1. Infinite variance with fewer than 3 turns. Turns that resemble their neighbours count for less. */
export function orderFigure(means: OrderMeans, order: number): OrderFigure {
  const { turns } = means;
  const k = order - 1;
  const re = means.re[k]! / turns;
  const im = means.im[k]! / turns;
  const power = re * re + im * im;
  if (turns < 3) return { amplitude: Math.sqrt(power), variance: Infinity };
  const scatter = Math.max(0, means.square[k]! / turns - power) * (turns / (turns - 1));
  const alike = scatter === 0 ? 0 : (means.neighbour[k]! / (turns - 1) - power) / scatter;
  const surely = Math.max(0, Math.min(0.8, alike - 1 / Math.sqrt(turns)));
  return { amplitude: Math.sqrt(power), variance: ((scatter / turns) * (1 + surely)) / (1 - surely) };
}

/**
 * Probability that noise alone gives amplitudes that large in all of `figures` together: F distribution with 2 n and 2 n (turns - 1)
 * degrees of freedom, n figures. Mean of squared amplitudes over their variances is F; complex Gaussian noise, any textbook.
 */
export function chanceOf(figures: readonly OrderFigure[], turns: number): number {
  if (turns < 3) return 1;
  const n = figures.length;
  const f = figures.reduce((sum, { amplitude, variance }) => sum + amplitude ** 2 / variance, 0) / n;
  const rest = n * (turns - 1);
  return regularizedBeta(rest / (rest + n * f), (n * f) / (rest + n * f), rest, n);
}
