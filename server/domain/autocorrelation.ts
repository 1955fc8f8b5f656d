import { type DoubleDouble, exactly, minus, over, plus, rounded, times, total } from './double-double.ts';
import { checkedValues } from './sample.ts';

/** Sum of the products of each departure and the one some `places` before it. */
function lagged(departures: readonly DoubleDouble[], places: number): DoubleDouble {
  return departures
    .slice(places)
    .reduce((sum, later, index) => plus(sum, times(later, departures[index]!)), exactly(0));
}

/**
 * Autocorrelation at lag one, from -1 to 1: how far each of two or more `values`, in any unit, resembles the one before it. About 0 for
 * independent values, 0 where all are the same.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.12 (from memory): sum of the products of neighbours over sum of squares,
 * both about the mean of all.
 * @throws DomainError `too-few`, `not-a-number`.
 */
export function lagOneAutocorrelation(values: readonly number[]): number {
  checkedValues(values, 2, 'The values', 'values');
  const centre = over(total(values.map(exactly)), exactly(values.length));
  const departures = values.map((value) => minus(exactly(value), centre));
  const squares = lagged(departures, 0);
  return squares.high === 0 ? 0 : rounded(over(lagged(departures, 1), squares));
}
