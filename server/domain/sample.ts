import { checked, DomainError } from './error.ts';

/** Mean and spread of a handful of figures. */

/** `values` themselves when there are at least `fewest` and each is a finite number. @throws DomainError `too-few`, `not-a-number`. */
export function checkedValues(
  values: readonly number[],
  fewest: number,
  subject: string,
  field?: string,
): readonly number[] {
  if (values.length < fewest) {
    throw new DomainError(
      'too-few',
      `${subject}: ${values.length} ${values.length === 1 ? 'is' : 'are'} too few, ${fewest} are the least.`,
      field,
    );
  }
  for (const value of values) {
    checked(value, {}, subject, field);
  }
  return values;
}

/**
 * Mean of one value or more, any unit. Taken about the first value and then corrected by the mean deviation, so that figures that
 * agree in their leading digits keep the others.
 * @throws DomainError `too-few` for none, `not-a-number`.
 */
export function mean(values: readonly number[]): number {
  const first = checkedValues(values, 1, 'The values', 'values')[0]!;
  const rough = first + meanDeviation(values, first);
  return rough + meanDeviation(values, rough);
}

function meanDeviation(values: readonly number[], from: number): number {
  return values.reduce((sum, value) => sum + (value - from), 0) / values.length;
}

/**
 * Sum of the squared deviations from the mean, in the square of the unit. In two passes: the one-pass formula would lose digits.
 * Source: T. F. Chan, G. H. Golub, R. J. LeVeque, The American Statistician 37 (1983) 242-247.
 * @throws DomainError `too-few` for no value, `not-a-number`.
 */
export function squaredDeviations(values: readonly number[]): number {
  const centre = mean(values);
  return values.reduce((squares, value) => squares + (value - centre) ** 2, 0);
}

/**
 * Standard deviation of a sample of two values or more, with n - 1, in the unit of the values. Source: JCGM 100:2008, 4.2.2.
 * @throws DomainError `too-few` for fewer than two, `not-a-number`.
 */
export function standardDeviation(values: readonly number[]): number {
  checkedValues(values, 2, 'The values', 'values');
  return Math.sqrt(squaredDeviations(values) / (values.length - 1));
}
