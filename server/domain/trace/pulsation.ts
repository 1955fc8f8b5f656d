import type { Instant } from './finding.ts';
import {
  addPoint,
  addTurn,
  chanceOf,
  mostOrders,
  noMeans,
  noSums,
  type OrderMeans,
  type OrderSums,
  orderFigure,
} from './order-spectrum.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';

/**
 * Whether the flow swells once a turn, or once a flute of the meter. Readings wait until the next pulse tells at which angle of the
 * wheel they were taken; a turn's readings, less a straight line, give the turn's order spectrum.
 */
export interface Pulsation {
  knowledge: TraceKnowledge;
  last: { forward: number; backward: number; micros: number } | null;
  /** Readings since the newest pulse. */
  waiting: { seconds: number; grams: number[] }[];
  pulse: { seconds: number; angle: number } | null;
  /** Angle at which the wheel set off. */
  from: number | null;
  turn: Turn | null;
  /** Turns taken in, cell by cell; and of the wheel's speed, as a share of its mean over the turn. */
  cells: OrderMeans[];
  speed: OrderMeans;
  /** Sums over the turns: grams by cell, seconds, readings. */
  grams: number[];
  seconds: number;
  readings: number;
  found: { turn: Found | null; flute: Found | null };
}

/** A turn under way. */
interface Turn {
  /** Pulses into it, and when it began. */
  pulses: number;
  seconds: number;
  readings: number;
  /** Grams at its beginning, a fading mean of the newest, and what is expected over a turn: cell by cell. */
  from: number[];
  now: number[];
  rise: number[];
  sums: OrderSums[];
  speed: OrderSums;
  angle: number;
}

export interface Found {
  order: number;
  at: Instant;
}

/** Turns after the start that are let pass: seed must fall first. */
const firstTurns = 1;
const fewestTurns = 6;
/** Readings that may wait for a pulse: two seconds of them. */
const mostWaiting = 170;
const gramsKept = 0.85;
/** Chance of a false alarm for one order at one turn. */
const chance = 1e-6;
/** Shares of the flow below which swelling is not told, once a turn (where the frame may rock too) and more often. */
const leastPerTurn = 0.15;
const leastPerFlute = 0.02;
/** A flow that stops in between swells once a turn by no more than twice itself; what swings wider is the frame. */
const mostPerTurn = 2;
/**
 * Seeds press on the bag as they are stopped: a flow that swells shows its swelling too, and the more the quicker it swells. Speed at
 * which they arrive over the acceleration of fall, seconds; about 1 m/s, from a fall of 5 cm to 20 cm. Only the size told hangs on it.
 */
const momentumSeconds = 0.1;
/** Uneven turning shows in the catch as far as seed takes time to fall and to show: at most so many seconds. */
const longestLag = 0.8;
/** Between pulses the wheel is taken to turn evenly; what that hides, per unevenness and square of the pulses a turn, turns. */
const betweenPulses = 0.8;
/** Orders up to this share of the readings in a turn are told. */
const bandwidth = 0.35;

const none = (cells: number): number[] => Array(cells).fill(0);

/** Before the first reading. */
export function noPulsation(knowledge: TraceKnowledge): Pulsation {
  return {
    knowledge,
    last: null,
    waiting: [],
    pulse: null,
    from: null,
    turn: null,
    cells: Array(knowledge.cells).fill(noMeans),
    speed: noMeans,
    grams: none(knowledge.cells),
    seconds: 0,
    readings: 0,
    found: { turn: null, flute: null },
  };
}

