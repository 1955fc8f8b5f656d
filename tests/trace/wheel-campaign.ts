import type { Fault } from '../../firmware-sim/drill/faults.ts';
import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import type { Finding, FindingKind } from '../../server/domain/trace/finding.ts';
import { addToPulsation, noPulsation } from '../../server/domain/trace/pulsation.ts';
import type { TraceReading } from '../../server/domain/trace/reading.ts';
import {
  addToWheelTrace,
  endOfWheelTrace,
  noWheelTrace,
  type WheelTrace,
  wheelFindings,
} from '../../server/domain/trace/wheel-trace.ts';
import { anyScenario, between, type Heard, knowledgeOf, pick, wheelRun, withFaults } from './wheel-runs.ts';

/** Many runs of one kind each: what was found, and how soon. */

export interface Outcome {
  kinds: FindingKind[];
  /** Whether the run's counts, directions or times were wrong at all, by more than the fault-free run's own play. */
  harmed: boolean;
  /** Turns and seconds from the first harm to the first finding of the wanted kind; null where it never came. */
  late: { turns: number; seconds: number } | null;
  /** Pulses too few (below 0) or too many at the end, as they were and as they were told; the latter 0 where nothing was. */
  wrongPulses: number;
  pulsesPerTurn: number;
  byHand: boolean;
  rocking: boolean;
  pulsating: boolean;
  sentences: string[];
}

export interface Kind {
  name: string;
  wanted: FindingKind | null;
  make: (scenario: Scenario, random: RandomStream) => Scenario;
  /** Does something to the readings on their way. */
  spoil?: (heard: Heard[], random: RandomStream) => Heard[];
  wish?: Parameters<typeof anyScenario>[1];
}

const afterTurns = (random: RandomStream) => pick(random, [0, between(random, 0, 5)]);
const fault = (of: (random: RandomStream, scenario: Scenario) => Fault) => {
  return (scenario: Scenario, random: RandomStream) => withFaults(scenario, of(random, scenario));
};
const anyMagnet = (random: RandomStream, { wheel }: Scenario) =>
  Math.floor(wheel.pulsesPerTurn * random.uniform());

/** Readings from somewhere in the middle on, changed. */
const later = (
  change: (reading: TraceReading, since: TraceReading, random: RandomStream) => TraceReading,
) => {
  return (heard: Heard[], random: RandomStream): Heard[] => {
    const from = Math.floor(heard.length * between(random, 0.25, 0.6));
    const since = heard[from]!.reading;
    const one = randomStreams(`${random.uniform()}`);
    return heard.map((each, index) => {
      return index <= from ? each : { ...each, reading: change(each.reading, since, one('spoil')) };
    });
  };
};

/** Lines lost one by one and in bursts. */
function loseSome(heard: Heard[], random: RandomStream): Heard[] {
  const share = pick(random, [0, 0.01, 0.1]);
  let lost = 0;
  let gone = 0;
  return heard.flatMap((each) => {
    if (gone === 0 && random.uniform() < share / 3) gone = 1 + Math.floor(8 * random.uniform());
    if (gone > 0) {
      gone--;
      lost++;
      return [];
    }
    return [{ ...each, reading: { ...each.reading, lost } }];
  });
}

const rocking = (scenario: Scenario, random: RandomStream): Scenario => {
  const oncePerTurnGrams = pick(random, [0, 0, 0, between(random, 0.02, 0.1)]);
  return { ...scenario, vibration: { ...scenario.vibration, oncePerTurnGrams } };
};

export const sound: Kind = {
  name: 'nothing wrong',
  wanted: null,
  make: rocking,
  spoil: loseSome,
};

/** What must not be taken for a sick sensor or clock. */
export const alike: Kind[] = [
  {
    name: 'the wheel jams for a while',
    wanted: null,
    make: fault((random) => ({
      kind: 'wheel-jams',
      afterTurns: between(random, 2, 6),
      forSeconds: between(random, 0.2, 2.5),
    })),
  },
  {
    name: 'one magnet is seen late',
    wanted: null,
    make: fault((random, scenario) => ({
      kind: 'magnet-late',
      magnet: anyMagnet(random, scenario),
      by: between(random, 0.05, 0.15),
      afterTurns: 0,
    })),
  },
  { name: 'by hand, as uneven as can be', wanted: null, wish: { hand: true }, make: unevenly },
];

function unevenly(scenario: Scenario): Scenario {
  const hand = { ...scenario.drive.hand!, unevenness: 0.5 };
  return { ...scenario, drive: { ...scenario.drive, wander: 0.15, hand } };
}

