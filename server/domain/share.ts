import { DomainError } from './error.ts';

/**
 * `value` itself when it is a fraction from 0 to 1, which people know as 0 to 100 %.
 * @throws DomainError `not-a-number` or `out-of-range`, with `subject` ('The purity') in its sentence.
 */
export function checkedShare(value: number, subject: string, field: string): number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new DomainError('not-a-number', `${subject} must be a number.`, field);
  }
  if (value < 0 || value > 1) {
    throw new DomainError(
      'out-of-range',
      `${subject} must lie between 0 and 100 %, not ${percent(value)} %.`,
      field,
    );
  }
  return value;
}

/** As `checkedShare`, but 0 is refused too. @throws DomainError `not-a-number` or `out-of-range`. */
export function checkedSomeShare(value: number, subject: string, field: string): number {
  if (checkedShare(value, subject, field) === 0) {
    throw new DomainError('out-of-range', `${subject} must be more than 0 %.`, field);
  }
  return value;
}

/** How far the shares of a mix may miss 1 together, as a fraction: printed shares are rounded, three thirds to 99.9 %. */
export const shareRounding = 0.005;

/**
 * `shares` (each above 0, at most 1) scaled to sum to 1 exactly.
 * @throws DomainError `too-few` for none, `inconsistent` when they miss 100 % by more than half a point.
 */
export function wholeShares(shares: readonly number[]): number[] {
  if (shares.length === 0) {
    throw new DomainError('too-few', 'The mix is empty: name at least one species.', 'parts');
  }
  const sum = shares.reduce((total, share) => total + checkedSomeShare(share, 'A share', 'share'), 0);
  if (Math.abs(sum - 1) > shareRounding) {
    throw new DomainError(
      'inconsistent',
      `The shares come to ${percent(sum)} % instead of 100 %: correct them, or leave out what is no seed.`,
      'share',
    );
  }
  return shares.map((share) => share / sum);
}

/** A fraction as a percentage in words, to a tenth. */
export function percent(fraction: number): string {
  return String(Math.round(fraction * 1000) / 10);
}
