import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gramsPerLitre } from '../../server/domain/bulk-density.ts';
import {
  gramsPerSquareMetre,
  gramsPerSquareMetreFromPoundsPerAcre,
  poundsPerAcre,
} from '../../server/domain/units.ts';
import * as volume from '../../server/domain/volume-rate.ts';
import { between, near, refused } from './lots.ts';

const density = between(100, 1000).map(gramsPerLitre);

describe('rates by the bushel', () => {
  it('go there and back, and grow with the density', () => {
    fc.assert(
      fc.property(between(0.01, 10), density, (bushels, of) => {
        const us = volume.rateFromUsBushelsPerAcre(volume.usBushelsPerAcre(bushels), of);
        near(volume.usBushelsPerAcreFromRate(us, of), bushels);
        const imperial = volume.rateFromImperialBushelsPerAcre(volume.imperialBushelsPerAcre(bushels), of);
        near(volume.imperialBushelsPerAcreFromRate(imperial, of), bushels);
        near(imperial / us, 36.36872 / 35.23907016688);
        near(
          volume.rateFromUsBushelsPerAcre(volume.usBushelsPerAcre(bushels), gramsPerLitre(of * 1.1)),
          us * 1.1,
        );
      }),
    );
  });

  it('refuses densities and rates that cannot be', () => {
    const two = volume.usBushelsPerAcre(2);
    refused(() => volume.rateFromUsBushelsPerAcre(two, gramsPerLitre(60_000)), 'out-of-range', 'bulkDensity');
    refused(() => volume.rateFromUsBushelsPerAcre(two, gramsPerLitre(0)), 'out-of-range', 'bulkDensity');
    refused(
      () => volume.rateFromImperialBushelsPerAcre(volume.imperialBushelsPerAcre(-2), gramsPerLitre(772)),
      'out-of-range',
      'rate',
    );
    refused(
      () => volume.usBushelsPerAcreFromRate(gramsPerSquareMetre(501), gramsPerLitre(772)),
      'out-of-range',
      'rate',
    );
    refused(() => volume.usBushelsPerAcre(Number.NaN), 'not-a-number');
  });

  it('keeps the two bushels apart in their types', () => {
    // @ts-expect-error US bushels are not imperial ones
    volume.rateFromImperialBushelsPerAcre(volume.usBushelsPerAcre(1), gramsPerLitre(772));
    expect(gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(60))).toBeGreaterThan(6.7);
  });
});
