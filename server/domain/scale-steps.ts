import type { CheckMass } from './check-masses.ts';
import { checked, DomainError } from './error.ts';
import { checkedValues } from './sample.ts';

/*
 * What goes into the calibration of a scale: check masses, and the weighings made with them in the order they were made.
 *
 * Gravity and buoyancy of the air are left out, and may be. Masses and seed are weighed on the same spot, so that gravity cancels. Weights carry
 * their conventional mass, what they balance at in air of 1.2 kg/m³ against 8000 kg/m³ (OIML D 28:2004); seed is bought, tabulated and metered by
 * what it weighs in air on scales set with such weights, so that the same convention stands on both sides of a rate. Corrected to true mass, seed of
 * 1002 to 1460 kg/m³ (Nelson, Trans. ASAE 45 (2002) 165-170) would be 0.07 to 0.10 % more (1.2/1002 - 1.2/8000, 1.2/1460 - 1.2/8000); weather changes
 * that by about a tenth of itself (from memory).
 */

/** A change of the counts over one weighing, with its standard error. */
export interface CountShift {
  counts: number;
  standardError: number;
}

/** One weighing of a calibration. */
export interface CalibrationStep {
  /** Names of the check masses on the scale, none for the empty one. What always hangs there (hook, holder) belongs to the empty scale. */
  masses: readonly string[];
  /** Mean of the converter's counts; several cells under one bag: of their weighted sum. */
  counts: number;
  /** Standard error of that mean from the readings' own noise, counts, from 0. */
  standardError: number;
  /** How the counts moved while they were averaged, if known: shows creep. */
  drift?: CountShift;
}

/** Whether a load was come to from a lighter one or from a heavier one. */
export type Direction = 'up' | 'down';

/** A step with its load worked out. */
export interface LoadedStep extends CalibrationStep {
  /** Sum of the masses on the scale, grams. */
  load: number;
  direction: Direction;
}

function checkMasses(masses: readonly CheckMass[]): void {
  const names = new Set<string>();
  for (const { name, grams, standardDoubt } of masses) {
    checked(grams, { above: 0, most: 1e6 }, `The mass of the ${name} check mass`, 'masses');
    checked(
      standardDoubt,
      { least: 0, most: grams / 10 },
      `The doubt of the ${name} check mass, in grams,`,
      'masses',
    );
    if (names.has(name)) {
      throw new DomainError(
        'inconsistent',
        `Two check masses are called ${name}: give each a name.`,
        'masses',
      );
    }
    names.add(name);
  }
}

function loadOf(step: CalibrationStep, masses: ReadonlyMap<string, number>): number {
  if (new Set(step.masses).size < step.masses.length) {
    throw new DomainError('inconsistent', 'A check mass can lie on the scale only once at a time.', 'steps');
  }
  return step.masses.reduce((sum, name) => {
    const grams = masses.get(name);
    if (grams === undefined) {
      throw new DomainError('inconsistent', `No check mass is called ${name}.`, 'steps');
    }
    return sum + grams;
  }, 0);
}

/**
 * The `steps` with their loads and the direction each was come to from (the first: up).
 * @throws DomainError for masses not above 0 or with doubts of more than a tenth of them, names used twice or unknown, counts that are none.
 */
export function loadedSteps(
  masses: readonly CheckMass[],
  steps: readonly CalibrationStep[],
): readonly LoadedStep[] {
  checkMasses(masses);
  const known = new Map(masses.map(({ name, grams }) => [name, Number(grams)]));
  const loaded: LoadedStep[] = [];
  for (const step of steps) {
    checkedValues([step.counts, step.drift?.counts ?? 0], 2, 'The counts of a weighing', 'steps');
    checked(step.standardError, { least: 0 }, 'The standard error of a weighing', 'steps');
    checked(step.drift?.standardError ?? 0, { least: 0 }, 'The standard error of a drift', 'steps');
    const load = loadOf(step, known);
    const before = loaded.at(-1);
    const direction =
      before === undefined || load > before.load ? 'up' : load < before.load ? 'down' : before.direction;
    loaded.push({ ...step, load, direction });
  }
  return loaded;
}

/** All steps at one load, with the mean of their counts. */
export interface LoadLevel {
  load: number;
  counts: number;
  steps: readonly LoadedStep[];
}

/** The steps gathered by load, rising. Loads that differ by rounding alone count as one. */
export function loadLevels(steps: readonly LoadedStep[]): readonly LoadLevel[] {
  const groups = new Map<string, LoadedStep[]>();
  for (const step of steps) {
    const key = step.load.toPrecision(10);
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  return [...groups.values()]
    .map((group) => ({
      load: group[0]!.load,
      counts: group.reduce((sum, { counts }) => sum + counts, 0) / group.length,
      steps: group,
    }))
    .sort((a, b) => a.load - b.load);
}

/** What lies on the scale, in words. */
export function nameOfLoad(masses: readonly string[]): string {
  return masses.length === 0 ? 'the empty scale' : masses.join(' + ');
}

/**
 * Refuses steps that no line can be drawn through: no empty scale, a single load, counts that do not follow the load one way. With `falling`
 * they must fall as the load grows, else rise.
 * @throws DomainError `too-few`, `inconsistent`, with a sentence that names the load at fault.
 */
export function checkLevels(levels: readonly LoadLevel[], falling: boolean): void {
  if (levels.length === 0 || levels[0]!.load !== 0) {
    throw new DomainError('too-few', 'Weigh the empty scale too: without a zero there is no line.', 'steps');
  }
  if (levels.length < 3) {
    throw new DomainError(
      'too-few',
      'One check mass and zero always fit a line, right or wrong: weigh a second, different mass, better five.',
      'steps',
    );
  }
  const sign = falling ? -1 : 1;
  const rises = levels
    .slice(1)
    .map((level, i) => ({ lower: levels[i]!, upper: level, by: sign * (level.counts - levels[i]!.counts) }));
  if (rises.every(({ by }) => by < 0)) {
    throw new DomainError(
      'inconsistent',
      `The counts ${falling ? 'rise' : 'fall'} as the load grows: the cell is the other way up or two of its wires are swapped. Mend it, or say that it is meant so.`,
      'steps',
    );
  }
  const wrong = rises.find(({ by }) => !(by > 0));
  if (wrong !== undefined) {
    const [less, more] = [wrong.lower, wrong.upper].map(({ steps }) => nameOfLoad(steps[0]!.masses));
    throw new DomainError(
      'inconsistent',
      `With ${more} the scale shows no more than with ${less}. Check which mass is which, and that nothing touches.`,
      'steps',
    );
  }
}
