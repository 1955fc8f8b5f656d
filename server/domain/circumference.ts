import { checked, DomainError } from './error.ts';
import { combineDoubts, type Doubt } from './statistics.ts';
import { type Metres, metres, type Turns } from './units.ts';

/**
 * How far the drive wheel goes in one turn, found in one of the ways at hand, each with its own doubt: a tape around the tyre, once or
 * several times; a roll-out of the loaded drill over several turns; turns counted in the field over a measured way. The later ways take
 * more effort and know more: the roll-out holds the squash of the tyre, the field count slip as well.
 */

/** A circumference as found. */
export interface FoundCircumference {
  /** Ground covered in one turn. */
  circumference: Metres;
  /** Standard uncertainty in metres, with its degrees of freedom. */
  doubt: Doubt;
  /** Slip is in it already: go on with a slip of 0 and no doubt of slip. */
  holdsSlip: boolean;
}

/**
 * Half-width, as a fraction, of what load and pressure may do to an air tyre that was taped unloaded: for `tapedCircumference`. Common
 * practice, no source. 0 for a steel or solid wheel.
 */
export const usualSquash = 0.02;

const wheelBounds = { above: 0, most: 20 };
const wayBounds = { above: 0, most: 10_000 };
const turnsBounds = { above: 0, most: 10_000 };
const never = Number.POSITIVE_INFINITY;

/** Standard deviation of what lies anywhere within `half` either way. Source: JCGM 100:2008, 4.3.7. */
const evenSpread = (half: number): number => half / Math.sqrt(3);

function checkedReadings(
  readings: readonly number[],
  bounds: typeof wheelBounds,
  subject: string,
  field: string,
) {
  if (readings.length === 0) {
    throw new DomainError('too-few', `${subject} is missing: measure it at least once.`, field);
  }
  for (const reading of readings) {
    checked(reading, bounds, subject, field);
  }
}

/**
 * Mean of readings and its doubt: from their spread, but never less than each is `known` to (a standard deviation), for equal readings
 * do not prove that reading is exact. Source: JCGM 100:2008, 4.2.3.
 */
function meanOf(readings: readonly number[], known: number): { mean: number; doubt: Doubt } {
  const count = readings.length;
  const mean = readings.reduce((sum, each) => sum + each, 0) / count;
  const squares = readings.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  const spread = count > 1 ? Math.sqrt(squares / (count - 1)) : 0;
  const seen = spread > known;
  return {
    mean,
    doubt: {
      standard: Math.max(spread, known) / Math.sqrt(count),
      degreesOfFreedom: seen ? count - 1 : never,
    },
  };
}

/**
 * Circumference from a `diameter` (above 0 to 20 m / pi): pi D. A diameter measured across a loaded tyre, or twice the axle's height, is
 * no good: the tread rolls longer than that. @throws DomainError for a diameter out of range.
 */
export function circumferenceFromDiameter(diameter: Metres): Metres {
  checked(diameter, { above: 0, most: 20 / Math.PI }, 'The diameter of the wheel in metres', 'diameter');
  return metres(Math.PI * diameter);
}

/**
 * Circumference by tape around the wheel: mean of one or more `readings` (each above 0 to 20 m), every one read `within` so many metres
 * (half-width, 0 to 1 m). `squash`: see `usualSquash`, a fraction from 0 to 0.2; it does not shrink with more readings.
 * @throws DomainError `too-few` for no reading, `out-of-range`, `not-a-number`.
 */
export function tapedCircumference(
  readings: readonly Metres[],
  within: Metres,
  squash = usualSquash,
): FoundCircumference {
  checkedReadings(readings, wheelBounds, 'The taped circumference in metres', 'readings');
  checked(within, { least: 0, most: 1 }, 'How closely the tape was read, in metres,', 'within');
  checked(squash, { least: 0, most: 0.2 }, 'The squash of the tyre as a fraction', 'squash');
  const { mean, doubt } = meanOf(readings, evenSpread(within));
  const squashed = { standard: evenSpread(squash * mean), degreesOfFreedom: never };
  return { circumference: metres(mean), doubt: combineDoubts([doubt, squashed]), holdsSlip: false };
}

