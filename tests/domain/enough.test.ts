import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gramsPerLitre, litres } from '../../server/domain/bulk-density.ts';
import { weighCountedSample } from '../../server/domain/counted-sample.ts';
import { countingDoubt, enoughTurns } from '../../server/domain/enough-turns.ts';
import { germinationInterval, germinationTolerance } from '../../server/domain/germination.ts';
import { mixByMass } from '../../server/domain/seed-mix.ts';
import { bagsFor, refillReach, seedForArea } from '../../server/domain/seed-needed.ts';
import {
  expectedCounts,
  seedsToCount,
  shareFromCount,
  turnsToVerifyShares,
} from '../../server/domain/species-count.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres } from '../../server/domain/units.ts';
import { poissonDraw, shareOf, uniformsFrom } from './draws.ts';
import { between, lotOf, near, refused } from './lots.ts';
import { noiseFrom } from './noise.ts';

const noise = {
  gramsPerTurn: grams(3.4),
  weighing: grams(0.05),
  counting: 0.01,
  lumpiness: grams(0.04),
  fixed: 0.005,
};
const sample = (weights: number[]) => ({
  weights: weights.map(grams),
  seedsEach: 100,
  scaleStep: grams(0),
  chaffy: false,
});

describe('counted samples', () => {
  it.each([2, 4, 8])('the interval of %s replicates covers 94 to 96 %% over 20 000 draws', (replicates) => {
    const normal = noiseFrom(replicates);
    const covered = shareOf(20_000, () => {
      const { low, high } = weighCountedSample(
        sample(Array.from({ length: replicates }, () => 4 + 0.1 * normal())),
      );
      return low <= 40 && 40 <= high;
    });
    expect(covered).toBeGreaterThan(0.94);
    expect(covered).toBeLessThan(0.96);
  });

  it('asks for more where replicates disagree, and leaves strays out of sixteen', () => {
    expect(weighCountedSample(sample([4, 4.5, 3.5, 4])).stands).toBe(false);
    const many = weighCountedSample(sample([...Array.from({ length: 15 }, (_, i) => 4 + 0.01 * (i % 3)), 6]));
    expect(many.strays).toEqual([15]);
    expect(many.thousandSeedWeight).toBeLessThan(40.2);
  });

  it('refuses one replicate and weights that are none', () => {
    refused(() => weighCountedSample(sample([4])), 'too-few', 'weights');
    refused(() => weighCountedSample(sample([4, 0])), 'out-of-range', 'weights');
    refused(() => weighCountedSample({ ...sample([4, 4]), seedsEach: 0 }), 'out-of-range', 'seedsEach');
  });
});

describe('enough turns', () => {
  it('are just enough: the catches drawn stay within tolerance 94 to 96 % of the time', () => {
    const quiet = { ...noise, fixed: 0 };
    const turns = enoughTurns(quiet, 0.05).turns!;
    const uniform = uniformsFrom(3);
    const normal = noiseFrom(3);
    const inside = shareOf(20_000, () => {
      const count = turns + quiet.counting * normal();
      const caught = 0.04 * poissonDraw(uniform, (3.4 * count) / 0.04) + quiet.weighing * normal();
      return Math.abs(caught / (3.4 * turns) - 1) <= 0.05;
    });
    expect(inside).toBeGreaterThan(0.94);
    expect(inside).toBeLessThan(0.96);
  });

  it('grow with every doubt and shrink with tolerance; the binding one is named', () => {
    fc.assert(
      fc.property(between(0.02, 0.2), between(1.1, 5), (tolerance, more) => {
        const once = enoughTurns(noise, tolerance).turns!;
        expect(enoughTurns({ ...noise, weighing: grams(0.05 * more) }, tolerance).turns!).toBeGreaterThan(
          once,
        );
        expect(enoughTurns({ ...noise, lumpiness: grams(0.04 * more) }, tolerance).turns!).toBeGreaterThan(
          once,
        );
        expect(enoughTurns(noise, Math.min(1, tolerance * more)).turns!).toBeLessThan(once);
      }),
    );
    expect(enoughTurns({ ...noise, weighing: grams(20) }, 0.05)).toMatchObject({ binds: 'scale' });
    expect(enoughTurns({ ...noise, counting: 2 }, 0.05)).toMatchObject({ binds: 'counting' });
    expect(enoughTurns({ ...noise, lumpiness: grams(1) }, 0.05)).toMatchObject({ binds: 'seed-sampling' });
    expect(enoughTurns({ ...noise, fixed: 0.1 }, 0.05)).toMatchObject({ binds: 'fixed', turns: null });
    near(countingDoubt(24), 1 / (24 * Math.sqrt(6)));
    refused(() => enoughTurns(noise, 0), 'out-of-range', 'tolerance');
    refused(() => enoughTurns({ ...noise, gramsPerTurn: grams(0) }, 0.05), 'out-of-range', 'gramsPerTurn');
  });
});

