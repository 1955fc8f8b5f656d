import type { Reading } from '../link/readings.ts';

/** The pattern of the wheel's pulses: which magnet gives none, which gives two, which stands off its place. */

/** The newest pulses' times, board microseconds. Where several came between two readings only the last is known: those before lie evenly. */
export interface Pulses {
  from: number;
  total: number;
  times: readonly number[];
}

/** Pulses kept: three turns of the finest disc that is told magnet by magnet. */
const mostTimes = 6000;

export const noPulses = (total: number): Pulses => ({ from: total, total, times: [] });

/** The pulses with what a reading adds; `total` counts those of the direction looked at. */
export function withPulses(pulses: Pulses, reading: Reading, total: number): Pulses {
  const fresh = total - pulses.total;
  if (fresh <= 0 || reading.pulseAgeMicros === null) return { ...pulses, total };
  const last = reading.boardMicros - reading.pulseAgeMicros;
  const before = pulses.times.at(-1) ?? last - fresh * 10_000;
  const step = (last - before) / fresh;
  const times = Array.from({ length: fresh }, (_, i) => before + (i + 1) * step);
  return { from: pulses.from, total, times: [...pulses.times, ...times].slice(-mostTimes) };
}

export interface WheelPattern {
  /** Pulses of one turn that the pattern was laid over. */
  perTurn: number;
  /** Places on the wheel, from the first pulse on, after which a pulse is missing, or at which one comes twice. */
  missingAfter: readonly number[];
  doubledAt: readonly number[];
  /** How far the worst of the others stands off its place, as a share of the spacing. */
  worstPlace: number;
  /** Shortest time between two pulses. */
  shortestMicros: number;
}

/** Of a gap against its neighbours; and of a second pulse of one magnet, which the gap behind it makes less short. */
const gapLog = Math.log(1.6);
const shortLog = Math.log(0.52);

/** How much longer each interval is than its neighbours, logarithm: a steady or a changing speed gives 0. */
function surprises(times: readonly number[]): number[] {
  const intervals = times.slice(1).map((time, i) => Math.log(Math.max(1, time - times[i]!)));
  return intervals.slice(1, -1).map((each, i) => each - (intervals[i]! + intervals[i + 2]!) / 2);
}

const placesWhere = (places: readonly number[], is: (surprise: number) => boolean): number[] =>
  places.flatMap((each, place) => (is(each) ? [place] : []));

/** The places, and those next to them. */
function around(places: readonly number[], perTurn: number): Set<number> {
  return new Set(places.flatMap((at) => [at - 1, at, at + 1]).map((at) => (at + perTurn) % perTurn));
}

/**
 * The pattern over `turns` turns, or null where too few pulses came to lay it over. A gap stands out by more than 1.6 times its neighbours; a
 * magnet seen again up to 0.35 of the spacing behind stands out the other way. A magnet late by a share f lengthens the interval before it and shortens the one after, which stands out by 1.5 f.
 */
export function wheelPattern(times: readonly number[], turns: number): WheelPattern | null {
  const perTurn = Math.round(times.length / turns);
  if (perTurn < 4 || times.length < 2 * perTurn) return null;
  const found = surprises(times);
  const places = Array.from({ length: perTurn }, (_, place) => {
    const here = found.filter((_, i) => (i + 2) % perTurn === place);
    return here.reduce((sum, each) => sum + each, 0) / here.length;
  });
  const doubledAt = placesWhere(places, (each) => each < shortLog);
  // The interval after a doubled pulse is short as well, but long beside it.
  const beside = around(doubledAt, perTurn);
  const ends = placesWhere(places, (each) => each > gapLog).filter((place) => !beside.has(place));
  const odd = new Set([...beside, ...around(ends, perTurn)]);
  const rest = places.filter((_, place) => !odd.has(place));
  const gaps = times.slice(1).map((time, i) => time - times[i]!);
  return {
    perTurn,
    missingAfter: ends.map((place) => (place + perTurn - 1) % perTurn),
    doubledAt,
    worstPlace: rest.reduce((most, each) => Math.max(most, Math.abs(each)), 0) / 1.5,
    shortestMicros: gaps.reduce((least, each) => Math.min(least, each), Number.POSITIVE_INFINITY),
  };
}
