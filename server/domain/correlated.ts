import { checked, DomainError } from './error.ts';

/**
 * Doubts that hang together: cells adjusted with one check mass all err the same way, two figures read in the same runs rise and fall
 * with each other. Adding such doubts as if they were independent makes the sum look better, or worse, than it is.
 */

/** Correlations that add up on paper may miss by so little in binary. */
const rounding = 1e-9;

function checkedCorrelations(correlations: readonly (readonly number[])[], size: number): void {
  const square = correlations.length === size && correlations.every((row) => row.length === size);
  if (!square) {
    throw new DomainError(
      'inconsistent',
      `${size} doubts take ${size} x ${size} correlations.`,
      'correlations',
    );
  }
  correlations.forEach((row, i) => {
    row.forEach((each, j) => {
      checked(each, { least: -1, most: 1 }, 'A correlation', 'correlations');
      if (Math.abs(each - correlations[j]![i]!) > rounding || (i === j && each !== 1)) {
        throw new DomainError(
          'inconsistent',
          'Correlations must be the same both ways, and 1 of a figure with itself.',
          'correlations',
        );
      }
    });
  });
}

/**
 * Standard uncertainty of a result whose inputs hang together: sqrt(sum of p_i p_j r_ij). `parts`: what each input's standard
 * uncertainty alone would move the result by, with the sign of its sensitivity, all in the unit of the result; `correlations`: r_ij, from
 * -1 to 1, a row for each part.
 * Source: JCGM 100:2008, 5.2.2, equation (16).
 * @throws DomainError `too-few` for no part, `inconsistent` for correlations that cannot be, `not-a-number` for others.
 */
export function combineCorrelated(
  parts: readonly number[],
  correlations: readonly (readonly number[])[],
): number {
  if (parts.length === 0) {
    throw new DomainError('too-few', 'There is no doubt to combine.', 'parts');
  }
  for (const part of parts) {
    checked(part, {}, 'A part of the doubt', 'parts');
  }
  checkedCorrelations(correlations, parts.length);
  const sum = parts.reduce(
    (total, a, i) => total + parts.reduce((row, b, j) => row + a * b * correlations[i]![j]!, 0),
    0,
  );
  const largest = parts.reduce((most, part) => Math.max(most, part ** 2), 0);
  if (sum < -rounding * largest) {
    throw new DomainError(
      'inconsistent',
      'No figures can hang together like that: the correlations contradict each other.',
      'correlations',
    );
  }
  return Math.sqrt(Math.max(0, sum));
}

/**
 * Correlation of two figures seen together in the same runs, -1 to 1: `first` and `second` hold one value a run, two runs at the least.
 * It is that of their means too. Source: JCGM 100:2008, 5.2.3, equation (17), and 5.2.2, equation (14).
 * @throws DomainError `inconsistent` for lists of unlike length or a figure that never changes, `too-few`, `not-a-number`.
 */
export function correlationOf(first: readonly number[], second: readonly number[]): number {
  if (first.length !== second.length) {
    throw new DomainError(
      'inconsistent',
      `${first.length} values of the one figure cannot be paired with ${second.length} of the other.`,
      'second',
    );
  }
  if (first.length < 2) {
    throw new DomainError(
      'too-few',
      'One run does not show what rises and falls together: two are needed.',
      'first',
    );
  }
  const a = deviations(first, 'first');
  const b = deviations(second, 'second');
  const product = a.reduce((sum, each, index) => sum + each * b[index]!, 0);
  return Math.min(1, Math.max(-1, product / (Math.hypot(...a) * Math.hypot(...b))));
}

function deviations(values: readonly number[], field: string): number[] {
  const mean = values.reduce((sum, value) => sum + checked(value, {}, 'A value', field), 0) / values.length;
  const away = values.map((value) => value - mean);
  if (away.every((each) => each === 0)) {
    throw new DomainError(
      'inconsistent',
      'A figure that never changes cannot rise and fall with another.',
      field,
    );
  }
  return away;
}
