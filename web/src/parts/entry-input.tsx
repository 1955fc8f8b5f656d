import type { Fault } from '../state/form.ts';
import { faultWords } from './field.tsx';
import { unitWords } from './unit-words.ts';

interface EntryInputProps {
  id: string;
  label: string;
  value: string;
  onType: (typed: string) => void;
  unit?: string;
  help?: string;
  /** Which keys a phone offers. */
  keys?: 'decimal' | 'text';
  /** Shown beside the field; null while there is nothing to complain of. */
  fault?: Fault | string | null;
}

/** A field beside the plan: its name, its unit, and what is wrong with what was typed. */
export function EntryInput({
  id,
  label,
  value,
  onType,
  unit = '',
  help = '',
  keys = 'decimal',
  fault = null,
}: EntryInputProps) {
  const problem = fault === null || typeof fault === 'string' ? fault : faultWords(fault, label);
  return (
    <div class={problem === null ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <div class="entry">
        <input
          id={id}
          value={value}
          inputMode={keys}
          autocomplete="off"
          spellcheck={false}
          aria-invalid={problem !== null}
          aria-describedby={`${id}-help ${id}-problem`}
          onInput={(event) => onType(event.currentTarget.value)}
        />
        {unit !== '' && <span class="unit">{unitWords(unit)}</span>}
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
