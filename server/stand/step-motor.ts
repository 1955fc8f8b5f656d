import type { Reading } from '../link/readings.ts';
import { hasReadingFlag } from './flags.ts';
import { coastTurns, motorTurns } from './limits.ts';
import {
  type CheckInput,
  type Figure,
  figure,
  grave,
  judged,
  type Remark,
  type StandKnown,
  type StepLogic,
  type Turn,
} from './types.ts';

/** The motor for two turns, after somebody has said that the wheel is clear: on at the start, off at the count, and how far it coasts. */

export interface MotorWork {
  at: 'begin' | 'arming' | 'starting' | 'turning' | 'coasting';
  first: Reading | null;
  /** The reading in which the motor was last seen on, and the first after the count. */
  motorSeen: boolean;
  ended: Reading | null;
  /** Board time of the newest pulse, to tell a wheel that stands. */
  pulses: number;
  pulseMicros: number;
}

/** A wheel without a pulse for so long stands still. */
const stillMicros = 2_000_000;
/** Gone on as far again as it was driven, the wheel does not coast: something drives it. */
const mostTurnsBeyond = motorTurns;
/** The motor has failed to start or to stop by then. */
const longestMicros = 60_000_000;

const begin: MotorWork = {
  at: 'begin',
  first: null,
  motorSeen: false,
  ended: null,
  pulses: 0,
  pulseMicros: 0,
};

const pulsesOf = ({ forwardPulses, backwardPulses }: Reading): number => forwardPulses - backwardPulses;

function fail(work: MotorWork, each: Remark): Turn<MotorWork> {
  return { work, stop: true, result: judged([], [each]) };
}

function resultOf(work: MotorWork, last: Reading, { identity }: StandKnown): Turn<MotorWork> {
  const { first, ended } = work;
  const turned = (pulsesOf(last) - pulsesOf(first!)) / identity.pulsesPerTurn;
  const coasted = turned - motorTurns;
  const seconds = (ended!.boardMicros - first!.boardMicros) / 1e6;
  const figures: Figure[] = [
    figure('turns', turned),
    figure('coast', coasted, 'turns'),
    figure('turns-a-minute', (60 * motorTurns) / seconds, '1/min'),
  ];
  const remarks: Remark[] = [];
  if (!work.motorSeen) remarks.push(grave('motor-flag-missing'));
  const staysOn = hasReadingFlag(last, 'motorOn');
  if (staysOn) remarks.push(grave('motor-stays-on'));
  if (coasted >= coastTurns) remarks.push(grave('coast-long', { turns: Math.round(100 * coasted) / 100 }));
  return { work, stop: staysOn, result: judged(figures, remarks) };
}

/** Turns made since the count was reached, either way. */
function turnsBeyond({ ended }: MotorWork, reading: Reading, { identity }: StandKnown): number {
  return ended === null ? 0 : Math.abs(pulsesOf(reading) - pulsesOf(ended)) / identity.pulsesPerTurn;
}

function followed(work: MotorWork, reading: Reading): MotorWork {
  const pulses = reading.forwardPulses + reading.backwardPulses;
  return {
    ...work,
    first: work.first ?? reading,
    motorSeen: work.motorSeen || hasReadingFlag(reading, 'motorOn'),
    pulses,
    pulseMicros: pulses === work.pulses && work.first !== null ? work.pulseMicros : reading.boardMicros,
  };
}

function onReading(before: MotorWork, reading: Reading, known: StandKnown): Turn<MotorWork> {
  const work = followed(before, reading);
  if (reading.boardMicros - work.first!.boardMicros > longestMicros) return fail(work, grave('motor-no-end'));
  if (work.at === 'turning' && reading.state === 'halted')
    return fail(work, grave('motor-halted', { why: reading.why }));
  if (work.at === 'turning' && reading.state === 'done')
    return { work: { ...work, at: 'coasting', ended: reading } };
  if (turnsBeyond(work, reading, known) >= mostTurnsBeyond) return fail(work, grave('motor-goes-on'));
  const still = reading.boardMicros - work.pulseMicros > stillMicros;
  return work.at === 'coasting' && still ? resultOf(work, reading, known) : { work };
}

/** Armed, then started with the key of that very arming. */
function onAnswer(
  work: MotorWork,
  { to, ok, word }: Extract<CheckInput, { type: 'answer' }>,
): Turn<MotorWork> {
  const awaited = (to === 'arm' && work.at === 'arming') || (to === 'go' && work.at === 'starting');
  if (!awaited) return { work };
  if (!ok) return fail(work, grave('motor-refused', { word }));
  return to === 'arm'
    ? { work: { ...work, at: 'starting' }, send: [{ command: 'go', key: word }] }
    : { work: { ...work, at: 'turning' } };
}

export const motorStep: StepLogic<MotorWork> = {
  begin: () => begin,
  take(work, input, known) {
    // Only a plain yes to the question whether the wheel is clear begins.
    if (input.type === 'act' && input.act.do === 'yes' && work.at === 'begin') {
      const pulses = motorTurns * known.identity.pulsesPerTurn;
      return { work: { ...begin, at: 'arming' }, send: [{ command: 'arm', mode: 'motor', pulses }] };
    }
    if (input.type === 'act' && input.act.do === 'no' && work.at !== 'begin')
      return fail(work, grave('motor-stopped'));
    if (input.type === 'answer') return onAnswer(work, input);
    const moving = work.at === 'turning' || work.at === 'coasting';
    return input.type === 'reading' && moving ? onReading(work, input.reading, known) : { work };
  },
  ask: ({ at }) => ({
    code: at === 'begin' ? 'motor-clear' : 'motor-turning',
    values: { turns: motorTurns },
    acts: at === 'begin' ? ['yes'] : ['no'],
  }),
  live: (work) => (work.first === null ? [] : [figure('pulses', work.pulses)]),
};
