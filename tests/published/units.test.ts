import { describe, expect, it } from 'vitest';
import * as units from '../../server/domain/units.ts';

describe('units against their exact definitions', () => {
  // International yard and pound agreement, 1959: 1 in = 25.4 mm, 1 lb = 0.45359237 kg. From memory (high confidence).
  it('inch, foot, pound, ounce', () => {
    expect(units.metresFromInches(units.inches(1))).toBe(0.0254);
    expect(units.metresFromFeet(units.feet(1))).toBe(0.3048);
    expect(units.gramsFromPounds(units.pounds(1))).toBe(453.59237);
    expect(units.gramsFromOunces(units.ounces(16))).toBe(453.59237);
  });

  // 1 ac = 4 046.8564224 m²: CIA World Factbook, appendix G (copy at cs.fit.edu/~ryan/factbook), READ; and 43 560 ft² to the acre.
  it('acre', () => {
    expect(units.squareMetresFromAcres(units.acres(1))).toBe(4046.8564224);
    expect(43_560 * 0.3048 ** 2).toBeCloseTo(4046.8564224, 9);
  });

  // From the two definitions above: 0.45359237 kg / 0.40468564224 ha.
  it('1 lb/ac is 1.120851156194456 kg/ha', () => {
    const si = units.gramsPerSquareMetreFromPoundsPerAcre(units.poundsPerAcre(1));
    expect(units.kilogramsPerHectareFromGramsPerSquareMetre(si)).toBeCloseTo(1.120851156194456, 14);
  });

  it('1 kg/ha is 0.1 g/m²; 1 km/h is 1/3.6 m/s', () => {
    expect(units.gramsPerSquareMetreFromKilogramsPerHectare(units.kilogramsPerHectare(1))).toBe(0.1);
    expect(units.metresPerSecondFromKilometresPerHour(units.kilometresPerHour(3.6))).toBe(1);
  });

  // 1 mile = 5 280 ft, an hour 3 600 s.
  it('1 mph is 0.44704 m/s', () => {
    expect((5280 * 0.3048) / 3600).toBeCloseTo(0.44704, 15);
    expect(units.metresPerSecondFromMilesPerHour(units.milesPerHour(1))).toBe(0.44704);
  });
});
