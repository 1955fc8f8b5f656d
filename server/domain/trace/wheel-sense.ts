import type { Instant } from './finding.ts';
import type { TraceKnowledge, TraceReading } from './reading.ts';
import { type Accounts, evidence, firstAccounts, weigh } from './wheel-accounts.ts';
import { noStepReader, readStep, type StepReader, type WheelStep } from './wheel-steps.ts';

/** The wheel sensor checked against itself, reading by reading. */
export interface WheelSense {
  pulsesPerTurn: number;
  reader: StepReader;
  accounts: Accounts;
  /** The newest intervals between pulses: turns counted, and length as a share of what was expected. */
  recent: { turns: number[]; shares: number[] };
  /** What the intervals looked like when it became clear that pulses were missed, or were false. */
  missed: Picture | null;
  doubled: Picture | null;
  /** Pulses in each of the three newest readings; null where nothing is known of it. */
  before: [number | null, number | null, number | null];
  /** Readings whose pulses cannot all be true, however the wheel turns: see `chatters`. */
  chatter: { times: number; first: Instant; newest: Instant } | null;
}

export interface Picture {
  turns: number[];
  shares: number[];
}

/** So much evidence (natural logarithm of how many times likelier) raises a finding, more if it is of one pulse; so much keeps it. */
const raising = 8;
const raisingOne = 12;
export const keeping = 4;
const mostRecent = 48;
/** So many readings with false pulses are proof enough. */
export const chatterEnough = 3;
/** Readings so close together, microseconds, leave no time for a wheel to speed up and slow down again. */
const closeReadings = 20_000;

/** Before the first reading. */
export function noWheelSense({ pulsesPerTurn, drive }: TraceKnowledge): WheelSense {
  return {
    pulsesPerTurn,
    reader: noStepReader,
    accounts: firstAccounts(pulsesPerTurn, drive),
    recent: { turns: [], shares: [] },
    missed: null,
    doubled: null,
    before: [null, null, null],
    chatter: null,
  };
}

/** The sensor's record after one more reading; work is done only where that completes a step of the wheel. */
export function addToWheelSense(state: WheelSense, reading: TraceReading): WheelSense {
  const { pulsesPerTurn, accounts, recent, missed, doubled, before } = state;
  const { reader, step } = readStep(state.reader, reading);
  const pulses = pulsesIn(state, reading);
  const chatter = chatters(state, reading, pulses) ? chattered(state, reading) : state.chatter;
  const newest: WheelSense['before'] = [before[1], before[2], pulses];
  const next = { pulsesPerTurn, reader, accounts, recent, missed, doubled, before: newest, chatter };
  return step === null ? next : stepped(next, step, instantOf(state, reading, step.seconds));
}

/** New pulses in a reading that follows close on the one before; null otherwise. */
function pulsesIn({ reader }: WheelSense, { micros, forward, backward, lost }: TraceReading): number | null {
  const close = reader.micros >= 0 && micros - reader.micros < closeReadings && lost === reader.lost;
  return close ? forward + backward - reader.forward - reader.backward : null;
}

/**
 * `now`: pulses in the newest reading. No wheel gives pulses of both directions within a reading, nor two in one and none in one before and two after it, nor three in one
 * and none in those beside it: it would have to go twice as fast in between.
 */
function chatters(state: WheelSense, reading: TraceReading, now: number | null): boolean {
  if (now === null) return false;
  const [third, second, newest] = state.before;
  const three = now === 0 && second === 0 && newest !== null && newest > 2;
  const two = now === 0 && newest === 0 && third === 0 && second !== null && second > 1;
  const both = reading.forward > state.reader.forward && reading.backward > state.reader.backward;
  return both || two || three;
}

function chattered(state: WheelSense, reading: TraceReading): WheelSense['chatter'] {
  const newest = instantOf(state, reading, reading.micros / 1e6);
  const { times, first } = state.chatter ?? { times: 0, first: newest };
  return { times: times + 1, first, newest };
}

const instantOf = ({ pulsesPerTurn }: WheelSense, reading: TraceReading, seconds: number): Instant => ({
  turns: (reading.forward - reading.backward) / pulsesPerTurn,
  seconds,
});

function stepped(state: WheelSense, step: WheelStep, instant: Instant): WheelSense {
  const recent = withInterval(state, step, instant);
  const accounts = weigh(state.accounts, step, instant);
  const picture = (of: 'missed' | 'doubled') => {
    const times = accounts[0]![of];
    if (state[of] !== null || times === 0) return state[of];
    return evidence(accounts, of) > (times === 1 ? raisingOne : raising) ? recent : null;
  };
  const { pulsesPerTurn, reader, before, chatter } = state;
  const [missed, doubled] = [picture('missed'), picture('doubled')];
  return { pulsesPerTurn, reader, accounts, recent, missed, doubled, before, chatter };
}

function withInterval({ accounts, recent }: WheelSense, step: WheelStep, { turns }: Instant): Picture {
  const { motion } = accounts[0]!;
  const passed = step.seconds - motion.seconds;
  if (motion.speed === 0 || passed <= 0 || step.torn) return recent;
  const share = Math.min(5, (passed * motion.speed) / step.forward);
  return {
    turns: withNewest(recent.turns, turns),
    shares: withNewest(recent.shares, share),
  };
}

function withNewest(list: number[], value: number): number[] {
  const next = list.slice(list.length < mostRecent ? 0 : 1);
  next.push(value);
  return next;
}