describe('counting a species out of a catch', () => {
  const mix = mixByMass(
    [
      { name: 'pea', lot: lotOf(200, 98, 90), share: 0.7 },
      { name: 'clover', lot: lotOf(3, 98, 80, 8), share: 0.3 },
    ],
    gramsPerSquareMetre(8),
  );

  it('an expected count gives its share back; few seeds take many turns', () => {
    const [pea, clover] = expectedCounts(mix, grams(1000));
    near(pea!.expected, (1000 * 0.7 * 0.98) / 0.2);
    expect(clover!.low).toBeLessThan(clover!.expected);
    near(shareFromCount(mix.parts[0]!.lot, 3430, grams(1000)).share, 0.7);
    const checks = turnsToVerifyShares(mix, grams(10), 0.1);
    expect(checks[0]!.turns).toBeGreaterThan(checks[1]!.turns);
    expect(seedsToCount(0.1)).toBe(423);
    expect(seedsToCount(0.05)).toBeGreaterThan(4 * 400);
    refused(() => seedsToCount(0), 'out-of-range', 'within');
    refused(() => shareFromCount(lotOf(3), -1, grams(10)), 'out-of-range', 'count');
  });
});

describe('seed needed, germination', () => {
  it('bags cover the need, by less than a bag; refills follow from volume and density', () => {
    fc.assert(
      fc.property(between(1, 1e7), between(100, 1e6), (needed, bag) => {
        const { bags, left } = bagsFor(grams(needed), grams(bag));
        near(bags * bag, needed + left, 1e-8);
        expect(left).toBeLessThan(bag);
      }),
    );
    near(seedForArea(gramsPerSquareMetre(10), squareMetres(10_000), 0.05), 105_000);
    expect(bagsFor(grams(105_000), grams(25_000)).bags).toBe(5);
    const hopper = { volume: litres(1000), density: gramsPerLitre(750), keepBack: 0.2 };
    const reach = refillReach(hopper, gramsPerSquareMetre(12), metres(3));
    near(reach.area, 50_000);
    near(reach.distance, 50_000 / 3);
    refused(() => refillReach(hopper, gramsPerSquareMetre(0), metres(3)), 'out-of-range', 'rate');
    refused(() => bagsFor(grams(5), grams(0)), 'out-of-range', 'bagMass');
    refused(() => seedForArea(gramsPerSquareMetre(1), squareMetres(-1), 0), 'out-of-range', 'area');
  });

  it('the exact germination interval holds the share, and refuses more seeds than were tested', () => {
    const { low, high } = germinationInterval(360, 400);
    expect(low < 0.9 && 0.9 < high).toBe(true);
    expect(germinationInterval(400, 400).high).toBe(1);
    near(germinationInterval(400, 400).low, 0.025 ** (1 / 400), 1e-9);
    refused(() => germinationInterval(401, 400), 'inconsistent', 'germinated');
    refused(() => germinationTolerance(1.05), 'out-of-range', 'germination');
  });
});