export const sensorFaults: Kind[] = [
  {
    name: 'one pulse in ten missed',
    wanted: 'pulses-missed',
    make: fault((random) => ({ kind: 'pulses-missed', share: 0.1, afterTurns: afterTurns(random) })),
  },
  {
    name: 'one pulse in ten doubled',
    wanted: 'pulses-doubled',
    make: fault((random) => ({
      kind: 'pulses-doubled',
      share: 0.1,
      seconds: between(random, 0.0026, 0.005),
      afterTurns: afterTurns(random),
    })),
  },
  {
    name: 'a magnet missing',
    wanted: 'pulses-missed',
    make: fault((random, scenario) => ({
      kind: 'magnet-missing',
      magnet: anyMagnet(random, scenario),
      afterTurns: afterTurns(random),
    })),
  },
  {
    name: 'a magnet cracked',
    wanted: 'pulses-doubled',
    make: fault((random, scenario) => ({
      kind: 'magnet-doubled',
      magnet: anyMagnet(random, scenario),
      behind: between(random, 0.15, 0.4),
      afterTurns: afterTurns(random),
    })),
  },
  {
    name: 'the wheel rolls back',
    wanted: 'wheel-reversed',
    make: (scenario, random) =>
      withFaults(
        { ...scenario, wheel: { ...scenario.wheel, directionSensor: true } },
        { kind: 'wheel-rolls-back', turns: between(random, 0.1, 0.6), afterTurns: 0 },
      ),
  },
];

export const clockFaults: Kind[] = [
  {
    name: "the board's time leaps",
    wanted: 'clock-trouble',
    make: (scenario) => scenario,
    spoil: (heard, random) => {
      const leap = 1e6 * between(random, 0.2, 4);
      return later((reading) => ({ ...reading, micros: reading.micros + Math.round(leap) }))(heard, random);
    },
  },
  {
    name: "the board's clock changes its pace",
    wanted: 'clock-trouble',
    make: (scenario) => scenario,
    spoil: (heard, random) => {
      const pace = pick(random, [0.5, 0.85, 1.1, 1.5, 2]);
      return later((reading, since) => {
        const age = reading.ageMicros;
        return {
          ...reading,
          micros: since.micros + Math.round((reading.micros - since.micros) * pace),
          ageMicros: age === null ? null : Math.round(age * pace),
        };
      })(heard, random);
    },
  },
  {
    name: "the board's clock runs wrong from the start",
    wanted: 'clock-trouble',
    make: (scenario) => scenario,
    spoil: (heard, random) => {
      const pace = pick(random, [0.5, 0.8, 1.25, 2]);
      return heard.map(({ reading, trueTurns }) => ({
        trueTurns,
        reading: {
          ...reading,
          micros: Math.round(reading.micros * pace),
          ageMicros: reading.ageMicros === null ? null : Math.round(reading.ageMicros * pace),
        },
      }));
    },
  },
  {
    name: "the board's time stands still",
    wanted: 'clock-trouble',
    make: (scenario) => scenario,
    // The reducer takes in no reading whose time does not go on; it counts them.
    spoil: (heard, random) => {
      const from = Math.floor(heard.length * between(random, 0.3, 0.5));
      const still = 1 + Math.floor(20 * random.uniform());
      return [
        ...heard.slice(0, from),
        ...heard
          .slice(from + still)
          .map((each) => ({ ...each, reading: { ...each.reading, refused: still, lost: 0 } })),
      ];
    },
  },
  {
    name: 'the ages of pulses are not those of the board',
    wanted: 'clock-trouble',
    make: (scenario) => scenario,
    spoil: later((reading, _, random) => ({
      ...reading,
      ageMicros: Math.round(between(random, 0, 60_000)),
    })),
  },
];

/** Runs number `from` to `from + runs - 1` of a kind; always the same. */
export function wheelCampaign(kind: Kind, runs: number, from = 0): Outcome[] {
  return Array.from({ length: runs }, (_, index) => oneOf(kind, from + index));
}

