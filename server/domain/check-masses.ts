import { checked, DomainError } from './error.ts';
import { type Grams, grams } from './units.ts';

/** Classes of weights that a shop or a dealer may have; better ones are for laboratories. */
export const massClasses = ['M1', 'M2', 'M3'] as const;
/** Name of a class of weights. */
export type MassClass = (typeof massClasses)[number];

/**
 * Largest error that a weight of a nominal mass (grams, first) may have, milligrams, M1, M2, M3.
 * Source: OIML R 111-1:2004, table 1, READ in two copies that agree where both were seen: the text of a Greek ministry's consultation
 * (opengov.gr/ypoian, p=2697) for all rows, a table of error limits by class for 1 g to 100 g.
 */
const largestErrors: ReadonlyMap<number, readonly [number, number, number]> = new Map([
  [5000, [250, 800, 2500]],
  [2000, [100, 300, 1000]],
  [1000, [50, 160, 500]],
  [500, [25, 80, 250]],
  [200, [10, 30, 100]],
  [100, [5, 16, 50]],
  [50, [3, 10, 30]],
  [20, [2.5, 8, 25]],
  [10, [2, 6, 20]],
  [5, [1.6, 5, 16]],
  [2, [1.2, 4, 12]],
  [1, [1, 3, 10]],
]);

/** Nominal masses of the table, grams, rising. */
export const nominalMasses: readonly number[] = [...largestErrors.keys()].sort((a, b) => a - b);

/** A mass of known weight that a scale is calibrated with. */
export interface CheckMass {
  /** What the user calls it and can read on it: '200 g'. */
  name: string;
  /** Its conventional mass, more than 0. */
  grams: Grams;
  /** Standard uncertainty of that, from 0. */
  standardDoubt: Grams;
}

/**
 * Largest error, either way, that a weight of class `massClass` with the `nominal` mass may have.
 * @throws DomainError `out-of-range` for a nominal mass that the table (1 g to 5 kg in steps of 1, 2, 5) does not hold.
 */
export function massTolerance(massClass: MassClass, nominal: Grams): Grams {
  checked(nominal, { above: 0 }, 'The nominal mass', 'nominal');
  const row = largestErrors.get(nominal);
  if (row === undefined) {
    throw new DomainError(
      'out-of-range',
      `Classes of weights go by 1, 2 and 5, from 1 g to 5 kg: for ${nominal} g state the mass and its doubt instead.`,
      'nominal',
    );
  }
  return grams(row[massClasses.indexOf(massClass)]! / 1000);
}

/**
 * A weight as its class vouches for it: anywhere within its tolerance, so that the standard uncertainty is tolerance / sqrt(3).
 * Source: JCGM 100:2008, 4.3.7. A little cautious: R 111 has the tolerance hold the uncertainty of the weight's own calibration too.
 * @throws DomainError as `massTolerance`.
 */
export function checkMassOfClass(massClass: MassClass, nominal: Grams): CheckMass {
  return {
    name: nominal >= 1000 ? `${nominal / 1000} kg` : `${nominal} g`,
    grams: nominal,
    standardDoubt: grams(massTolerance(massClass, nominal) / Math.sqrt(3)),
  };
}
