import { checkedShare } from './share.ts';

/** How far the purity of a lot may lie from its tag. All shares are fractions. */

/**
 * Least purity of each band, and the tolerances of plain and of chaffy seed, all in percent.
 * Source: 7 CFR 201.60(b), Table 3 (2015 edition).
 */
const tolerances = [
  [99.95, 0.13, 0.16],
  [99.9, 0.2, 0.23],
  [99.85, 0.24, 0.29],
  [99.8, 0.28, 0.34],
  [99.75, 0.32, 0.37],
  [99.7, 0.35, 0.41],
  [99.65, 0.37, 0.45],
  [99.6, 0.4, 0.48],
  [99.55, 0.42, 0.5],
  [99.5, 0.44, 0.53],
  [99.4, 0.47, 0.57],
  [99.3, 0.51, 0.6],
  [99.2, 0.54, 0.64],
  [99.1, 0.57, 0.66],
  [99, 0.59, 0.7],
  [98.75, 0.64, 0.75],
  [98.5, 0.71, 0.82],
  [98.25, 0.76, 0.89],
  [98, 0.82, 0.95],
  [97.75, 0.87, 1.01],
  [97.5, 0.92, 1.07],
  [97.25, 0.96, 1.12],
  [97, 1, 1.17],
  [96.5, 1.06, 1.24],
  [96, 1.14, 1.34],
  [95.5, 1.21, 1.41],
  [95, 1.27, 1.49],
  [94, 1.36, 1.6],
  [93, 1.47, 1.73],
  [92, 1.58, 1.85],
  [91, 1.67, 1.96],
  [90, 1.75, 2.06],
  [88, 1.87, 2.19],
  [86, 2.01, 2.36],
  [84, 2.14, 2.51],
  [82, 2.24, 2.64],
  [80, 2.35, 2.76],
  [78, 2.44, 2.86],
  [76, 2.52, 2.96],
  [74, 2.59, 3.04],
  [72, 2.65, 3.12],
  [70, 2.71, 3.19],
  [65, 2.8, 3.29],
  [60, 2.89, 3.4],
  [50, 2.96, 3.48],
] as const;

/**
 * How far a later analysis may lie from the tag before it contradicts it, as a fraction, for the mean `purity` of the two (0 to 1), rounded
 * to a hundredth of a percent as analyses are. `chaffy` for grass seed in its husks. The same for a purity as for what is missing to 1.
 * A yardstick of the seed trade for unmixed seed: for judging a tag, not a standard deviation.
 * Source: 7 CFR 201.60(b), Table 3 (Federal Seed Act regulations).
 * @throws DomainError for a purity out of range.
 */
export function purityTolerance(purity: number, chaffy = false): number {
  const share = checkedShare(purity, 'The purity', 'purity');
  const hundredths = Math.round(10_000 * Math.max(share, 1 - share));
  const [, plain, husked] = tolerances.find(([least]) => hundredths >= Math.round(100 * least))!;
  return (chaffy ? husked : plain) / 100;
}