/** The spectrum after one more reading; what is found is found at the end of a turn, `fewestTurns` at the earliest. */
export function addToPulsation(state: Pulsation, reading: TraceReading): Pulsation {
  const { forward, backward, micros, cellGrams, phase, ageMicros } = reading;
  const { last } = state;
  const whole =
    phase === 'turning' && !cellGrams.includes(null) && (last === null || backward === last.backward);
  const next = after(state, { forward, backward, micros });
  if (!whole) return idled(next);
  const pulses = last === null ? 0 : forward - last.forward;
  if (pulses > 0 && ageMicros !== null) {
    const seconds = (micros - ageMicros) / 1e6;
    passed(next, seconds, forward / state.knowledge.pulsesPerTurn);
  }
  const wait = { seconds: micros / 1e6, grams: cellGrams as number[] };
  // The wheel stands, or nearly: what comes then belongs to no turn.
  if (state.waiting.length >= mostWaiting) return idled(next);
  next.waiting = next.waiting.slice();
  next.waiting.push(wait);
  return next;
}

/** A fresh copy whose newest reading is `last`; written out, since a spread takes many times as long and every reading needs one. */
const after = (state: Pulsation, last: Pulsation['last']): Pulsation => ({
  knowledge: state.knowledge,
  last,
  waiting: state.waiting,
  pulse: state.pulse,
  from: state.from,
  turn: state.turn,
  cells: state.cells,
  speed: state.speed,
  grams: state.grams,
  seconds: state.seconds,
  readings: state.readings,
  found: state.found,
});

/** `state`, which is a fresh copy, with nothing under way. */
function idled(state: Pulsation): Pulsation {
  state.waiting = [];
  state.pulse = null;
  state.turn = null;
  return state;
}

/** A pulse at `seconds` brought the wheel to `angle` turns: the readings before it get their angles. `state` is a fresh copy. */
function passed(state: Pulsation, seconds: number, angle: number): void {
  const { pulse, waiting } = state;
  const left = waiting.filter((reading) => reading.seconds > seconds);
  if (pulse !== null && seconds > pulse.seconds) {
    const rate = (angle - pulse.angle) / (seconds - pulse.seconds);
    let turn = state.turn === null ? null : copied(state.turn);
    for (const reading of waiting) {
      if (reading.seconds > seconds) continue;
      const at = pulse.angle + rate * (reading.seconds - pulse.seconds);
      if (turn !== null) take(turn, at, reading.grams);
    }
    if (turn !== null) addSpeed(turn, pulse, { seconds, angle }, state.knowledge.pulsesPerTurn);
    if (Math.floor(angle) > Math.floor(pulse.angle)) {
      if (turn !== null) endTurn(state, turn, seconds, angle);
      const grams = turn?.now ?? waiting.at(-1)?.grams ?? none(state.knowledge.cells);
      turn = angle - (state.from ?? angle) < firstTurns ? null : begin(state, seconds, angle, grams);
    }
    state.turn = turn;
  }
  state.from ??= angle;
  state.pulse = { seconds, angle };
  state.waiting = left;
}

function copied(turn: Turn): Turn {
  const copy = (sums: OrderSums): OrderSums => ({ re: sums.re.slice(), im: sums.im.slice() });
  const { pulses, seconds, readings, from, rise, angle } = turn;
  const [now, sums, speed] = [turn.now.slice(), turn.sums.map(copy), copy(turn.speed)];
  return { pulses, seconds, readings, from, now, rise, sums, speed, angle };
}

function begin(state: Pulsation, seconds: number, angle: number, grams: number[]): Turn {
  const { turns } = state.speed;
  const cells = state.knowledge.cells;
  const expected = state.knowledge.expectedGramsPerTurn / cells;
  return {
    pulses: 0,
    seconds,
    readings: 0,
    from: grams,
    now: grams,
    rise: state.grams.map((sum) => (turns === 0 ? expected : sum / turns)),
    sums: Array(cells).fill(noSums),
    speed: noSums,
    angle,
  };
}

function take(turn: Turn, angle: number, grams: number[]): void {
  const step = angle - turn.angle;
  const into = angle - Math.floor(angle);
  const values = grams.map((now, cell) => now - turn.from[cell]! - turn.rise[cell]! * into);
  addPoint(turn.sums, angle, values, step);
  turn.now = grams.map((now, cell) => gramsKept * turn.now[cell]! + (1 - gramsKept) * now);
  turn.angle = angle;
  turn.readings++;
}

