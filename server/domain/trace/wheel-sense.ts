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
  /** Readings that brought pulses of both directions: no wheel turns round as fast as that. */
  mixed: number;
  firstMixed: Instant | null;
  newestMixed: Instant | null;
}

export interface Picture {
  turns: number[];
  shares: number[];
}

/** So much evidence (natural logarithm of how many times likelier) raises a finding, and so much keeps it. */
export const raising = 8;
export const keeping = 4;
const mostRecent = 48;
/** A chatter of both directions so often is one without further proof. */
export const mixedEnough = 3;

export function noWheelSense({ pulsesPerTurn, drive }: TraceKnowledge): WheelSense {
  return {
    pulsesPerTurn,
    reader: noStepReader,
    accounts: firstAccounts(pulsesPerTurn, drive),
    recent: { turns: [], shares: [] },
    missed: null,
    doubled: null,
    mixed: 0,
    firstMixed: null,
    newestMixed: null,
  };
}

export function addToWheelSense(state: WheelSense, reading: TraceReading): WheelSense {
  const [reader, step] = readStep(state.reader, reading);
  const forward = reading.forward - state.reader.forward;
  const backward = reading.backward - state.reader.backward;
  const next = { ...state, reader };
  if (forward > 0 && backward > 0 && state.reader.micros >= 0) {
    next.mixed++;
    next.newestMixed = instantOf(state, reading, reading.micros / 1e6);
    next.firstMixed ??= next.newestMixed;
  }
  return step === null ? next : stepped(next, step, instantOf(state, reading, step.seconds));
}

const instantOf = ({ pulsesPerTurn }: WheelSense, reading: TraceReading, seconds: number): Instant => ({
  turns: (reading.forward - reading.backward) / pulsesPerTurn,
  seconds,
});

function stepped(state: WheelSense, step: WheelStep, instant: Instant): WheelSense {
  const recent = withInterval(state, step, instant);
  const accounts = weigh(state.accounts, step, instant);
  const picture = (of: 'missed' | 'doubled') =>
    state[of] ?? (accounts[0]![of] > 0 && evidence(accounts, of) > raising ? recent : null);
  return { ...state, accounts, recent, missed: picture('missed'), doubled: picture('doubled') };
}

function withInterval({ accounts, recent }: WheelSense, step: WheelStep, { turns }: Instant): Picture {
  const { motion } = accounts[0]!;
  const passed = step.seconds - motion.seconds;
  if (motion.speed === 0 || passed <= 0 || step.torn) return recent;
  const share = Math.min(5, (passed * motion.speed) / step.forward);
  return {
    turns: [...recent.turns, turns].slice(-mostRecent),
    shares: [...recent.shares, share].slice(-mostRecent),
  };
}
