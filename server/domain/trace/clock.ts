import type { Finding, Instant } from './finding.ts';
import type { TraceReading } from './reading.ts';
import { turnsOf } from './reading.ts';
import { longestWaitMicros } from './wheel-steps.ts';

/** The board's time against its own readings, its pulses and the host's clock. */
export interface ClockWatch {
  pulsesPerTurn: number;
  last: TraceReading | null;
  /** Usual time between readings, seconds, fading, and how many it rests on; and the same over the newest few alone. */
  usualWait: number;
  waits: number;
  recentWait: number;
  recent: number;
  /** Readings in a row that came after far more than the usual wait. */
  slow: number;
  /** Board and host time where their comparison began, seconds, and of the newest tick seen. */
  hostStart: { board: number; host: number } | null;
  host: { board: number; host: number } | null;
  /** Pulses whose age did not fit, since the last that did. */
  oddAges: number;
  /** Kinds of trouble seen, with how often, first and last. */
  troubles: Partial<Record<ClockTrouble, Trouble>>;
  /** Mean waits of the newest groups of readings, milliseconds. */
  picture: { seconds: number[]; waits: number[] };
}

export type ClockTrouble = 'leap' | 'standstill' | 'pace' | 'rate' | 'age';

interface Trouble {
  times: number;
  first: Instant;
  newest: Instant;
  size: number;
  picture: { seconds: number[]; waits: number[] };
}

/** A changed pace shows in the mean wait of so many readings, and by so large a share. */
const paceReadings = 24;
const paceShare = 0.06;
const usualReadings = 200;
/** Host and board may differ by so much: what an honest oscillator does, and how late the host's ticks and readings come. */
const honestRate = 0.02;
const hostLateSeconds = 0.8;
/** An age may be off by so much, microseconds, and so many in a row may be odd. */
const ageSlackMicros = 2000;
const mostOddAges = 1;
const longestAgeMicros = 9_999_000;
const mostPicture = 40;

/** Before the first reading. `pulsesPerTurn` 1 or more. */
export function noClockWatch(pulsesPerTurn: number): ClockWatch {
  return {
    pulsesPerTurn,
    last: null,
    usualWait: 0,
    waits: 0,
    recentWait: 0,
    recent: 0,
    slow: 0,
    hostStart: null,
    host: null,
    oddAges: 0,
    troubles: {},
    picture: { seconds: [], waits: [] },
  };
}

/** The watch after one more reading. Constant time; a state of bounded size. */
export function addToClockWatch(state: ClockWatch, reading: TraceReading): ClockWatch {
  const { last } = state;
  if (last === null) return { ...state, last: reading };
  const next = after(state, reading);
  const wait = reading.micros - last.micros;
  if (reading.lost === last.lost) {
    if (wait > longestWaitMicros) {
      draw(next, reading, wait / 1e6);
      note(next, 'leap', reading, wait / 1e6);
    } else if (wait > 0) followPace(next, reading, wait / 1e6);
  }
  const refused = (reading.refused ?? 0) - (last.refused ?? 0);
  if (wait <= 0 || refused > 0) note(next, 'standstill', reading, Math.max(1, refused));
  checkAge(next, last, reading, wait);
  checkHost(next, reading);
  return next;
}

/** A fresh copy whose newest reading is `last`; written out, since a spread takes many times as long and every reading needs one. */
const after = (state: ClockWatch, last: TraceReading): ClockWatch => ({
  pulsesPerTurn: state.pulsesPerTurn,
  last,
  usualWait: state.usualWait,
  waits: state.waits,
  recentWait: state.recentWait,
  recent: state.recent,
  slow: state.slow,
  hostStart: state.hostStart,
  host: state.host,
  oddAges: state.oddAges,
  troubles: state.troubles,
  picture: state.picture,
});

/** Adds a wait to the picture of `state`, which is a fresh copy. */
function draw(state: ClockWatch, { micros }: TraceReading, wait: number): void {
  const { seconds, waits } = state.picture;
  state.picture = {
    seconds: [...seconds, micros / 1e6].slice(-mostPicture),
    waits: [...waits, 1000 * wait].slice(-mostPicture),
  };
}

/** Adds one more trouble to `state`, which is a fresh copy. */
function note(state: ClockWatch, kind: ClockTrouble, reading: TraceReading, size: number): void {
  const instant = { turns: turnsOf(reading, state.pulsesPerTurn), seconds: reading.micros / 1e6 };
  const before = state.troubles[kind];
  const trouble: Trouble = {
    times: (before?.times ?? 0) + 1,
    first: before?.first ?? instant,
    newest: instant,
    size: before === undefined || Math.abs(size) > Math.abs(before.size) ? size : before.size,
    picture: before?.picture ?? state.picture,
  };
  state.troubles = { ...state.troubles, [kind]: trouble };
}

