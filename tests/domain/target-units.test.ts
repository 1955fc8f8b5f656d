import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gramsPerLitre } from '../../server/domain/bulk-density.ts';
import {
  rateFromTarget,
  type Sowing,
  targetFromRate,
  targetUnits,
} from '../../server/domain/target-units.ts';
import { gramsPerSquareMetre, metres } from '../../server/domain/units.ts';
import { anyLot, between, lotOf, near, refused } from './lots.ts';

const sowing: fc.Arbitrary<Sowing> = fc.record({
  lot: anyLot,
  rowSpacing: between(0.05, 1).map(metres),
  establishment: between(0.2, 1),
  density: between(100, 1000).map(gramsPerLitre),
});
const unit = fc.constantFrom(...targetUnits);
const wheat: Sowing = {
  lot: lotOf(40, 98, 95),
  rowSpacing: metres(0.1905),
  establishment: 0.85,
  density: gramsPerLitre(772.31),
};

describe('targets in any unit', () => {
  it('go there and back', () => {
    fc.assert(
      fc.property(unit, sowing, between(0.01, 10), (each, of, rate) => {
        near(rateFromTarget(targetFromRate(gramsPerSquareMetre(rate), each, of), each, of), rate);
      }),
    );
  });

  it('twice the target takes twice the seed', () => {
    fc.assert(
      fc.property(unit, sowing, between(0.01, 10), (each, of, rate) => {
        const figure = targetFromRate(gramsPerSquareMetre(rate), each, of);
        near(rateFromTarget(2 * figure, each, of), 2 * rate);
      }),
    );
  });

  it('live seed by mass is less than the seed that holds it; plants are fewer than live seeds', () => {
    fc.assert(
      fc.property(sowing, between(0.1, 10).map(gramsPerSquareMetre), (of, rate) => {
        const [bulk, live] = [targetFromRate(rate, 'lb/ac', of), targetFromRate(rate, 'lb/ac live seed', of)];
        expect(live).toBeLessThanOrEqual(bulk);
        const seeds = targetFromRate(rate, 'live seeds/m²', of);
        expect(targetFromRate(rate, 'plants/m²', of)).toBeLessThanOrEqual(seeds);
      }),
    );
  });

  it('holds every unit in use', () => {
    for (const stem of ['kg/ha', 'lb/ac', 'st/ac', 'US bu/ac', 'imperial bu/ac'])
      expect(targetUnits).toContain(stem);
    for (const area of ['m²', 'ha', 'ft²', 'ac', 'm of row', 'ft of row']) {
      expect(targetUnits).toContain(`live seeds/${area}`);
    }
    for (const area of ['m²', 'ha', 'ft²', 'yd²', 'ac', 'm of row', 'ft of row'])
      expect(targetUnits).toContain(`plants/${area}`);
  });

  it('refuses bushels without the mass of one, and figures that cannot be', () => {
    refused(() => rateFromTarget(1.5, 'US bu/ac', { ...wheat, density: null }), 'too-few', 'density');
    refused(() => rateFromTarget(-1, 'kg/ha', wheat), 'out-of-range', 'figure');
    refused(() => rateFromTarget(Number.NaN, 'plants/m²', wheat), 'not-a-number', 'figure');
    refused(() => rateFromTarget(60_000, 'lb/ac', wheat), 'out-of-range', 'rate');
    refused(
      () => rateFromTarget(20, 'live seeds/ft of row', { ...wheat, rowSpacing: metres(0) }),
      'out-of-range',
      'rowSpacing',
    );
    refused(
      () => rateFromTarget(300, 'plants/m²', { ...wheat, establishment: 0 }),
      'out-of-range',
      'establishment',
    );
  });
});
