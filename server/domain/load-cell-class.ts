import { checked } from './error.ts';

/*
 * What a load cell of class C is held to, in its own verification intervals v (capacity over the number of intervals: a C3 cell of 5 kg has
 * 3 000 of them, v = 1.67 g). Source of everything here: OIML R 60-1:2021, READ in a public copy (metanorma/mn-samples-oiml, sources/r060/1).
 */

/** Share of a scale's permissible error that its cell may use up, unless the maker states another from 0.3 to 0.8. */
export const usualShare = 0.7;

/**
 * Largest error of a class C cell, either way, in intervals, at a `load` of so many intervals (0 to 10 000): share x 0.5, 1 or 1.5 up to
 * 500, 2 000 and 10 000. `share` from 0.3 to 0.8.
 * @throws DomainError `not-a-number`, `out-of-range`.
 */
export function loadCellError(load: number, share = usualShare): number {
  checked(load, { least: 0, most: 10_000 }, 'The load in intervals', 'load');
  checked(share, { least: 0.3, most: 0.8 }, 'The share of the error', 'share');
  return share * (load <= 500 ? 0.5 : load <= 2000 ? 1 : 1.5);
}

/** What a reading under constant load may wander, in intervals. */
export interface CreepLimits {
  /** From the moment of loading to 30 minutes later. */
  halfHour: number;
  /** From 20 to 30 minutes after loading. */
  lastTenMinutes: number;
}

/**
 * Creep that a class C cell may show under a constant `load` (in intervals, 0 to 10 000; tested at nine tenths of its capacity or more):
 * 0.7 of its permissible error in 30 minutes, 0.15 of it in the last ten.
 * @throws DomainError `not-a-number`, `out-of-range`.
 */
export function creepLimits(load: number, share = usualShare): CreepLimits {
  const error = loadCellError(load, share);
  return { halfHour: 0.7 * error, lastTenMinutes: 0.15 * error };
}

/** How far from its first zero a class C cell may be after half an hour under load, in intervals. */
export const zeroReturnLimit = 0.5;
