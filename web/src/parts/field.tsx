import { fieldText, typeField } from '../state/doing.ts';
import { type FieldId, fieldAt, fields } from '../state/fields.ts';
import type { Fault } from '../state/form.ts';
import { say } from '../state/say.ts';
import { form, planProblem, system } from '../state/store.ts';

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
  }
}

/** The page's own check speaks first, then the server's. */
function problemOf(id: FieldId): string | null {
  const fault = form.value?.faults[id];
  if (fault !== undefined) return faultWords(fault, say.form.fields[id].label);
  const problem = planProblem.value;
  return problem?.field !== undefined && fieldAt(problem.field) === id ? problem.message : null;
}

/** A field of the plan: its name, its unit, what it is for, and what is wrong with what was typed. */
export function FieldInput({ id }: { id: Exclude<FieldId, 'mode'> }) {
  const field = fields[id];
  const { label, help } = say.form.fields[id];
  const problem = problemOf(id);
  const unit = field.kind === 'number' ? field.unit[system.value] : '';
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
        {unit !== '' && <span class="unit">{unit}</span>}
      </div>
      <p id={`${id}-problem`} class="fault" aria-live="polite">
        {problem}
      </p>
      <p id={`${id}-help`} class="help">
        {help}
      </p>
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
