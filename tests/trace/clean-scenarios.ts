import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import type { Scenario, Species } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import type { TraceKnowledge } from '../../server/domain/trace/reading.ts';
import { type Course, knowledgeOf } from './traced.ts';

/** Drills, stands and seed lots with nothing wrong, drawn over the whole range that a shop may have. */

export interface Case {
  scenario: Scenario;
  course: Course;
  knowledge: TraceKnowledge;
}

/** Lots from few big seeds to many small ones; thousand-seed weights of the order of those in handbooks. */
const lots: readonly { mix: Species[]; gramsPerTurn: [least: number, most: number] }[] = [
  { mix: oneRow.mix, gramsPerTurn: [1.5, 8] },
  { mix: [{ name: 'wheat', massShare: 1, thousandSeedGrams: 40, massCv: 0.25 }], gramsPerTurn: [2, 10] },
  {
    mix: [{ name: 'small clover', massShare: 1, thousandSeedGrams: 2, massCv: 0.2 }],
    gramsPerTurn: [0.8, 2],
  },
  { mix: [{ name: 'field pea', massShare: 1, thousandSeedGrams: 230, massCv: 0.2 }], gramsPerTurn: [5, 14] },
];

export class Draws {
  private readonly random: RandomStream;

  constructor(seed: number | string) {
    this.random = randomStreams(seed)('case');
  }

  between(least: number, most: number): number {
    return least + (most - least) * this.random.uniform();
  }

  /** Evenly in the logarithm. */
  across(least: number, most: number): number {
    return least * (most / least) ** this.random.uniform();
  }

  oneOf<T>(values: readonly T[]): T {
    return values[Math.floor(values.length * this.random.uniform())]!;
  }

  chance(share: number): boolean {
    return this.random.uniform() < share;
  }
}

/** A clean case. Same seed, same case. `cells`, `turns` and `drive` may be laid down. */
export function cleanCase(
  seed: number | string,
  wish: { cells?: 1 | 6; turns?: number; drive?: 'motor' | 'hand' } = {},
): Case {
  const draw = new Draws(seed);
  const drawn = { cells: draw.chance(0.7) ? 1 : 6, hand: draw.chance(0.4), turns: draw.across(5, 100) };
  const cells = wish.cells ?? drawn.cells;
  const hand = wish.drive === undefined ? drawn.hand : wish.drive === 'hand';
  const turns = Math.round(wish.turns ?? drawn.turns);
  const base = cells === 6 ? sixRows : oneRow;
  const scenario: Scenario = {
    ...base,
    ...seedAndMeter(draw),
    ...hanging(draw),
    name: `clean ${seed}`,
    cells,
    rowsPerCell: draw.oneOf([1, 1, 1, 2, 3]),
    drive: driven(draw, hand),
  };
  const pulsesPerTurn = draw.oneOf([6, 12, 24, 24, 48]);
  const wired = {
    ...scenario,
    wheel: { ...base.wheel, pulsesPerTurn },
    stated: { ...base.stated, pulsesPerTurn, turns },
  };
  return {
    scenario: wired,
    course: { beforeSeconds: draw.between(3, 6), turns, afterSeconds: draw.between(4, 7) },
    knowledge: knowledgeOf(wired, draw.across(0.6, 1.8)),
  };
}

function seedAndMeter(draw: Draws): Pick<Scenario, 'mix' | 'meter'> {
  const { mix, gramsPerTurn } = draw.oneOf(lots);
  return {
    mix: [...mix],
    meter: {
      ...oneRow.meter,
      setting: 0,
      offsetGrams: draw.across(...gramsPerTurn),
      flutesPerTurn: Math.round(draw.between(4, 24)),
      pulsationDepth: draw.between(0, 0.9),
      packing: draw.between(0.4, 1),
    },
  };
}

function hanging(draw: Draws): Pick<Scenario, 'fall' | 'bag' | 'vibration' | 'converter'> {
  return {
    fall: {
      seconds: draw.between(0.25, 0.65),
      spreadSeconds: draw.between(0.03, 0.07),
      impactMetresPerSecond: draw.between(0.8, 2),
    },
    bag: {
      emptyGrams: draw.between(40, 150),
      hertz: draw.between(4, 9),
      dampingRatio: draw.between(0.1, 0.3),
    },
    vibration: {
      whiteGrams: draw.between(0.03, 0.2),
      swingGrams: draw.between(0, 0.25),
      swingHertz: draw.between(1, 2),
      swingDampingRatio: draw.between(0.05, 0.15),
      oncePerTurnGrams: draw.between(0, 0.3),
    },
    converter: {
      ...oneRow.converter,
      noiseCounts: draw.between(20, 80),
      driftGramsPerMinute: draw.between(0, 0.03),
      creep: draw.between(0, 0.0005),
    },
  };
}

function driven(draw: Draws, hand: boolean): Scenario['drive'] {
  const turnsPerMinute = draw.between(30, 60);
  if (!hand) return { ...oneRow.drive, turnsPerMinute, wander: draw.between(0.005, 0.04) };
  return {
    ...byHand.drive,
    turnsPerMinute,
    wander: draw.between(0.02, 0.1),
    hand: { ...byHand.drive.hand!, turnsPerMinute, unevenness: draw.between(0, 0.4) },
  };
}

/** The sound presets as they stand, in turn. */
export function cleanPreset(index: number, turns = 25): Case {
  const scenario = [oneRow, sixRows, byHand][index % 3]!;
  return {
    scenario,
    course: { beforeSeconds: 4, turns, afterSeconds: 6 },
    knowledge: knowledgeOf(scenario),
  };
}
