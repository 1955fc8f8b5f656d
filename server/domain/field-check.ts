import { checked, DomainError } from './error.ts';
import type { DrillGeometry } from './geometry.ts';
import type { Interval } from './poisson.ts';
import { percent } from './share.ts';
import { combineDoubts, type Doubt, halfWidthOfAll } from './statistics.ts';
import { type BudgetPart, type BudgetPartName, doubtsOf } from './uncertainty.ts';
import {
  type Grams,
  type GramsPerSquareMetre,
  grams,
  gramsPerSquareMetre,
  type Metres,
  type SquareMetres,
  squareMetres,
} from './units.ts';

/**
 * The rate in the field against the rate on the stand. On jack stands the wheel neither slips nor sinks, nothing shakes and the hopper
 * is level; in the field all that differs. Seed used over area sown tells by how much, as far as both are known.
 */

/** Ground that was sown, each with its standard doubts in its own unit, 0 or more. */
export type SownArea =
  /** Known as it is: from a map or a satellite receiver. */
  | { kind: 'measured'; area: SquareMetres; doubt: number }
  /** Way driven times a working width that was taped. */
  | { kind: 'driven'; distance: Metres; distanceDoubt: number; width: Metres; widthDoubt: number }
  /** Way driven times rows times the row spacing that the stand's rate rests on too. */
  | { kind: 'rows'; distance: Metres; distanceDoubt: number; rows: number };

/** What was done in the field. */
export interface FieldCheck {
  /** How people call it: 'the north field'. */
  name: string;
  /** More than 0. */
  used: Grams;
  /** Standard doubt of it, grams, 0 or more; without that of the slope where it was weighed on the stand's own scale. */
  usedDoubt: number;
  /** Weighed on the scale that weighed the catches. */
  onStandScale: boolean;
  area: SownArea;
}

/** The rate that the stand gave at the setting sown with. */
export interface StandRate {
  /** More than 0. */
  rate: GramsPerSquareMetre;
  /** Its budget; for repeated runs the run-to-run parts are those of their mean. */
  parts: readonly BudgetPart[];
  /** The drill's figures that it rests on. */
  geometry: DrillGeometry;
}

/** A field check held against the stand. */
export interface FieldFactor extends Interval {
  name: string;
  fieldRate: GramsPerSquareMetre;
  /** Field rate over the stand's rate; `low` and `high` hold what to expect of it next time. */
  factor: number;
  /** Relative doubt of the field rate. */
  field: Doubt;
  /** Relative doubt of the stand's rate from what differs between its runs; what they share repeats next time and cancels. */
  stand: Doubt;
  /** The factor differs from 1 beyond doubt. */
  beyondDoubt: boolean;
  /** What to multiply the wanted rate by before setting the stand to it; null while the difference is not beyond doubt. */
  correction: number | null;
  /** Slip of the wheel if slip were all there is to it, a fraction; negative where the field got more. */
  slip: { value: number } & Interval;
  /** So far off that a mistake is likelier than slip. */
  suspicious: boolean;
  sentence: string;
}

/**
 * Field rates over stationary ones for five crops and a fluted meter: sorghum 0.95, millet 0.88, sesame 0.96, sunflower 0.95, cotton 0.85.
 * Source: L. A. Yousif, Gezira Journal of Agricultural Science, article 575 (READ).
 */
export const publishedFactors = { low: 0.85, high: 0.96 } as const;

/** Outside of these a mistake is likelier. Common practice, no source: twice as far from 1 as the published ones, and a tenth above. */
const plausibleFactors = { low: 0.7, high: 1.1 } as const;

/**
 * Seed used: what was `filled` in (each 0 or more, one at least) less what was `left` (0 or more).
 * @throws DomainError `too-few` for no filling, `inconsistent` when no less is left than was filled in.
 */
export function seedUsed(filled: readonly Grams[], left: Grams): Grams {
  if (filled.length === 0) {
    throw new DomainError('too-few', 'Say how much seed was filled in.', 'filled');
  }
  const sum = filled.reduce(
    (total, each) => total + checked(each, { least: 0 }, 'The seed filled in', 'filled'),
    0,
  );
  checked(left, { least: 0 }, 'The seed left', 'left');
  if (left >= sum) {
    throw new DomainError(
      'inconsistent',
      'As much seed is left as was filled in, or more: weigh again, or add what was filled in meanwhile.',
      'left',
    );
  }
  return grams(sum - left);
}

/** An area with its relative doubt. */
interface KnownArea {
  area: SquareMetres;
  relative: number;
}

/**
 * Area that was sown: as given, distance x width, or distance x rows x row spacing, with its relative standard doubt. The doubt of the
 * row spacing itself is not in it. Source: law of propagation, JCGM 100:2008, 5.1.6.
 * @throws DomainError for lengths, areas or rows not above 0, or doubts below 0.
 */
