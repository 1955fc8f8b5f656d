import fc from 'fast-check';
import { unit } from 'mathjs';
import { describe, it } from 'vitest';
import * as bulk from '../../server/domain/bulk-density.ts';
import * as seed from '../../server/domain/seed-units.ts';
import * as units from '../../server/domain/units.ts';
import { between, near } from './lots.ts';

type Way = (value: never) => number;

// Second opinion: mathjs 15.2, whose units are its own.
const ways: [string, string, Way][] = [
  ['inch', 'm', units.metresFromInches],
  ['foot', 'm', units.metresFromFeet],
  ['mm', 'm', units.metresFromMillimetres],
  ['cm', 'm', units.metresFromCentimetres],
  ['acre', 'm^2', units.squareMetresFromAcres],
  ['hectare', 'm^2', units.squareMetresFromHectares],
  ['lbm', 'g', units.gramsFromPounds],
  ['oz', 'g', units.gramsFromOunces],
  ['km/h', 'm/s', units.metresPerSecondFromKilometresPerHour],
  ['mi/h', 'm/s', units.metresPerSecondFromMilesPerHour],
  ['lb/acre', 'g/m^2', units.gramsPerSquareMetreFromPoundsPerAcre],
  ['kg/hectare', 'g/m^2', units.gramsPerSquareMetreFromKilogramsPerHectare],
  ['sqft^-1', 'm^-2', seed.seedsPerSquareMetreFromSquareFoot],
  ['sqyd^-1', 'm^-2', seed.plantsPerSquareMetreFromSquareYard],
  ['sqft', 'm^2', units.squareMetresFromSquareFeet],
  ['acre^-1', 'm^-2', seed.seedsPerSquareMetreFromAcre],
  ['ft^-1', 'm^-1', seed.seedsPerRowMetreFromRowFoot],
  ['kg/m^3', 'g/L', bulk.gramsPerLitreFromKilogramsPerCubicMetre],
  ['kg/hectoliter', 'g/L', bulk.gramsPerLitreFromKilogramsPerHectolitre],
  ['cuft', 'L', bulk.litresFromCubicFeet],
];

describe('conversions against another library', () => {
  it.each(ways)('%s to %s', (from, to, way) => {
    fc.assert(
      fc.property(between(1e-3, 1e6), (value) => {
        // mathjs rounds the acre to 4046.86 m², nine parts in ten million off; the rest is exact.
        near(way(value as never), unit(value, from).toNumber(to), from.includes('acre') ? 1e-6 : 1e-12);
      }),
    );
  });

  it('a US bushel is 2150.42 cubic inches', () => {
    near(bulk.litresFromUsBushels(bulk.usBushels(1)), unit(2150.42, 'cuin').toNumber('L'), 1e-12);
  });
});
