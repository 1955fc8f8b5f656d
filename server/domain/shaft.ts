import { checked } from './error.ts';
import { type Turns, turns } from './units.ts';

/**
 * Where the turns are counted, or cranked, at another shaft than the drive wheel's: how many turns of that shaft make one of the
 * wheel. Everything else is reckoned in turns of the wheel.
 */

/** One pair of sprockets or gears on the way from the drive wheel to the sensed shaft. Teeth, whole numbers from 1 to 1000. */
export interface GearPair {
  driving: number;
  driven: number;
}

const ratioBounds = { least: 0.001, most: 1000 };

/** `ratio` itself when drills have such: 0.001 to 1000 turns of the shaft for one of the wheel. @throws DomainError out of that range. */
export function checkedShaftRatio(ratio: number): number {
  return checked(ratio, ratioBounds, 'The turns of the shaft for one turn of the wheel', 'shaftRatio');
}

function checkedTeeth(teeth: number, field: string): number {
  return checked(teeth, { least: 1, most: 1000, whole: true }, 'The number of teeth or cells', field);
}

/**
 * Turns of the sensed shaft for one turn of the drive wheel, from the teeth of each pair on the way: product of driving / driven; 1 for
 * an empty list. Source: a chain or mesh moves as many teeth on the one side as on the other.
 * @throws DomainError for teeth that are not whole numbers from 1 to 1000, or a ratio outside 0.001 to 1000.
 */
export function shaftRatio(pairs: readonly GearPair[]): number {
  const ratio = pairs.reduce(
    (product, { driving, driven }) =>
      (product * checkedTeeth(driving, 'driving')) / checkedTeeth(driven, 'driven'),
    1,
  );
  return checkedShaftRatio(ratio);
}

/**
 * Turns of the drive wheel that turns of the sensed shaft stand for, at `ratio` shaft turns a wheel turn (0.001 to 1000).
 * @throws DomainError for a ratio out of range.
 */
export function wheelTurnsFromShaft(shaftTurns: Turns, ratio: number): Turns {
  return turns(shaftTurns / checkedShaftRatio(ratio));
}

/** Turns to make at the shaft for turns of the drive wheel, at `ratio` (0.001 to 1000). @throws DomainError for a ratio out of range. */
export function shaftTurnsFromWheel(wheelTurns: Turns, ratio: number): Turns {
  return turns(wheelTurns * checkedShaftRatio(ratio));
}

/**
 * Largest part of a catch, as a fraction, that starting and stopping between two flutes or cells can make: one cell of all that go by,
 * 1 / (wheel turns x ratio x cells). `ratio`: turns of the metering shaft for one of the wheel (0.001 to 1000); `cells` a whole number
 * from 1 to 1000; wheel turns more than 0.
 * Source: the meter empties whole cells; where within one it starts and stops is chance.
 * @throws DomainError for figures out of range.
 */
export function cellRounding(wheelTurns: Turns, ratio: number, cells: number): number {
  checked(wheelTurns, { above: 0 }, 'The number of turns', 'turns');
  return 1 / (wheelTurns * checkedShaftRatio(ratio) * checkedTeeth(cells, 'cells'));
}
