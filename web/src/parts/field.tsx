import type { ComponentChildren } from 'preact';
import { fieldText, typeField } from '../state/doing.ts';
import { type FieldId, fieldAt, fields } from '../state/fields.ts';
import type { Fault } from '../state/form.ts';
import { say } from '../state/say.ts';
import { form, planProblem, system } from '../state/store.ts';
import { toldWords } from '../state/told.ts';
import { setupFaultWords } from './setup/fault-words.ts';
import { unitWords } from './unit-words.ts';

const { errors } = say.form;

/** What is wrong, in a sentence. */
export function faultWords(fault: Fault, label: string): string {
  switch (fault.kind) {
    case 'empty':
      return errors.empty({ label });
    case 'too-long':
      return errors.tooLong({ label, most: fault.most });
    case 'nonsense':
      return errors.nonsense({ typed: fault.typed, example: fault.example });
    case 'unit':
      return errors.unit({ unit: fault.unit, example: fault.example });
    case 'two-readings':
      return errors.twoReadings({ one: fault.one, other: fault.other });
    case 'range':
      return errors.range({ label, low: fault.low, high: fault.high });
    case 'whole':
      return errors.whole({ label });
    case 'too-many':
      return errors.tooMany({ label, most: fault.most });
    case 'scale-incomplete':
      return errors.scaleIncomplete;
    case 'below-low':
      return errors.belowLow;
    case 'step-too-wide':
      return errors.stepTooWide;
    case 'closed-too-high':
      return errors.closedTooHigh;
    default:
      return setupFaultWords(fault);
  }
}

/** A field that one types into, and nothing else. */
export type InputId = Exclude<
  FieldId,
  'mode' | 'parts' | 'targetUnit' | 'rowSpacingFrom' | 'circumferenceFrom'
>;

/** Name of a field, and what it is for. */
export function wordsOf(id: InputId | 'mode' | 'targetUnit'): { label: string; help: string } {
  switch (id) {
    case 'scaleMarks':
    case 'shaftRatio':
    case 'establishment':
    case 'targetUnit':
      return say.setup.fields[id];
    default:
      return say.form.fields[id];
  }
}

/** The page's own check speaks first, then the server's. */
export function problemOf(id: InputId | 'mode' | 'targetUnit'): string | null {
  const fault = form.value?.faults[id];
  if (fault !== undefined) return faultWords(fault, wordsOf(id).label);
  const problem = planProblem.value;
  return problem?.field !== undefined && fieldAt(problem.field) === id ? toldWords(problem.message) : null;
}

interface FieldProps {
  id: InputId;
  /** In place of the field's own. */
  unit?: string;
  /** What explains it, below. */
  children?: ComponentChildren;
}

/** A field of the plan: its name, its unit, what it is for, and what is wrong with what was typed. */
export function FieldInput({ id, unit: given, children }: FieldProps) {
  const field = fields[id];
  const { label, help } = wordsOf(id);
  const problem = problemOf(id);
  const unit = given ?? (field.kind === 'number' ? field.unit[system.value] : '');
  return (
    <div class={problem === null ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <div class="entry">
        <input
          id={id}
          value={fieldText(id)}
          inputMode={field.kind === 'number' ? 'decimal' : 'text'}
          autocomplete="off"
          spellcheck={false}
          aria-invalid={problem !== null}
          aria-describedby={`${id}-help ${id}-problem`}
          onInput={(event) => typeField(id, event.currentTarget.value)}
        />
        {unit !== '' && <span class="unit">{unitWords(unit)}</span>}
      </div>
      <p id={`${id}-problem`} class="fault" aria-live="polite">
        {problem}
      </p>
      <p id={`${id}-help`} class="help">
        {help}
      </p>
      {children}
    </div>
  );
}

/** Whether a motor or a hand turns the wheel. */
export function ModeInput() {
  const { plan } = form.value!;
  const problem = problemOf('mode');
  return (
    <fieldset class="field mode">
      <legend>{say.form.fields.mode.label}</legend>
      <div class="choices">
        {(['motor', 'hand'] as const).map((mode) => (
          <label key={mode}>
            <input
              type="radio"
              name="mode"
              checked={plan.mode === mode}
              onChange={() => typeField('mode', mode)}
            />
            <span>{say.form.modes[mode]}</span>
          </label>
        ))}
      </div>
      <p class="fault" aria-live="polite">
        {problem}
      </p>
    </fieldset>
  );
}