export function areaSown(sown: SownArea, geometry: DrillGeometry): KnownArea {
  if (sown.kind === 'measured') {
    checked(sown.area, { above: 0 }, 'The area', 'area');
    return {
      area: sown.area,
      relative: checked(sown.doubt, { least: 0 }, 'The doubt of the area', 'doubt') / sown.area,
    };
  }
  checked(sown.distance, { above: 0 }, 'The distance driven', 'distance');
  checked(sown.distanceDoubt, { least: 0 }, 'The doubt of the distance', 'distanceDoubt');
  const way = sown.distanceDoubt / sown.distance;
  if (sown.kind === 'driven') {
    checked(sown.width, { above: 0 }, 'The working width', 'width');
    checked(sown.widthDoubt, { least: 0 }, 'The doubt of the width', 'widthDoubt');
    return {
      area: squareMetres(sown.distance * sown.width),
      relative: Math.hypot(way, sown.widthDoubt / sown.width),
    };
  }
  checked(sown.rows, { least: 1 }, 'The number of rows', 'rows');
  checked(geometry.rowSpacing, { above: 0 }, 'The row spacing', 'rowSpacing');
  return { area: squareMetres(sown.distance * sown.rows * geometry.rowSpacing), relative: way };
}

/** Parts of the stand's common doubt that the field's own figures rest on too. */
function sharedParts(check: FieldCheck): BudgetPartName[] {
  const shared: BudgetPartName[] = [];
  if (check.onStandScale) {
    shared.push('scale');
  }
  if (check.area.kind === 'rows') {
    shared.push('row-spacing');
  }
  return shared;
}

const together = (doubts: readonly Doubt[]): Doubt => combineDoubts([exactly, ...doubts]);
const exactly: Doubt = { standard: 0, degreesOfFreedom: Number.POSITIVE_INFINITY };

/**
 * Holds a field check against the stand's rate at the same setting, at the `confidence` (above 0, below 1).
 *
 * For the correction, what all runs on the stand share (circumference, slip, row spacing, scale) repeats next time and cancels; the
 * doubts of the field and of the stand's own repeating remain. For the slip it is the other way round: there the shared parts do count,
 * but for those that the field's figures rest on too, which cancel in the ratio, and for the slip that was set, which is replaced:
 * slip = 1 - factor x (1 - slip set).
 * Source: ratio of two rates, law of propagation, JCGM 100:2008, 5.1.6, taken in logarithms; correlated inputs 5.2.2.
 * @throws DomainError for figures that cannot be.
 */
export function compareField(stand: StandRate, check: FieldCheck, confidence = 0.95): FieldFactor {
  checked(stand.rate, { above: 0 }, "The stand's rate", 'rate');
  checked(check.used, { above: 0 }, 'The seed used', 'used');
  checked(check.usedDoubt, { least: 0 }, 'The doubt of the seed used', 'usedDoubt');
  checked(stand.geometry.slip, { least: 0, below: 1 }, 'The wheel slip', 'slip');
  const { area, relative } = areaSown(check.area, stand.geometry);
  const shared = sharedParts(check);
  const own: Doubt = { ...exactly, standard: Math.hypot(relative, check.usedDoubt / check.used) };
  const run = doubtsOf(stand.parts.filter((part) => !part.common));
  const common = stand.parts.filter((part) => part.common);
  const repeated = doubtsOf(common.filter((part) => shared.includes(part.part)));
  const counted = doubtsOf(common.filter((part) => part.part !== 'slip' && !shared.includes(part.part)));
  const factor = check.used / area / stand.rate;
  const half = halfWidthOfAll([own, ...repeated, ...run], confidence);
  const slipHalf = halfWidthOfAll([own, ...counted, ...run], confidence);
  const rolled = factor * (1 - stand.geometry.slip);
  const beyondDoubt = Math.abs(Math.log(factor)) > half;
  const compared = {
    name: check.name,
    fieldRate: gramsPerSquareMetre(check.used / area),
    factor,
    low: factor * Math.exp(-half),
    high: factor * Math.exp(half),
    field: together([own, ...repeated]),
    stand: together(run),
    beyondDoubt,
    correction: beyondDoubt ? 1 / factor : null,
    slip: { value: 1 - rolled, low: 1 - rolled * Math.exp(slipHalf), high: 1 - rolled * Math.exp(-slipHalf) },
    suspicious: factor < plausibleFactors.low || factor > plausibleFactors.high,
  };
  return { ...compared, sentence: inWords(compared, half) };
}

function inWords(compared: Omit<FieldFactor, 'sentence'>, half: number): string {
  const { factor, low, high, correction, suspicious } = compared;
  const off = `The field got ${percent(Math.abs(factor - 1))} % ${factor < 1 ? 'less' : 'more'} than the stand said`;
  if (correction === null) {
    return `${off}. That is within the ${percent(half)} % that field and stand can be off by chance: leave the setting as it is, and check again over a larger area.`;
  }
  const ends = [low, high].map((end) => Math.abs(end - 1)).sort((a, b) => a - b);
  const range = `${percent(ends[0]!)} to ${percent(ends[1]!)} %`;
  const next = `Next time set the stand to ${correction.toFixed(3)} times the wanted rate`;
  return suspicious
    ? `${off} (${range}). So much is seldom slip: check area, seed left over and setting first. If all is right: ${next.charAt(0).toLowerCase()}${next.slice(1)}.`
    : `${off} (${range}), more than chance explains. ${next}.`;
}

/**
 * Rate to aim for on the stand so that the field gets `wanted` (0 to 500 g/m²): wanted / factor. `factor` 0.2 to 5.
 * @throws DomainError for figures out of range.
 */
export function standRateFor(wanted: GramsPerSquareMetre, factor: number): GramsPerSquareMetre {
  checked(wanted, { least: 0, most: 500 }, 'The wanted rate in grams a square metre', 'rate');
  checked(factor, { least: 0.2, most: 5 }, 'The field factor', 'factor');
  return gramsPerSquareMetre(wanted / factor);
}
