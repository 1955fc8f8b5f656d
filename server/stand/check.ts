import type { BoardCommand } from '../link/encode.ts';
import { buttonStep } from './step-button.ts';
import { cellsStep } from './step-cells.ts';
import { flowStep } from './step-flow.ts';
import { identityStep } from './step-identity.ts';
import { lampStep } from './step-lamp.ts';
import { type MassesWork, massesStep } from './step-masses.ts';
import { motorStep } from './step-motor.ts';
import { settingsStep } from './step-settings.ts';
import { wheelBackStep, wheelForwardStep } from './step-wheel.ts';
import {
  type Ask,
  type CheckAct,
  type CheckInput,
  type Figure,
  type FoundLine,
  grave,
  type StandKnown,
  type StepLogic,
  type StepName,
  type StepResult,
  stepNames,
  type Turn,
} from './types.ts';

/** The whole check: one step after the other, each judged by itself, any of them done again or left out. Pure: state and input in, state and commands out. */

const logics: { readonly [Name in StepName]: StepLogic<never> } = {
  identity: identityStep as StepLogic<never>,
  settings: settingsStep as StepLogic<never>,
  flow: flowStep as StepLogic<never>,
  'wheel-forward': wheelForwardStep as StepLogic<never>,
  'wheel-back': wheelBackStep as StepLogic<never>,
  cells: cellsStep as StepLogic<never>,
  masses: massesStep as StepLogic<never>,
  button: buttonStep as StepLogic<never>,
  lamp: lampStep as StepLogic<never>,
  motor: motorStep as StepLogic<never>,
};

export interface CheckState {
  known: StandKnown;
  step: StepName;
  /** The step's own state; null once it has been judged. */
  work: unknown;
  /** The newest result of each step that was done or left out, in their order. */
  results: readonly StepResult[];
  /** Lines that the check masses gave. */
  found: readonly FoundLine[];
  /** `finished`: all steps behind. `broken`: the stand went away. */
  end: 'finished' | 'broken' | null;
}

export interface CheckMove {
  state: CheckState;
  send: readonly BoardCommand[];
  /** Stop the motor, ahead of `send`. */
  stop: boolean;
}

/** Steps that this stand has: without a direction sensor backwards turns cannot be told. */
export const stepsFor = ({ identity }: StandKnown): StepName[] =>
  stepNames.filter((name) => name !== 'wheel-back' || identity.direction !== 0);

function beginStep(state: CheckState, step: StepName): CheckState {
  return { ...state, step, work: logics[step].begin(state.known) };
}

/** The check before its first step. */
export function beginCheck(known: StandKnown): CheckState {
  return beginStep({ known, step: 'identity', work: null, results: [], found: [], end: null }, 'identity');
}

const stay = (state: CheckState): CheckMove => ({ state, send: [], stop: false });

/** A step in which the motor may be armed or turning. */
const mayTurn = ({ step, work }: CheckState): boolean =>
  work !== null && (step === 'motor' || step === 'button');

/** The lines that the masses gave; those of a step left half done hold for nothing. */
function foundBy({ outcome }: StepResult, work: MassesWork): readonly FoundLine[] {
  return outcome === 'skipped' ? [] : work.found;
}

function withResult(state: CheckState, result: StepResult): CheckState {
  const others = state.results.filter(({ step }) => step !== result.step);
  const results = [...others, result].sort((a, b) => stepNames.indexOf(a.step) - stepNames.indexOf(b.step));
  const found = state.step === 'masses' ? foundBy(result, state.work as MassesWork) : state.found;
  return { ...state, work: null, results, found };
}

function nextStep(state: CheckState): CheckState {
  const steps = stepsFor(state.known);
  const later = stepNames.slice(stepNames.indexOf(state.step) + 1).find((name) => steps.includes(name));
  return later === undefined ? { ...state, work: null, end: 'finished' } : beginStep(state, later);
}

/** A step under way is left out; where the motor might be armed or turning, that stops it. */
function skip(state: CheckState): CheckMove {
  const result: StepResult = { step: state.step, outcome: 'skipped', figures: [], remarks: [] };
  return { state: nextStep(withResult(state, result)), send: [], stop: mayTurn(state) };
}

function actOnWhole(state: CheckState, act: CheckAct): CheckMove | null {
  if (act.do === 'skip' && state.work !== null) return skip(state);
  if (act.do === 'again' && state.work === null) return stay(beginStep(state, state.step));
  if (act.do === 'next' && state.work === null) return stay(nextStep(state));
  return null;
}

function lost(state: CheckState): CheckState {
  if (state.work === null) return { ...state, end: 'broken' };
  const result: StepResult = {
    step: state.step,
    outcome: 'failed',
    figures: [],
    remarks: [grave('stand-lost')],
  };
  return { ...withResult(state, result), end: 'broken' };
}

/** One input. What comes after the end changes nothing. A stand that went away is told to stop, in case it hears it yet. */
export function checkStep(before: CheckState, input: CheckInput): CheckMove {
  if (before.end !== null) return stay(before);
  if (input.type === 'lost') return { state: lost(before), send: [], stop: mayTurn(before) };
  const state = input.type === 'known' ? { ...before, known: input.known } : before;
  const whole = input.type === 'act' ? actOnWhole(state, input.act) : null;
  if (whole !== null) return whole;
  if (state.work === null || (input.type === 'act' && !isOpen(state, input.act))) return stay(state);
  const turn: Turn<unknown> = logics[state.step].take(state.work as never, input, state.known);
  const moved = { ...state, work: turn.work };
  const next = turn.result === undefined ? moved : withResult(moved, { step: state.step, ...turn.result });
  return { state: next, send: turn.send ?? [], stop: turn.stop ?? false };
}

/** Whether this act is among those asked for now. */
function isOpen(state: CheckState, act: CheckAct): boolean {
  return askOf(state).acts.includes(act.do);
}

/** What the person is to do now. */
export function askOf({ work, step, known, end }: CheckState): Ask {
  if (end !== null) return { code: end, values: {}, acts: [] };
  if (work === null) return { code: 'judged', values: {}, acts: ['next', 'again'] };
  const ask = logics[step].ask(work as never, known);
  return { ...ask, acts: [...ask.acts, 'skip'] };
}

/** What can be watched now. */
export function liveOf({ work, step }: CheckState): readonly Figure[] {
  return work === null ? [] : logics[step].live(work as never);
}

/** True where every step was done and none failed; a step left out by hand does not pass. */
export function hasPassed({ results, known, end }: CheckState): boolean {
  const done = stepsFor(known).every((name) =>
    results.some(
      ({ step, outcome, remarks }) =>
        step === name && (outcome === 'passed' || remarks.some(({ code }) => code === 'lamp-unknown')),
    ),
  );
  return end === 'finished' && done;
}
