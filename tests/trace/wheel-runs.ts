import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import type { Fault } from '../../firmware-sim/drill/faults.ts';
import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { idealBoard } from '../../firmware-sim/ideal-board.ts';
import type { TraceKnowledge, TraceReading } from '../../server/domain/trace/reading.ts';
import type { Reading } from '../../server/link/readings.ts';

/** Runs on the imagined drill over an ideal board, as readings for the trace. */

/** What the drill truly did up to a reading. */
export interface Heard {
  reading: TraceReading;
  trueTurns: number;
}

export const pick = <T>(random: RandomStream, of: readonly T[]): T =>
  of[Math.floor(of.length * random.uniform())]!;
export const between = (random: RandomStream, low: number, high: number) =>
  low + (high - low) * random.uniform();

const pulsesFitted = [4, 6, 8, 10, 12, 16, 20, 24, 30, 36, 48, 60];

/** A sound stand of any kind: few or many magnets, slow or quick, by motor or by hand, even or very uneven. */
export function anyScenario(seed: string, wish: Partial<{ hand: boolean; pulses: number[] }> = {}): Scenario {
  const random = randomStreams(seed)('any scenario');
  const pulsesPerTurn = pick(random, wish.pulses ?? pulsesFitted);
  const byHand = random.uniform() < 0.5;
  const hand = wish.hand ?? byHand;
  const turnsPerMinute = between(random, 10, 80);
  const grams = between(random, 0.5, 8);
  return {
    ...oneRow,
    name: seed,
    stated: { ...oneRow.stated, pulsesPerTurn, turns: Math.round(between(random, 8, 30)) },
    meter: {
      ...oneRow.meter,
      offsetGrams: 0,
      gramsPerMark: grams / oneRow.meter.setting,
      flutesPerTurn: pick(random, [4, 6, 8, 10, 12, 20]),
      pulsationDepth: pick(random, [0, 0.1, 0.4, 0.8]),
      packing: between(random, 0.3, 1),
    },
    wheel: {
      ...oneRow.wheel,
      pulsesPerTurn,
      placementSpread: pick(random, [0, 0.01, 0.03]),
      bounceSeconds: between(random, 0, 0.002),
      directionSensor: random.uniform() < 0.7,
    },
    drive: {
      turnsPerMinute,
      spinUpSeconds: between(random, 0.2, 0.8),
      coastTurns: between(random, 0.1, 0.8),
      coastTurnsSpread: 0.05,
      wander: hand ? between(random, 0.03, 0.15) : between(random, 0.005, 0.04),
      wanderSeconds: between(random, 1.5, 5),
      hand: hand
        ? { turnsPerMinute, unevenness: between(random, 0, 0.5), startSeconds: null, reactionSeconds: 0.35 }
        : null,
    },
  };
}

export const withFaults = (scenario: Scenario, ...faults: Fault[]): Scenario => ({ ...scenario, faults });

export function knowledgeOf({ stated, cells, drive }: Scenario): TraceKnowledge {
  return {
    pulsesPerTurn: stated.pulsesPerTurn,
    cells,
    expectedGramsPerTurn: 3.5,
    lumpinessGrams: 0.025,
    standingNoiseGrams: 0.05,
    drive: drive.hand === null ? 'motor' : 'hand',
  };
}

/** The board's readings one after the other, as the reducer hands them to the trace. */
export class Hearing {
  private first: Reading | null = null;
  private readonly scenario: Scenario;
  /** Readings lost on the way so far. */
  lost = 0;

  constructor(scenario: Scenario) {
    this.scenario = scenario;
  }

  hear(reading: Reading): TraceReading {
    this.first ??= reading;
    const { first } = this;
    const { gramsPerCount } = this.scenario.stated;
    const phases = {
      idle: 'before',
      armed: 'before',
      turning: 'turning',
      done: 'after',
      halted: 'after',
    } as const;
    return {
      micros: reading.boardMicros - first.boardMicros,
      forward: reading.forwardPulses - first.forwardPulses,
      backward: reading.backwardPulses - first.backwardPulses,
      ageMicros: reading.pulseAgeMicros,
      cellGrams: reading.counts.map((count, cell) =>
        count === null ? null : (count - (first.counts[cell] ?? 0)) * gramsPerCount,
      ),
      phase: phases[reading.state],
      flags: reading.flags,
      lost: this.lost,
      hostSeconds: Math.floor(reading.boardMicros / 1e6) + 100,
      refused: 0,
    };
  }
}

export interface WheelRun {
  drill: Drill;
  heard: Heard[];
}

/** A second at rest, the stated turns, and on until the wheel has stood for a while. */
export function wheelRun(scenario: Scenario, seed: number | string, debounceMicros?: number): WheelRun {
  const drill = createDrill(scenario, seed);
  const { pulsesPerTurn, turns } = scenario.stated;
  const direction = scenario.wheel.directionSensor ? 1 : 0;
  const board = idealBoard(drill, {
    pulsesPerTurn,
    debounceMicros: debounceMicros ?? scenario.stated.debounceMicros,
    direction,
    warnPulses: 2 * pulsesPerTurn,
  });
  const hearing = new Hearing(scenario);
  const heard: Heard[] = [];
  const read = (until: (reading: Reading) => boolean) => {
    for (let n = 0; n < 40_000; n++) {
      const reading = board.next();
      heard.push({ reading: hearing.hear(reading), trueTurns: drill.truth.turns() });
      if (until(reading)) return;
    }
  };
  const pass = (seconds: number) => {
    const end = (heard.at(-1)?.reading.micros ?? 0) + seconds * 1e6;
    read(() => heard.at(-1)!.reading.micros >= end);
  };
  pass(1);
  board.go(board.arm(scenario.drive.hand === null ? 'motor' : 'hand', turns * pulsesPerTurn).word);
  drill.turnByHand();
  read((reading) => reading.state !== 'turning');
  pass(3);
  return { drill, heard };
}
