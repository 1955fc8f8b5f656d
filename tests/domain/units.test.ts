import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../server/domain/error.ts';
import * as units from '../../server/domain/units.ts';

const value = fc.double({ min: -1e9, max: 1e9, noNaN: true });

/** Below the numbers that keep all their digits. */
const tiny = 1e-300;

/** There and back for each pair of units. */
const pairs: [string, (x: never) => number, (x: never) => number][] = [
  ['inch', units.metresFromInches, units.inchesFromMetres],
  ['foot', units.metresFromFeet, units.feetFromMetres],
  ['millimetre', units.metresFromMillimetres, units.millimetresFromMetres],
  ['centimetre', units.metresFromCentimetres, units.centimetresFromMetres],
  ['acre', units.squareMetresFromAcres, units.acresFromSquareMetres],
  ['hectare', units.squareMetresFromHectares, units.hectaresFromSquareMetres],
  ['square foot', units.squareMetresFromSquareFeet, units.squareFeetFromSquareMetres],
  ['kilogram', units.gramsFromKilograms, units.kilogramsFromGrams],
  ['pound', units.gramsFromPounds, units.poundsFromGrams],
  ['ounce', units.gramsFromOunces, units.ouncesFromGrams],
  [
    'kilogram a hectare',
    units.gramsPerSquareMetreFromKilogramsPerHectare,
    units.kilogramsPerHectareFromGramsPerSquareMetre,
  ],
  ['pound an acre', units.gramsPerSquareMetreFromPoundsPerAcre, units.poundsPerAcreFromGramsPerSquareMetre],
  [
    'kilometre an hour',
    units.metresPerSecondFromKilometresPerHour,
    units.kilometresPerHourFromMetresPerSecond,
  ],
  ['mile an hour', units.metresPerSecondFromMilesPerHour, units.milesPerHourFromMetresPerSecond],
];

describe('units', () => {
  it.each(pairs)('%s goes there and back, and scales', (_, there, back) => {
    fc.assert(
      fc.property(value, (x) => {
        const away = there(x as never);
        expect(Math.abs(back(away as never) - x)).toBeLessThanOrEqual(Math.abs(x) * 1e-15 + tiny);
        expect(Math.abs(there((2 * x) as never) - 2 * away)).toBeLessThanOrEqual(
          Math.abs(away) * 1e-15 + tiny,
        );
      }),
    );
  });

  it('makes no quantity of what is no number', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => units.metres(bad)).toThrow(DomainError);
      expect(() => units.kilogramsPerHectare(bad)).toThrow(/must be a number/);
    }
  });

  it('keeps quantities of different units apart in their types', () => {
    const takesSi = (rate: units.GramsPerSquareMetre) => rate;
    const hundred = units.kilogramsPerHectare(100);
    // @ts-expect-error kilograms a hectare are not grams a square metre
    takesSi(hundred);
    // @ts-expect-error nor is a bare number
    takesSi(100);
    expect(takesSi(units.gramsPerSquareMetreFromKilogramsPerHectare(hundred))).toBe(10);
  });
});
