import type { CheckMass } from '../domain/check-masses.ts';
import type { ScaleCalibration } from '../domain/scale-calibration.ts';
import type { BoardCommand } from '../link/encode.ts';
import type { Health, Identity, Reading } from '../link/readings.ts';
import type { SettingKey } from '../link/settings.ts';

/**
 * The check of a stand, new or once a year, as data: what is known of the stand, what goes in, what comes out. The check itself is a pure
 * function of these (`check.ts`); whoever runs it, the terminal or the service, carries the commands to the board and the words to a person.
 */

export const stepNames = [
  'identity',
  'settings',
  'flow',
  'wheel-forward',
  'wheel-back',
  'cells',
  'masses',
  'button',
  'lamp',
  'motor',
] as const;
export type StepName = (typeof stepNames)[number];

export const outcomes = ['passed', 'failed', 'skipped'] as const;
export type StepOutcome = (typeof outcomes)[number];

/** Something seen: a code with its values, for which `words.ts` and the page have sentences. `grave`: the step has failed by it. */
export interface Remark {
  code: string;
  values: Readonly<Record<string, string | number>>;
  grave: boolean;
}

export interface Figure {
  name: string;
  value: number;
  /** Symbol, as in `g/min`; empty for a count. */
  unit: string;
}

/** What came of one step. */
export interface StepResult {
  step: StepName;
  outcome: StepOutcome;
  figures: readonly Figure[];
  remarks: readonly Remark[];
}

/** What the stand says of itself. */
export interface StandKnown {
  identity: Identity;
  settings: ReadonlyMap<SettingKey, string>;
}

/** What a person may do. */
export type CheckAct =
  /** Begin this step, or go on in it: what was asked for is done. */
  | { do: 'go' }
  | { do: 'yes' }
  | { do: 'no' }
  /** Leave this step out. */
  | { do: 'skip' }
  /** Do this step once more. */
  | { do: 'again' }
  /** On to the next step, or to the end. */
  | { do: 'next' }
  /** Put these in the board's memory. */
  | { do: 'settings'; values: Readonly<Partial<Record<SettingKey, string>>> }
  /** The check masses at hand. */
  | { do: 'masses'; masses: readonly CheckMass[] }
  /** These hang on the cell now: weigh. */
  | { do: 'weigh'; masses: readonly string[] }
  /** The last weighing was a mistake. */
  | { do: 'undo' };

export type CheckInput =
  | { type: 'reading'; reading: Reading }
  | { type: 'health'; health: Health }
  /** The board said who it is and its settings were read anew. */
  | { type: 'known'; known: StandKnown }
  /** What became of a command: `word` is the board's detail, its word of refusal, or empty where no answer came. */
  | { type: 'answer'; to: BoardCommand['command']; ok: boolean; word: string }
  | { type: 'lost' }
  | { type: 'act'; act: CheckAct };

/** What a step wants done or shows; all but `work` may be left out. */
export interface Turn<Work> {
  work: Work;
  send?: readonly BoardCommand[];
  /** Stop the motor now, ahead of everything. */
  stop?: boolean;
  result?: Omit<StepResult, 'step'>;
}

/** What the person is asked to do, a code with its values, and which acts are open besides skip. */
export interface Ask {
  code: string;
  values: Readonly<Record<string, string | number>>;
  acts: readonly CheckAct['do'][];
}

/** One step of the check. `Work` is its own state, plain data. */
export interface StepLogic<Work> {
  begin(known: StandKnown): Work;
  take(work: Work, input: CheckInput, known: StandKnown): Turn<Work>;
  ask(work: Work, known: StandKnown): Ask;
  /** What can be watched meanwhile. */
  live(work: Work): readonly Figure[];
}

/** A cell's line as the check masses gave it. */
export interface FoundLine {
  cell: number;
  masses: readonly CheckMass[];
  calibration: ScaleCalibration;
  passed: boolean;
}

export const remark = (code: string, values: Remark['values'] = {}, grave = false): Remark => ({
  code,
  values,
  grave,
});
export const grave = (code: string, values: Remark['values'] = {}): Remark => remark(code, values, true);

/** A result that fails where one of the remarks is grave. */
export function judged(figures: readonly Figure[], remarks: readonly Remark[]): Omit<StepResult, 'step'> {
  return { outcome: remarks.some((each) => each.grave) ? 'failed' : 'passed', figures, remarks };
}

export const figure = (name: string, value: number, unit = ''): Figure => ({ name, value, unit });