function addSpeed(
  turn: Turn,
  from: { seconds: number; angle: number },
  to: { seconds: number; angle: number },
  pulsesPerTurn: number,
): void {
  const way = to.angle - from.angle;
  turn.pulses += Math.round(way * pulsesPerTurn);
  addPoint([turn.speed], (from.angle + to.angle) / 2, [way / (to.seconds - from.seconds)], way);
}

function endTurn(state: Pulsation, turn: Turn, seconds: number, angle: number): void {
  const { pulsesPerTurn } = state.knowledge;
  if (turn.pulses !== pulsesPerTurn) return;
  const rises = turn.now.map((now, cell) => now - turn.from[cell]!);
  state.cells = state.cells.map((means, cell) => {
    return addTurn(means, turn.sums[cell]!, rises[cell]! - turn.rise[cell]!);
  });
  state.speed = addTurn(state.speed, turn.speed, 0);
  state.grams = state.grams.map((sum, cell) => sum + rises[cell]!);
  state.seconds += seconds - turn.seconds;
  state.readings += turn.readings;
  const at = { turns: angle, seconds };
  const { turn: perTurn, flute } = state.found;
  state.found = { turn: found(state, [1], perTurn, at), flute: found(state, allOrders.slice(1), flute, at) };
}

export const allOrders = Array.from({ length: mostOrders }, (_, index) => index + 1);

/** The strongest of `orders` that stands out of the noise, if any does; once found, it stays found. */
function found(state: Pulsation, orders: number[], before: Found | null, at: Instant): Found | null {
  let strongest = before;
  let most = 0;
  for (const order of orders) {
    const line = lineOf(state, order);
    const telling = order === 1 ? leastPerTurn : leastPerFlute;
    const widest = order === 1 ? mostPerTurn : Infinity;
    if (line.chance < chance && line.share >= telling && line.share <= widest && line.share > most) {
      most = line.share;
      strongest = { order, at: before?.at ?? at };
    }
  }
  return strongest;
}

export interface Line {
  /** Amplitude of the catch's swing, all cells' mean, grams a cell; and of the flow as a share of the flow. */
  grams: number;
  share: number;
  chance: number;
}

/** One order of the spectrum, with what uneven turning could make of an even flow taken off. */
export function lineOf(state: Pulsation, order: number): Line {
  const { turns } = state.speed;
  const readings = state.readings / Math.max(1, turns);
  if (turns < fewestTurns || order > bandwidth * readings) return { grams: 0, share: 0, chance: 1 };
  const allowed = unevenness(state, order);
  const figures = state.cells.map((means, cell) => {
    const { amplitude, variance } = orderFigure(means, order);
    const perTurn = state.grams[cell]! / turns;
    return { amplitude: Math.max(0, amplitude - Math.max(0, perTurn) * allowed), variance, perTurn };
  });
  const pressing = Math.hypot(1, 2 * Math.PI * order * (turns / state.seconds) * momentumSeconds);
  const grams = figures.reduce((sum, { amplitude }) => sum + amplitude, 0) / figures.length / pressing;
  const flow = figures.reduce((sum, { perTurn }) => sum + perTurn, 0) / figures.length;
  const share = flow > 0 ? (2 * Math.PI * order * grams) / flow : 0;
  return { grams, share, chance: chanceOf(figures, turns) };
}

/** Turns by which uneven turning may shift the catch at an order: by its lag, and by what the pulses do not show in between. */
function unevenness({ speed, knowledge, seconds }: Pulsation, order: number): number {
  const { turns } = speed;
  const at = (k: number) => Math.hypot(speed.re[k - 1]!, speed.im[k - 1]!) / turns;
  const most = Math.max(at(1), at(2), at(3)) / (turns / seconds);
  const seen = 2 * order <= knowledge.pulsesPerTurn ? at(order) : 0;
  return longestLag * seen + (betweenPulses * most) / knowledge.pulsesPerTurn ** 2;
}
