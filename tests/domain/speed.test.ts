import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addToPace,
  addToSpeed,
  noPace,
  placeIn,
  type SpeedState,
  speedBand,
  turnsBetweenPulses,
  turnsPerMinuteNow,
  unknownSpeed,
} from '../../server/domain/speed.ts';

/** Readings 80 times a second of a wheel that stands at `turnsAt(second)`. */
function follow(turnsAt: (second: number) => number, pulsesPerTurn: number, seconds: number): SpeedState[] {
  const states: SpeedState[] = [];
  let state = unknownSpeed;
  let net = Math.floor(turnsAt(0) * pulsesPerTurn);
  let pulseSecond = Number.NEGATIVE_INFINITY;
  for (let step = 1; step <= seconds * 800; step += 1) {
    const second = step / 800;
    const now = Math.floor(turnsAt(second) * pulsesPerTurn);
    if (now !== net) {
      net = now;
      pulseSecond = second;
    }
    if (step % 10 === 0) {
      const age = second - pulseSecond;
      state = addToSpeed(state, second, net, age < 10 ? age : null);
      states.push(state);
    }
  }
  return states;
}

const last = (states: SpeedState[]) => states[states.length - 1]!;

describe('the speed of the wheel', () => {
  it('is unknown until two pulses were seen', () => {
    expect(turnsPerMinuteNow(unknownSpeed, 24)).toBeNull();
    expect(turnsPerMinuteNow(last(follow(() => 0.5, 24, 2)), 24)).toBeNull();
    expect(turnsPerMinuteNow(last(follow((s) => 0.5 + s / 60, 1, 35)), 1)).toBeNull();
  });

  it('is what the wheel does, with many pulses to the turn or one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 15, max: 90, noNaN: true }),
        fc.constantFrom(1, 4, 24, 360),
        (turnsPerMinute, pulsesPerTurn) => {
          const state = last(follow((s) => (s * turnsPerMinute) / 60, pulsesPerTurn, 12));
          expect(turnsPerMinuteNow(state, pulsesPerTurn)! / turnsPerMinute).toBeCloseTo(1, 1);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('follows a change within about a second', () => {
    const states = follow((s) => (s < 3 ? s * 0.5 : 1.5 + (s - 3)), 24, 5);
    expect(turnsPerMinuteNow(states[80 * 3 - 1]!, 24)).toBeCloseTo(30, 0);
    expect(turnsPerMinuteNow(states[80 * 4 + 20]!, 24)! / 60).toBeCloseTo(1, 1);
  });

  it('falls to zero once the wheel stands, and stays there', () => {
    const states = follow((s) => Math.min(s * 0.75, 2.25), 24, 16);
    expect(turnsPerMinuteNow(states[Math.round(80 * 4.2)]!, 24)).toBe(0);
    expect(turnsPerMinuteNow(last(states), 24)).toBe(0);
  });

  it('with one pulse to the turn does not take the wait between pulses for a stand', () => {
    const states = follow((s) => s * 0.5, 1, 12);
    expect(states.slice(80 * 7).every((state) => (state.pulsesPerSecond ?? 0) > 0)).toBe(true);
  });

  it('is negative for a wheel that goes backwards', () => {
    expect(turnsPerMinuteNow(last(follow((s) => 10 - s * 0.5, 24, 5)), 24)).toBeCloseTo(-30, 0);
  });
});

describe('turns between pulses', () => {
  it('come nearer to the wheel than the bare count', () => {
    const states = follow((s) => s * 0.5, 4, 8);
    let bare = 0;
    let between = 0;
    states.slice(240).forEach((state, index) => {
      const second = (241 + index) / 80;
      const true_ = second * 0.5;
      const net = Math.floor(true_ * 4 + 1e-9);
      const age = (true_ * 4 - net) / 2;
      bare = Math.max(bare, Math.abs(net / 4 - true_));
      between = Math.max(between, Math.abs(turnsBetweenPulses(state, net, age, 4) - true_));
    });
    expect(bare).toBeGreaterThan(0.2);
    expect(between).toBeLessThan(0.02);
  });

  it('never run on by more than a pulse', () => {
    const state = last(follow((s) => s * 0.5, 4, 8));
    expect(turnsBetweenPulses(state, 10, 1000, 4)).toBe(11 / 4);
    expect(turnsBetweenPulses(unknownSpeed, 10, null, 4)).toBe(10 / 4);
  });
});

describe('the planned speed', () => {
  // 2 m/s on a wheel of 2.5 m to the turn: 0.8 turns a second.
  const band = speedBand(2, 2.5, 0.1);

  it('is a band of turns per minute', () => {
    expect(band.low).toBeCloseTo(43.2, 9);
    expect(band.high).toBeCloseTo(52.8, 9);
    expect([40, 43.3, 52.7, 53].map((speed) => placeIn(band, speed))).toEqual([
      'slow',
      'on-plan',
      'on-plan',
      'fast',
    ]);
  });

  it('was kept for a share of the turns', () => {
    let pace = noPace;
    for (const [turns, speed] of [
      [1, 30],
      [2, 48],
      [0.5, null],
      [0.5, 60],
    ] as const) {
      pace = addToPace(pace, band, turns, speed);
    }
    expect(pace).toEqual({ turns: 4, onPlan: 2 });
  });
});