/**
 * Circumference by rolling the loaded drill over firm ground: `distances` (each above 0 to 10 000 m), one or more, of the same number of
 * `turns` (above 0 to 10 000; several are better). Each of the two marks on the ground is good `within` so many metres (half-width, 0 to
 * 10 m).
 * @throws DomainError `too-few` for no distance, `out-of-range`, `not-a-number`.
 */
export function rolledCircumference(
  distances: readonly Metres[],
  turns: Turns,
  within: Metres,
): FoundCircumference {
  checkedReadings(distances, wayBounds, 'The distance rolled in metres', 'distances');
  checked(turns, turnsBounds, 'The number of turns', 'turns');
  checked(within, { least: 0, most: 10 }, 'How closely the marks were set, in metres,', 'within');
  const bothMarks = Math.SQRT2 * evenSpread(within);
  const { mean, doubt } = meanOf(
    distances.map((distance) => distance / turns),
    bothMarks / turns,
  );
  return { circumference: metres(mean), doubt, holdsSlip: false };
}

/**
 * Ground covered in one turn, slip and squash included, by counting: one or more `counts` of turns (each above 0 to 10 000) over the
 * same measured `distance` (above 0 to 10 000 m) with the drill at work. Each count is good `within` so many turns (half-width, 0 to 10).
 * Source: the way of Cover crop mixtures require properly calibrated grain drill, Southeast Farm Press: 19 turns in 145.2 ft.
 * @throws DomainError `too-few` for no count, `out-of-range`, `not-a-number`.
 */
export function countedCircumference(
  distance: Metres,
  counts: readonly Turns[],
  within: number,
): FoundCircumference {
  checked(distance, wayBounds, 'The distance driven in metres', 'distance');
  checkedReadings(counts, turnsBounds, 'The number of turns', 'counts');
  checked(within, { least: 0, most: 10 }, 'How closely the turns were counted', 'within');
  const { mean, doubt } = meanOf(counts, evenSpread(within));
  const circumference = metres(distance / mean);
  const standard = (circumference * doubt.standard) / mean;
  return { circumference, doubt: { ...doubt, standard }, holdsSlip: true };
}

/** A slip as found: a fraction of the way, with its doubt in the same unit. */
export interface FoundSlip {
  slip: number;
  doubt: Doubt;
}

/**
 * Slip of the drive wheel from a circumference without it (`rolled`) and one counted in the field (`counted`): q = 1 - rolled / counted.
 * A result below 0 by no more than three times its doubt counts as 0.
 * Source: a wheel that skips the fraction q of the way rolls (1 - q) of it; doubt by JCGM 100:2008, 5.1.6.
 * @throws DomainError `inconsistent` where the two are of the wrong kind, or the wheel would have rolled farther than the drill went.
 */
export function slipFromCircumferences(rolled: FoundCircumference, counted: FoundCircumference): FoundSlip {
  if (rolled.holdsSlip || !counted.holdsSlip) {
    throw new DomainError(
      'inconsistent',
      'Slip shows only between a circumference taped or rolled out and one counted in the field.',
      'counted',
    );
  }
  const ratio = rolled.circumference / counted.circumference;
  const doubt = combineDoubts(
    [rolled, counted].map(({ circumference, doubt: { standard, degreesOfFreedom } }) => ({
      standard: (ratio * standard) / circumference,
      degreesOfFreedom,
    })),
  );
  if (1 - ratio < -3 * doubt.standard) {
    throw new DomainError(
      'inconsistent',
      'By these figures the wheel rolled farther than the drill went: measure the circumference or count the turns again.',
      'rolled',
    );
  }
  return { slip: Math.max(0, 1 - ratio), doubt };
}
