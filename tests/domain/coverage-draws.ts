import { compareField, type StandRate } from '../../server/domain/field-check.ts';
import { combineFieldChecks } from '../../server/domain/field-checks.ts';
import type { DrillGeometry } from '../../server/domain/geometry.ts';
import { germinationInterval } from '../../server/domain/germination.ts';
import { grubbsTest } from '../../server/domain/grubbs.ts';
import { pooledRepeatability } from '../../server/domain/repeatability.ts';
import { type RepeatedRun, summarizeRepeats } from '../../server/domain/repeats.ts';
import { type RowNoise, summarizeRows, variationOf } from '../../server/domain/rows.ts';
import type { Doubt } from '../../server/domain/statistics.ts';
import {
  type BudgetPart,
  type BudgetPartName,
  catchBudget,
  type GeometryDoubts,
  rateInterval,
} from '../../server/domain/uncertainty.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres, turns } from '../../server/domain/units.ts';
import { poissonDraw, shareOf, uniformsFrom } from './draws.ts';
import { noiseFrom } from './noise.ts';

/**
 * How often a stated interval holds the truth, over seeded draws of the thing itself: drill and scale drawn about what their user believes, seed
 * by seed where seeds matter. Each function gives the share of `draws`; all intervals are those of 95 %.
 */

/** 20 000 with CATCHBENCH_WHOLE=1. */
const draws = process.env.CATCHBENCH_WHOLE === '1' ? 20_000 : 8000;
const endless = Number.POSITIVE_INFINITY;

const within = (truth: number, { low, high }: { low: number; high: number }) => low <= truth && truth <= high;

/** A standard deviation as found from so many degrees of freedom where the true one is `standard`. */
function estimated(standard: number, degreesOfFreedom: number, normal: () => number): Doubt {
  let squares = 0;
  for (let each = 0; each < degreesOfFreedom; each += 1) squares += normal() ** 2;
  return { standard: standard * Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom };
}

/** What makes a single catch uncertain: relative or, for the weighing, grams; `weighingFreedom`: readings its noise is known from, less 1. */
export interface CatchNoise {
  weighing: number;
  weighingFreedom: number;
  slip: number;
  circumference: number;
  repeatability: number;
}

const believed: DrillGeometry = {
  circumference: metres(2.4),
  rowSpacing: metres(0.19),
  rowsCaught: 1,
  slip: 0.05,
};
const peaGrams = 0.25;

/** A rate of 12 g/m² of peas caught over 20 turns, some 440 seeds. */
export function rateFromCatchHolds(noise: CatchNoise, seed: number): number {
  const normal = noiseFrom(seed);
  const uniform = uniformsFrom(seed);
  const doubts: GeometryDoubts = {
    circumference: noise.circumference * believed.circumference,
    rowSpacing: 0.001,
    slip: noise.slip,
  };
  const rate = 12;
  return shareOf(draws, () => {
    const way =
      (believed.circumference + doubts.circumference * normal()) /
      (1 - believed.slip - doubts.slip * normal());
    const area = 20 * way * (believed.rowSpacing + doubts.rowSpacing * normal());
    const expected = (rate * area * (1 + noise.repeatability * normal())) / peaGrams;
    const fallen = peaGrams * poissonDraw(uniform, expected);
    const caught = fallen * (1 + 0.002 * normal()) + noise.weighing * normal();
    const counted = 20 + 0.03 * normal();
    const parts = catchBudget(believed, doubts, {
      caught: grams(caught),
      weighing: estimated(noise.weighing, noise.weighingFreedom, normal),
      scaleSlope: 0.002,
      turns: turns(counted),
      turnsDoubt: 0.03,
      lumpiness: grams(peaGrams),
      repeatability: noise.repeatability,
    });
    const area0 = (counted * believed.circumference * believed.rowSpacing) / (1 - believed.slip);
    return within(rate, rateInterval(gramsPerSquareMetre(caught / area0), parts));
  });
}

const part = (name: BudgetPartName, relative: number, common = false): BudgetPart => ({
  part: name,
  relative,
  degreesOfFreedom: endless,
  common,
});

/** `count` runs at one setting of a drill that gives 10 g/m² times `shared`: spread 2 % from run to run, of which 1 % is chance. */
function runsOf(count: number, shared: number, sharedDoubt: number, normal: () => number): RepeatedRun[] {
  const parts = [part('seed-sampling', 0.01), part('circumference', sharedDoubt, true)];
  return Array.from({ length: count }, () => ({
    name: 'a run',
    rate: gramsPerSquareMetre(10 * shared * (1 + 0.02 * normal())),
    parts,
  }));
}

/** Mean of `count` runs with a doubt common to all of so many times that from run to run: the true rate, and the rate on this drill alone. */
export function repeatsHold(
  count: number,
  common: number,
  seed: number,
): { field: number; comparing: number } {
  const normal = noiseFrom(seed);
  const sharedDoubt = (common * 0.02) / Math.sqrt(count);
  let comparing = 0;
  const field = shareOf(draws, () => {
    const shared = 1 + sharedDoubt * normal();
    const { interval, forComparing } = summarizeRepeats(runsOf(count, shared, sharedDoubt, normal));
    comparing += Number(within(10 * shared, forComparing));
    return within(10, interval);
  });
  return { field, comparing: comparing / draws };
}

