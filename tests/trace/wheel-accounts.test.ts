import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TraceKnowledge, TraceReading } from '../../server/domain/trace/reading.ts';
import { countOf, evidence } from '../../server/domain/trace/wheel-accounts.ts';
import {
  addToWheelTrace,
  endOfWheelTrace,
  noWheelTrace,
  type WheelTrace,
  wheelFindings,
} from '../../server/domain/trace/wheel-trace.ts';

const knowledge: TraceKnowledge = {
  pulsesPerTurn: 24,
  cells: 1,
  expectedGramsPerTurn: 3,
  lumpinessGrams: 0.03,
  standingNoiseGrams: 0.05,
  drive: 'motor',
};

/** Readings 80 times a second of a wheel whose sensor gives pulses at `times`, seconds, in order. */
function readingsOf(times: number[]): TraceReading[] {
  const readings: TraceReading[] = [];
  const end = times.at(-1)! + 0.5;
  let forward = 0;
  for (let micros = 0; micros < end * 1e6; micros += 12_500) {
    while (forward < times.length && times[forward]! * 1e6 <= micros) forward++;
    const newest = forward === 0 ? null : Math.floor(micros - times[forward - 1]! * 1e6);
    readings.push({
      micros,
      forward,
      backward: 0,
      ageMicros: newest,
      cellGrams: [0],
      phase: 'turning',
      flags: 1,
      lost: 0,
    });
  }
  return readings;
}

const traced = (readings: TraceReading[]): WheelTrace =>
  readings.reduce(addToWheelTrace, noWheelTrace(knowledge));
/** Pulses of an even wheel, 20 a second. */
const even = (count: number) => Array.from({ length: count }, (_, index) => 1 + index / 20);

describe('accounts of what the sensor has shown', () => {
  it('of an even wheel hold nothing to be missed or false', () => {
    const { sense } = traced(readingsOf(even(480)));
    expect(evidence(sense.accounts, 'missed')).toBeLessThan(1);
    expect(evidence(sense.accounts, 'doubled')).toBeLessThan(1);
    expect(sense.accounts[0]).toMatchObject({ missed: 0, doubled: 0 });
  });

  it('count what is missed, and tell one place of the turn from many', () => {
    const gone = traced(readingsOf(even(481).filter((_, index) => index % 24 !== 11)));
    expect(countOf(gone.sense.accounts, 'missed')).toMatchObject({ mean: expect.closeTo(20, 0) });
    expect(wheelFindings(gone).map(({ kind }) => kind)).toEqual(['pulses-missed']);
    expect(wheelFindings(gone)[0]!.sentence).toContain('always at the same place of the turn');
    const scattered = traced(readingsOf(even(481).filter((_, index) => (index * 7) % 23 !== 11)));
    expect(wheelFindings(scattered)[0]!.sentence).toContain('at no fixed place of the turn');
    // Over many turns every place has its share.
    const often = traced(readingsOf(even(2000).filter((_, index) => (index * index * 7) % 101 > 8)));
    expect(wheelFindings(often)[0]!.sentence).toContain('at no fixed place of the turn');
  });

  it('count what is false, and say how soon it follows', () => {
    const times = even(480).flatMap((time, index) => (index % 17 === 9 ? [time, time + 0.008] : [time]));
    const [finding, ...rest] = wheelFindings(traced(readingsOf(times)));
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ kind: 'pulses-doubled', spoils: true });
    expect(finding!.sentence).toMatch(/about 28 \(± 1\) false pulses among 508/);
    expect(finding!.sentence).toContain('debounce');
  });

  it('tell the turns that the count is wrong by', () => {
    const [finding] = wheelFindings(traced(readingsOf(even(481).filter((_, index) => index % 24 !== 11))));
    // 20 pulses of 24 a turn.
    expect(finding!.sentence).toContain('0.83 turns more');
    expect(finding!.sentence).toContain('too high');
  });

  it('give the same instants to the digit, live or read again', () => {
    const readings = readingsOf(even(300).filter((_, index) => index % 31 !== 5));
    const again = JSON.parse(JSON.stringify(traced(readings.slice(0, 700)))) as WheelTrace;
    const resumed = readings.slice(700).reduce(addToWheelTrace, again);
    expect(wheelFindings(endOfWheelTrace(resumed))).toEqual(wheelFindings(endOfWheelTrace(traced(readings))));
  });
});

/** Any readings at all in which nothing goes back. */
const anyReadings = fc.array(
  fc.record({
    wait: fc.oneof(fc.constant(12_500), fc.integer({ min: 0, max: 5_000_000 })),
    forward: fc.nat(6),
    backward: fc.oneof(fc.constant(0), fc.nat(4)),
    age: fc.oneof(fc.constant(null), fc.nat(9_999_998)),
    grams: fc.oneof(fc.constant(null), fc.double({ min: -1e6, max: 1e6, noNaN: true })),
    phase: fc.constantFrom('before' as const, 'turning' as const, 'after' as const),
    lost: fc.oneof(fc.constant(0), fc.nat(3)),
  }),
  { maxLength: 300 },
);

describe('whatever the readings', () => {
  it('findings keep to their contract, and the state stays small', () => {
    fc.assert(
      fc.property(anyReadings, (steps) => {
        let reading: TraceReading = { ...readingsOf([0])[0]!, forward: 0 };
        let state = noWheelTrace(knowledge);
        for (const { wait, forward, backward, age, grams, phase, lost } of steps) {
          reading = {
            ...reading,
            micros: reading.micros + wait,
            forward: reading.forward + forward,
            backward: reading.backward + backward,
            ageMicros: age,
            cellGrams: [grams],
            phase,
            lost: reading.lost + lost,
          };
          state = addToWheelTrace(state, reading);
        }
        expect(JSON.stringify(state).length).toBeLessThan(60_000);
        for (const { sure, evidence: picture, from, until } of wheelFindings(endOfWheelTrace(state))) {
          expect(sure).toBeGreaterThanOrEqual(0.5);
          expect(sure).toBeLessThanOrEqual(1);
          expect(until === null || until.seconds >= from.seconds).toBe(true);
          for (const { x, y } of picture.series) {
            expect(x.length).toBe(y.length);
            expect(x.length).toBeLessThanOrEqual(64);
            expect([...x, ...y].every(Number.isFinite)).toBe(true);
          }
        }
      }),
      { seed: 20_261_125, numRuns: 300 },
    );
  });
});
