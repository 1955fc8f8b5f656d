import { describe, expect, it } from 'vitest';
import {
  addToClockWatch,
  type ClockWatch,
  clockFindings,
  noClockWatch,
} from '../../server/domain/trace/clock.ts';
import type { TraceReading } from '../../server/domain/trace/reading.ts';

/** A board at 80 readings a second whose wheel gives 20 pulses a second, and a host that ticks once a second. */
function readings(
  count: number,
  change: (reading: TraceReading, index: number) => TraceReading | null = (r) => r,
) {
  const all: TraceReading[] = [];
  for (let index = 0; index < count; index++) {
    const micros = index * 12_500;
    const reading = change(
      {
        micros,
        forward: Math.floor(micros / 50_000),
        backward: 0,
        ageMicros: micros % 50_000,
        cellGrams: [0],
        phase: 'turning',
        flags: 0,
        lost: 0,
        hostSeconds: 1000 + Math.floor(micros / 1e6),
      },
      index,
    );
    if (reading !== null) all.push(reading);
  }
  return all;
}

function watch(all: TraceReading[]): ClockWatch {
  return all.reduce(addToClockWatch, noClockWatch(20));
}

const findings = (all: TraceReading[]) => clockFindings(watch(all));
const pace =
  (by: number, from = 0) =>
  (reading: TraceReading, index: number) => {
    if (index < from) return reading;
    const since = from * 12_500;
    const micros = since + (reading.micros - since) * by;
    return { ...reading, micros, ageMicros: reading.ageMicros! * by };
  };

describe('a sound clock', () => {
  it('is not complained of over ten minutes', () => {
    expect(findings(readings(48_000))).toEqual([]);
  });

  it('is not blamed for lost lines, long gaps among them', () => {
    let lost = 0;
    const all = readings(4000, (reading, index) => {
      const gone = index % 97 < 3 || (index > 2000 && index < 2400);
      if (gone) lost++;
      return gone ? null : { ...reading, lost };
    });
    expect(findings(all)).toEqual([]);
  });

  it('is not blamed for a converter that is started anew, nor for a dead one that slows the readings for good', () => {
    const pausing = (at: number, by: number) => (reading: TraceReading, index: number) =>
      index < at ? reading : { ...reading, micros: reading.micros + by };
    expect(findings(readings(3000, pausing(1000, 60_000)))).toEqual([]);
    const dead = readings(8000).filter((_, index) => index < 1000 || index % 8 === 0);
    const told = dead.map((reading, index) => (index < 1000 ? reading : { ...reading, cellGrams: [null] }));
    expect(findings(told)).toEqual([]);
  });

  it('is not blamed for an oscillator within 1 % nor for ticks of the host that come late', () => {
    for (const by of [0.99, 1.01]) expect(findings(readings(20_000, pace(by)))).toEqual([]);
    const late = readings(20_000, (reading) => ({
      ...reading,
      hostSeconds: 1000 + Math.floor((reading.micros - (reading.micros % 7e6 < 1e6 ? 400_000 : 0)) / 1e6),
    }));
    expect(findings(late)).toEqual([]);
  });

  it('is not blamed for a host that slept', () => {
    const slept = readings(8000, (reading) => ({
      ...reading,
      hostSeconds: reading.hostSeconds! + (reading.micros > 30e6 ? 3600 : 0),
    }));
    expect(findings(slept)).toEqual([]);
  });
});

describe('clock trouble', () => {
  it('a leap of the board time without lost lines', () => {
    const all = readings(1000, (reading, index) =>
      index < 500 ? reading : { ...reading, micros: reading.micros + 2e6 },
    );
    const [finding, ...rest] = findings(all);
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ kind: 'clock-trouble', cell: null, spoils: false });
    expect(finding!.sentence).toContain('leapt by 2.01 s');
    expect(finding!.from.seconds).toBeCloseTo(8.25, 2);
  });

  it.each([0.5, 0.85, 1.15, 2])(
    'readings that suddenly come %d times as far apart, within a second',
    (by) => {
      const { troubles } = watch(
        readings(480, (reading, index) => ({ ...pace(by, 400)(reading, index), hostSeconds: null })),
      );
      expect(troubles.pace?.times).toBeGreaterThan(0);
    },
  );

  it('a board twice as fast as the computer, once they are a second apart', () => {
    const { troubles } = watch(readings(400, pace(2)));
    expect(troubles.rate!.first.seconds).toBeLessThan(5);
    expect(findings(readings(400, pace(2)))[0]!.sentence).toContain('faster than the computer');
  });

  it('readings that the run did not take in, since their time stood still', () => {
    const all = readings(300, (reading, index) => ({ ...reading, refused: index < 200 ? 0 : 1 }));
    expect(findings(all)[0]!.sentence).toContain('stood still');
  });

  it('ages of pulses that do not grow with the time', () => {
    const all = readings(300, (reading, index) => (index < 200 ? reading : { ...reading, ageMicros: 5000 }));
    expect(watch(all).troubles.age!.first.seconds).toBeLessThan(200 * 0.0125 + 0.2);
  });

  it('is plain data of bounded size', () => {
    const state = watch(readings(20_000, pace(1.3, 10_000)));
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
    expect(JSON.stringify(state).length).toBeLessThan(8000);
  });
});
