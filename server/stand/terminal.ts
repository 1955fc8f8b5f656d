import type { CheckMass } from '../domain/check-masses.ts';
import { grams } from '../domain/units.ts';
import type { SettingKey } from '../link/settings.ts';
import { askOf, type CheckState } from './check.ts';
import { CheckConductor, type StandLine } from './conductor.ts';
import { type CheckReport, reportOf } from './report.ts';
import type { MassesWork } from './step-masses.ts';
import { askedSettings } from './step-settings.ts';
import { type Ask, type CheckAct, type StandKnown, type StepResult, stepNames } from './types.ts';
import { askSentence, outcomeWords, remarkSentence, stepTitles } from './words.ts';

/** The check in a terminal: says what to do, reads a word, and so on to the end. */

export interface TerminalOptions {
  line: StandLine;
  /** Prints a line of text. */
  print: (text: string) => void;
  /** The next line that the person types, or null when there will be none. */
  read: () => Promise<string | null>;
  /** Called when the person is asked something, each time anew: whoever plays the person does it then. */
  asked?: (ask: Ask, state: CheckState) => void;
  by: string;
  now: () => string;
}

const actWords: Record<Exclude<CheckAct['do'], 'settings' | 'masses' | 'weigh'>, string> = {
  go: 'Enter',
  yes: 'yes',
  no: 'no',
  skip: 'skip',
  again: 'again',
  next: 'Enter',
  undo: 'undo',
};

const typedHints: Partial<Record<CheckAct['do'], string>> = {
  settings: 'key=value ... to change',
  weigh: '0, or the masses hung on as 200+50, to weigh',
  masses: 'masses 20 50±0.01 ... to say which there are',
};

/** What may be typed now, for the prompt. */
export function choices({ acts }: Ask): string {
  return acts
    .map(
      (act) =>
        typedHints[act] ?? (act === 'go' || act === 'next' ? 'Enter to go on' : actWords[act as 'yes']),
    )
    .join(', ');
}

function settingsIn(text: string): CheckAct | null {
  const pairs = text.split(/\s+/).map((each) => each.split('='));
  const known = pairs.every(
    ([key, value]) => (askedSettings as readonly string[]).includes(key ?? '') && value !== undefined,
  );
  if (!known) return null;
  return { do: 'settings', values: Object.fromEntries(pairs) as Partial<Record<SettingKey, string>> };
}

/** `masses 20 50±0.01`: grams, each with its doubt where one is known. */
function massesIn(text: string): CheckAct | null {
  const list = text
    .split(/\s+/)
    .slice(1)
    .map((each): CheckMass | null => {
      const [mass = '', doubt = '0'] = each.replaceAll(',', '.').split('±');
      const [value, standard] = [Number(mass), Number(doubt)];
      if (!(value > 0 && standard >= 0 && Number.isFinite(value + standard))) return null;
      return { name: `${value} g`, grams: grams(value), standardDoubt: grams(standard) };
    });
  return list.length === 0 || list.includes(null) ? null : { do: 'masses', masses: list as CheckMass[] };
}

/** `200+50`: the masses of these weights; `0`: none. */
function loadIn(text: string, state: CheckState): CheckAct | null {
  if (text === '0') return { do: 'weigh', masses: [] };
  const { masses } = state.work as MassesWork;
  const names = text
    .split('+')
    .map((each) => masses.find((mass) => Number(mass.grams) === Number(each.trim()))?.name);
  return names.includes(undefined) ? null : { do: 'weigh', masses: names as string[] };
}

/** The act that a typed line means now, or null where it means none. */
export function actIn(typed: string, ask: Ask, state: CheckState): CheckAct | null {
  const text = typed.trim();
  const open = (act: CheckAct['do']) => ask.acts.includes(act);
  // Whoever types while the motor turns wants it to stop.
  if (ask.code === 'motor-turning') return { do: text === 'skip' ? 'skip' : 'no' };
  if (text === '') return open('go') ? { do: 'go' } : open('next') ? { do: 'next' } : null;
  for (const word of ['yes', 'no', 'skip', 'again', 'undo'] as const)
    if (text === word && open(word)) return { do: word };
  if (open('settings') && text.includes('=')) return settingsIn(text);
  if (open('masses') && text.startsWith('masses ')) return massesIn(text);
  return open('weigh') ? loadIn(text, state) : null;
}

function tellResult({ outcome, figures, remarks }: StepResult, print: (text: string) => void): void {
  print(`  ${outcomeWords[outcome]}`);
  for (const { name, value, unit } of figures) {
    print(`  ${name.replaceAll('-', ' ')} ${Number(value.toPrecision(5))} ${unit}`.trimEnd());
  }
  for (const each of remarks) print(`  - ${remarkSentence(each)}`);
}

