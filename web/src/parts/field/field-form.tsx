import { useEffect, useState } from 'preact/hooks';
import type { FieldLine, FieldView } from '../../../../server/http/field-messages.ts';
import {
  areaFields,
  areaKinds,
  convertFieldCheck,
  emptyDrafts,
  type FieldCheckDrafts,
  type FieldFieldId,
  fieldFields,
  fieldOfPointer,
  readFieldCheck,
} from '../../state/field-check/drafts.ts';
import {
  fieldDrafts,
  fieldLine,
  keepField,
  lookAtField,
  type Refused,
} from '../../state/field-check/field-check.ts';
import { exact, percent } from '../../state/format.ts';
import type { Fault } from '../../state/quantity.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { EntryInput } from '../entry-input.tsx';
import { rateText } from './field-words.ts';

interface Part {
  drafts: FieldCheckDrafts;
  change: (more: Partial<FieldCheckDrafts>) => void;
  faultOf: (id: FieldFieldId | 'name') => Fault | string | null;
}

const helpOf = (id: FieldFieldId | 'name', view: FieldView): string => {
  const settings = view.settings.map(({ setting }) => exact(setting)).join(', ');
  const helps: Partial<Record<typeof id, string>> = {
    name: say.fieldCheck.nameHelp,
    setting: say.fieldCheck.settingHelp({ settings }),
    filled: say.fieldCheck.filledHelp,
    left: say.fieldCheck.leftHelp,
    sure: say.fieldCheck.sureHelp,
  };
  return helps[id] ?? '';
};

function Entries({
  ids,
  view,
  drafts,
  change,
  faultOf,
}: Part & { ids: readonly (FieldFieldId | 'name')[]; view: FieldView }) {
  return (
    <div class="pairs">
      {ids.map((id) => (
        <EntryInput
          key={id}
          id={`field-${id}`}
          label={say.fieldCheck[id]}
          unit={id === 'name' ? '' : fieldFields[id].unit[system.value]}
          help={helpOf(id, view)}
          keys={id === 'name' || id === 'filled' ? 'text' : 'decimal'}
          value={drafts[id]}
          fault={faultOf(id)}
          onType={(typed) => change({ [id]: typed })}
        />
      ))}
    </div>
  );
}

function AreaKinds({ drafts, change }: Omit<Part, 'faultOf'>) {
  return (
    <fieldset class="field">
      <legend>{say.fieldCheck.areaBy}</legend>
      <div class="choices">
        {areaKinds.map((kind) => (
          <label key={kind}>
            <input
              type="radio"
              name="area-kind"
              checked={drafts.areaKind === kind}
              onChange={() => change({ areaKind: kind })}
            />
            <span>{say.fieldCheck.areaKinds[kind]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** What the figures say. */
function Worked({ line }: { line: FieldLine }) {
  const { factor, low, high, slip, correction, suspicious, fieldRate, standRate } = line;
  return (
    <div class="field-line" role="status">
      <p class="verdict" data-figure="fieldFactor">
        {say.fieldCheck.got({ percent: percent(factor), low: percent(low), high: percent(high) })}
      </p>
      <p>{correction === null ? say.fieldCheck.chance : say.fieldCheck.beyond}</p>
      {suspicious && <p class="note">{say.fieldCheck.suspicious}</p>}
      <p>{say.fieldCheck.rates({ field: rateText(fieldRate), stand: rateText(standRate) })}</p>
      <p>
        {say.fieldCheck.slip({
          value: percent(slip.value),
          low: percent(slip.low),
          high: percent(slip.high),
        })}
      </p>
    </div>
  );
}

/** The drafts in the units chosen now. */
function useDrafts(view: FieldView): [FieldCheckDrafts, (more: Partial<FieldCheckDrafts>) => void] {
  const kept = fieldDrafts.value;
  const first = () =>
    emptyDrafts(
      view.settings.map(({ setting }) => setting),
      view.rowCount,
    );
  const typed =
    kept === null
      ? first()
      : kept.system === system.value
        ? kept.typed
        : convertFieldCheck(kept.typed, kept.system, system.value);
  useEffect(() => {
    if (kept !== null && kept.system !== system.value) fieldDrafts.value = { system: system.value, typed };
  }, [system.value]);
  const change = (more: Partial<FieldCheckDrafts>) => {
    fieldDrafts.value = { system: system.value, typed: { ...typed, ...more } };
    fieldLine.value = null;
  };
  return [typed, change];
}

/** Typing in what was done in a field, seeing what it says, keeping it. */
export function FieldForm({ view }: { view: FieldView }) {
  const [drafts, change] = useDrafts(view);
  const [complain, setComplain] = useState(false);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [kept, setKept] = useState(false);
  const { body, faults } = readFieldCheck(drafts, system.value);
  const atField = refused?.field == null ? null : fieldOfPointer(refused.field);
  const faultOf = (id: FieldFieldId | 'name') =>
    atField === id ? refused!.message : complain ? (faults[id] ?? null) : null;
  const typed = (more: Partial<FieldCheckDrafts>) => {
    setRefused(null);
    setKept(false);
    change(more);
  };
  const send = async (keep: boolean) => {
    setComplain(body === null);
    if (body === null) return;
    const problem = keep ? await keepField(body) : await lookAtField(body);
    setRefused(problem);
    setKept(keep && problem === null);
  };
  const part = { drafts, change: typed, faultOf };
  const line = fieldLine.value;
  return (
    <form
      noValidate
      class="field-form"
      aria-label={say.fieldCheck.add}
      onSubmit={(event) => {
        event.preventDefault();
        void send(line !== null);
      }}
    >
      <h3>{say.fieldCheck.add}</h3>
      <Entries ids={['name', 'setting', 'filled', 'left', 'sure']} view={view} {...part} />
      <label class="tick">
        <input
          type="checkbox"
          checked={drafts.onStandScale}
          onChange={(event) => typed({ onStandScale: event.currentTarget.checked })}
        />
        <span>{say.fieldCheck.onStandScale}</span>
      </label>
      <AreaKinds {...part} />
      <Entries ids={areaFields[drafts.areaKind]} view={view} {...part} />
      {line !== null && <Worked line={line} />}
      <p class="row">
        <button type="submit" class="go">
          {line === null ? say.fieldCheck.look : say.fieldCheck.keep}
        </button>
        <span role="status">{kept ? say.fieldCheck.kept : ''}</span>
      </p>
      <p class="fault" role="alert">
        {refused !== null && atField === null ? refused.message : ''}
      </p>
    </form>
  );
}