function oneOf(kind: Kind, index: number): Outcome {
  const random = randomStreams(`${kind.name} ${index}`)('kind');
  const scenario = kind.make(anyScenario(`${kind.name} ${index}`, kind.wish), random);
  const sent = wheelRun(scenario, index).heard;
  const heard = kind.spoil?.(sent, random) ?? sent;
  const { pulsesPerTurn } = scenario.wheel;
  const harm = firstHarm(kind, sent, heard, pulsesPerTurn);
  let state = noWheelTrace(knowledgeOf(scenario));
  let late: Outcome['late'] = null;
  let asked: WheelTrace | null = null;
  for (const { reading, trueTurns } of heard) {
    state = addToWheelTrace(state, reading);
    // Findings are asked for as often as a page would.
    if (late !== null || kind.wanted === null || !changed(state, asked)) continue;
    asked = state;
    if (harm !== null && wheelFindings(state).some(({ kind: found }) => found === kind.wanted)) {
      late = { turns: trueTurns - harm.turns, seconds: reading.micros / 1e6 - harm.seconds };
    }
  }
  const found: Finding[] = wheelFindings(endOfWheelTrace(state));
  const last = heard.at(-1)!;
  const { vibration, meter } = scenario;
  return {
    kinds: found.map((finding) => finding.kind),
    harmed: harm !== null,
    late,
    wrongPulses: last.reading.forward - last.reading.backward - last.trueTurns * pulsesPerTurn,
    pulsesPerTurn,
    byHand: scenario.drive.hand !== null,
    rocking: vibration.oncePerTurnGrams > 0,
    pulsating: meter.pulsationDepth > 0,
    sentences: found.map(({ sentence }) => sentence),
  };
}

const changed = (state: WheelTrace, asked: WheelTrace | null) =>
  asked === null ||
  state.sense.accounts !== asked.sense.accounts ||
  state.sense.chatter !== asked.sense.chatter ||
  state.reversals.times !== asked.reversals.times ||
  state.clock.troubles !== asked.clock.troubles;

/** When the readings first were wrong for sure: a pulse too few or too many, one backward, or a time that is not so. */
function firstHarm(kind: Kind, sent: Heard[], heard: Heard[], pulsesPerTurn: number) {
  const at = ({ reading, trueTurns }: Heard) => ({ turns: trueTurns, seconds: reading.micros / 1e6 });
  if (kind.wanted === null) return null;
  if (kind.wanted === 'clock-trouble') {
    const wrong = heard.find(({ reading }, index) => {
      const was = sent[index]!.reading;
      const off = Math.abs(reading.micros - was.micros);
      // What runs wrong from the start shows only against the computer's clock, once they are a second apart.
      return index > 0 && heard[1]!.reading.micros !== sent[1]!.reading.micros
        ? off > 1e6
        : off > 0 || reading.ageMicros !== was.ageMicros;
    });
    return wrong === undefined ? null : at(wrong);
  }
  if (kind.wanted === 'wheel-reversed') {
    const back = heard.find(({ reading }) => reading.backward > 0);
    return back === undefined ? null : at(back);
  }
  return firstWrongPulse(heard, pulsesPerTurn, at);
}

/**
 * When the count was first wrong. At a reading that brings a pulse, count and true turns differ by what is the same all the time, and
 * by how far the wheel has gone on since that pulse.
 */
function firstWrongPulse<T>(heard: Heard[], pulsesPerTurn: number, at: (heard: Heard) => T): T | null {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  let before: Heard | null = null;
  for (const each of heard) {
    const { reading, trueTurns } = each;
    if (before !== null && reading.forward > before.reading.forward) {
      const gone = (trueTurns - before.trueTurns) * pulsesPerTurn;
      const off = reading.forward - reading.backward - trueTurns * pulsesPerTurn;
      least = Math.min(least, off + Math.min(gone, 1));
      most = Math.max(most, off);
      if (most - least > 0.6) return at(each);
    }
    if (reading.backward > 0) return at(each);
    before = each;
  }
  return null;
}

/** A drill whose flow swells `order` times a turn by `depth`, over the preset's noise, by motor. */
export interface Swelling {
  order: number;
  depth: number;
  turnsPerMinute: number;
  packing: number;
}

/** Turns until the swelling was found, run by run; null where it was not in 60 turns. With whether its order was told right. */
export function pulsationCampaign(
  swelling: Swelling,
  runs: number,
): ({ turns: number; right: boolean } | null)[] {
  const { order, depth, turnsPerMinute, packing } = swelling;
  const scenario: Scenario = {
    ...oneRow,
    stated: { ...oneRow.stated, turns: 60 },
    vibration: { ...oneRow.vibration, oncePerTurnGrams: 0 },
    drive: { ...oneRow.drive, turnsPerMinute },
    meter: { ...oneRow.meter, packing, pulsationDepth: depth, flutesPerTurn: order },
  };
  return Array.from({ length: runs }, (_, seed) => {
    let state = noPulsation(knowledgeOf(scenario));
    let turns: number | null = null;
    for (const { reading, trueTurns } of wheelRun(scenario, `swelling ${seed}`).heard) {
      state = addToPulsation(state, reading);
      const { turn, flute } = state.found;
      if (turns === null && (order === 1 ? turn : flute) !== null) turns = trueTurns;
    }
    const { turn, flute } = state.found;
    const told = order === 1 ? turn?.order : flute?.order;
    return turns === null ? null : { turns, right: told !== undefined && told % order === 0 };
  });
}