/** The check under way in a terminal: what was said last, and the line that is being waited for. */
class Dialogue {
  readonly #options: TerminalOptions;
  readonly #conductor: CheckConductor;
  #wake: () => void = () => {};
  #said = '';
  #offered = '';
  #typing: Promise<string | null> | null = null;
  /** The question for whose sake what was typed before it was thrown away. */
  #cleared = '';

  constructor(options: TerminalOptions, known: StandKnown) {
    this.#options = options;
    this.#conductor = new CheckConductor(options.line, known, () => this.#wake());
  }

  async toTheEnd(): Promise<CheckState> {
    while (this.#conductor.state.end === null) await this.#question();
    await this.#conductor.end();
    return this.#conductor.state;
  }

  /** What is asked now, as long as it is asked. */
  async #question(): Promise<void> {
    const { state } = this.#conductor;
    const ask = askOf(state);
    const result = resultNow(state);
    if (result !== undefined) tellResult(result, this.#options.print);
    if (result !== undefined && result.outcome !== 'failed') return this.#conductor.act({ do: 'next' });
    const key = keyOf(state);
    if (ask.code === 'motor-clear' && this.#cleared !== key) {
      this.#cleared = key;
      return this.#forgetTyped();
    }
    if (result === undefined && key !== this.#said) {
      const number = stepNames.indexOf(state.step) + 1;
      this.#options.print(`[${number}] ${stepTitles[state.step]}: ${askSentence(ask)}`);
    }
    if (key !== this.#said) this.#options.asked?.(ask, state);
    this.#said = key;
    const typed = await Promise.race([this.#typed(ask), this.#otherThan(key)]);
    if (typed !== undefined) await this.#take(typed);
  }

  /** The next line, once there is something to answer in words; `undefined` never comes from here. */
  #typed(ask: Ask): Promise<string | null> {
    if (ask.acts.every((act) => act === 'skip')) return new Promise(() => {});
    const offer = `    (${choices(ask)})`;
    if (offer !== this.#offered) this.#options.print(offer);
    this.#offered = offer;
    this.#typing ??= this.#options.read();
    return this.#typing;
  }

  /** Throws away what was typed already: a yes pressed once too often for the lamp must not turn the wheel. */
  async #forgetTyped(): Promise<void> {
    for (;;) {
      this.#typing ??= this.#options.read();
      const typed = await Promise.race([this.#typing, oneTurn()]);
      // Nothing is there, or there will be nothing more.
      if (typed === undefined || typed === null) return;
      this.#typing = null;
      this.#options.print('  That was typed before the question came. Read it, then answer.');
    }
  }

  /** Resolves once another thing is asked. */
  async #otherThan(key: string): Promise<undefined> {
    while (this.#conductor.state.end === null && keyOf(this.#conductor.state) === key) {
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
  }

  async #take(typed: string | null): Promise<void> {
    this.#typing = null;
    if (typed === null) {
      await this.#conductor.end();
      throw new UnfinishedError(
        'The check ended before its last step, for nothing more was typed. What it had set going was stopped.',
      );
    }
    const { state } = this.#conductor;
    const act = actIn(typed, askOf(state), state);
    if (act === null) this.#options.print('  That means nothing here.');
    else {
      this.#said = '';
      this.#cleared = '';
      this.#conductor.act(act);
    }
  }
}

/** Long enough for lines that are there already to be read. */
async function oneTurn(): Promise<undefined> {
  for (let turn = 0; turn < 2; turn++) await new Promise((resolve) => setImmediate(resolve));
}

/** The typing ended before the check did. */
export class UnfinishedError extends Error {
  override name = 'UnfinishedError';
}

const resultNow = ({ work, results, step }: CheckState): StepResult | undefined =>
  work === null ? results.find((each) => each.step === step) : undefined;

/** Changes whenever another thing is asked. */
function keyOf(state: CheckState): string {
  const { code, values } = askOf(state);
  return `${state.step} ${code} ${JSON.stringify(values)} ${state.results.length}`;
}

/** A check that is over: its state, and the report of it. */
export interface FinishedCheck {
  state: CheckState;
  report: CheckReport;
}

/** Leads through the whole check. @throws UnfinishedError where the typing ends first. */
export async function checkInTerminal(options: TerminalOptions, known: StandKnown): Promise<FinishedCheck> {
  const state = await new Dialogue(options, known).toTheEnd();
  return { state, report: reportOf(state, options.now(), options.by) };
}