/** Mean of two runs with repeatability known from three runs at each of four settings before. */
export function informedRepeatsHold(seed: number): number {
  const normal = noiseFrom(seed);
  return shareOf(draws, () => {
    const before = Array.from({ length: 4 }, () => runsOf(3, 1, 0, normal));
    const { prior } = pooledRepeatability(before);
    const runs = runsOf(2, 1, 0, normal);
    return within(10, summarizeRepeats(runs, { prior, confidence: 0.95 }).forComparing);
  });
}

/** What the rows' figures hold: their real spread, and how often rows are called uneven. */
export interface RowsHold {
  real: number;
  uneven: number;
}

/** `count` rows of a drill whose rows truly spread by `spread`, 40 g of peas each, 160 seeds. */
export function rowsHold(count: number, spread: number, seed: number): RowsHold {
  const normal = noiseFrom(seed);
  const uniform = uniformsFrom(seed);
  const noise: RowNoise = { lumpiness: grams(peaGrams), cellSlope: 0.005, repeatability: 0, turns: 0 };
  let uneven = 0;
  const real = shareOf(draws, () => {
    const rows = Array.from({ length: count }, (_, index) => {
      const fallen = peaGrams * poissonDraw(uniform, (40 / peaGrams) * (1 + spread * normal()));
      const caught = fallen * (1 + 0.005 * normal()) + 0.2 * normal();
      return { name: `row ${index}`, caught: grams(Math.max(0, caught)), turns: turns(20), weighing: 0.2 };
    });
    const summary = summarizeRows(rows, noise);
    uneven += Number(summary.verdict.beyondChance);
    return within(spread, summary.real);
  });
  return { real, uneven: uneven / draws };
}

/** Coefficient of variation of `count` values that truly have `variation`. */
export function variationHolds(count: number, variation: number, seed: number): number {
  const normal = noiseFrom(seed);
  return shareOf(draws, () => {
    const values = Array.from({ length: count }, () => 1 + variation * normal());
    return within(variation, variationOf(values));
  });
}

/** A field check against a stand of 10 g/m²: the factor next time, and the slip. Truly 6 % slip and a further 4 % of drift. */
export function fieldCheckHolds(seed: number): { factor: number; slip: number } {
  const normal = noiseFrom(seed);
  const slip = 0.06;
  const run = 0.012;
  const circumference = 0.015;
  let slips = 0;
  const factor = shareOf(draws, () => {
    const wheel = 1 + circumference * normal();
    // The wheel really covers more than believed, so that the stand states too much by as much; next time again.
    const truly = (1 - slip) / wheel;
    const stand: StandRate = {
      rate: gramsPerSquareMetre(10 * (1 + run * normal())),
      parts: [
        part('repeatability', run),
        part('circumference', circumference, true),
        part('slip', 0.03, true),
      ],
      geometry: { ...believed, slip: 0 },
    };
    const check = compareField(stand, {
      name: 'a field',
      used: grams(100_000 * truly + 600 * normal()),
      usedDoubt: 600,
      onStandScale: false,
      area: { kind: 'measured', area: squareMetres(10_000 * (1 + 0.008 * normal())), doubt: 80 },
    });
    slips += Number(within(slip, check.slip));
    return within(truly, check);
  });
  return { factor, slip: slips / draws };
}

/** `count` field checks, each with its own stand result; the fields' factors spread by `spread` about 0.92. Doubts 1 to 3 %. */
export function combinedChecksHold(count: number, spread: number, seed: number): number {
  const normal = noiseFrom(seed);
  const uniform = uniformsFrom(seed);
  return shareOf(draws, () => {
    const checks = Array.from({ length: count }, () => {
      const doubt = 0.01 * 3 ** uniform();
      const stand: StandRate = { rate: gramsPerSquareMetre(10), parts: [], geometry: believed };
      return compareField(stand, {
        name: 'a field',
        used: grams(100_000 * 0.92 * Math.exp(spread * normal() + doubt * normal())),
        usedDoubt: 0,
        onStandScale: false,
        area: { kind: 'measured', area: squareMetres(10_000), doubt: 10_000 * doubt },
      });
    });
    return within(0.92, combineFieldChecks(checks, 'own'));
  });
}

/** A test of `tested` seeds from a lot that truly germinates at `germination`; always 20 000 draws, which cost little. */
export function germinationHolds(germination: number, tested: number, seed: number): number {
  const uniform = uniformsFrom(seed);
  const known = new Map<number, { low: number; high: number }>();
  return shareOf(20_000, () => {
    let germinated = 0;
    for (let each = 0; each < tested; each += 1) germinated += Number(uniform() < germination);
    const interval = known.get(germinated) ?? germinationInterval(germinated, tested);
    known.set(germinated, interval);
    return within(germination, interval);
  });
}

/** How often Grubbs' test at 5 % finds an outlier among `count` values that have none. */
export function grubbsAlarms(count: number, seed: number): number {
  const normal = noiseFrom(seed);
  return shareOf(draws, () => grubbsTest(Array.from({ length: count }, normal)).outlying);
}