/** The converters' pace is steady to a per cent: readings that suddenly come faster or slower by the board's time accuse that. */
function followPace(state: ClockWatch, reading: TraceReading, wait: number): void {
  const far = state.waits >= paceReadings && wait > 1.4 * state.usualWait;
  state.slow = far ? state.slow + 1 : 0;
  if (state.slow >= paceReadings) note(state, 'pace', reading, wait / state.usualWait - 1);
  // A converter started anew keeps some readings waiting, and one that is dead all of them: the clock is not to blame.
  const missing = reading.cellGrams.includes(null);
  if (missing) state.slow = 0;
  if (far || missing) {
    state.recent = 0;
    return;
  }
  state.recentWait =
    state.recent === 0 ? wait : state.recentWait + (wait - state.recentWait) / (state.recent + 1);
  state.recent++;
  if (state.recent < paceReadings) return;
  const { recentWait } = state;
  state.recent = 0;
  draw(state, reading, recentWait);
  const change = state.waits === 0 ? 0 : recentWait / state.usualWait - 1;
  if (state.waits >= paceReadings && Math.abs(change) > paceShare) note(state, 'pace', reading, change);
  else {
    state.waits = Math.min(usualReadings, state.waits + paceReadings);
    const share = state.usualWait === 0 ? 1 : paceReadings / state.waits;
    state.usualWait += (recentWait - state.usualWait) * share;
  }
}

/** With no new pulse the newest one's age grows as time does; a new one is no older than the wait for its reading. */
function checkAge(state: ClockWatch, last: TraceReading, reading: TraceReading, wait: number): void {
  const pulses = reading.forward + reading.backward - last.forward - last.backward;
  const { ageMicros } = reading;
  let odd = false;
  if (pulses > 0) odd = ageMicros === null || ageMicros > wait + ageSlackMicros;
  else if (last.ageMicros !== null) {
    const due = last.ageMicros + wait;
    odd = ageMicros === null ? due < longestAgeMicros : Math.abs(ageMicros - due) > ageSlackMicros;
  }
  state.oddAges = odd ? state.oddAges + 1 : Math.max(0, state.oddAges - 0.1);
  if (state.oddAges > mostOddAges) note(state, 'age', reading, (ageMicros ?? 0) / 1e6);
}

/** The host ticks about once a second; a tick counts when it is new. */
function checkHost(state: ClockWatch, reading: TraceReading): void {
  const { hostSeconds } = reading;
  if (hostSeconds === undefined || hostSeconds === null || hostSeconds === state.host?.host) return;
  const now = { board: reading.micros / 1e6, host: hostSeconds };
  const before = state.host;
  state.host = now;
  // How old the first one is nobody knows.
  if (before === null) return;
  // A host that slept, or a link that was down, begins the comparison anew.
  if (now.host - before.host > 3 || now.host < before.host) state.hostStart = null;
  state.hostStart ??= now;
  const host = now.host - state.hostStart.host;
  const off = now.board - state.hostStart.board - host;
  if (host > 0 && Math.abs(off) > hostLateSeconds + honestRate * host)
    note(state, 'rate', reading, off / host);
}

const words: Record<ClockTrouble, (trouble: Trouble) => string> = {
  leap: ({ times, size }) =>
    `The board's time leapt by ${size.toFixed(2)} s between two readings${often(times)}.`,
  standstill: ({ times }) => `The board's time stood still or ran back${often(times)}.`,
  pace: ({ size }) =>
    `By the board's time readings suddenly came ${Math.abs(100 * size).toFixed(0)} % ${size > 0 ? 'slower' : 'faster'} than before.`,
  rate: ({ size }) =>
    `The board's clock runs ${Math.abs(100 * size).toFixed(0)} % ${size > 0 ? 'faster' : 'slower'} than the computer's.`,
  age: ({ times }) => `The times of wheel pulses do not fit those of the readings${often(times)}.`,
};

const often = (times: number) => (times === 1 ? '' : `, ${times} times`);

/** At most one finding, of all the trouble there was. */
export function clockFindings({ troubles }: ClockWatch): Finding[] {
  const kinds = (Object.keys(words) as ClockTrouble[]).filter((kind) => troubles[kind] !== undefined);
  if (kinds.length === 0) return [];
  const all = kinds.map((kind) => troubles[kind]!);
  const first = all.reduce((one, other) => (other.first.seconds < one.first.seconds ? other : one));
  const newest = all.reduce((one, other) => (other.newest.seconds > one.newest.seconds ? other : one));
  const told = kinds.map((kind) => words[kind](troubles[kind]!)).join(' ');
  return [
    {
      kind: 'clock-trouble',
      cell: null,
      from: first.first,
      until: newest.newest,
      sure: all.some(({ times }) => times > 1) ? 0.9999 : 0.99,
      // Turns and grams do not hang on the time; speeds do, and so does what is told from them.
      spoils: false,
      evidence: {
        x: 'seconds',
        y: 'milliseconds',
        series: [{ role: 'seen', x: first.picture.seconds, y: first.picture.waits }],
      },
      sentence:
        `${told} Turns and grams are still counted right, but speed and seconds are not to be trusted. ` +
        'Look at the supply voltage of the board, its crystal and its fuse settings; a worn cable can do it too.',
    },
  ];
}
