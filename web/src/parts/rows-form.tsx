import { useState } from 'preact/hooks';
import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import { compareRows } from '../state/calibrating.ts';
import { rowsDrafts } from '../state/calibration.ts';
import { handQuantity, type RowsDrafts, type RowsFaults, readRows } from '../state/entry.ts';
import { percent, wholeTurns } from '../state/format.ts';
import { say } from '../state/say.ts';
import { live, pending, system } from '../state/store.ts';
import { EntryInput } from './entry-input.tsx';
import { Told } from './told.tsx';

const words = say.setting.rows;

function first(): RowsDrafts {
  const { plan } = live.value;
  return { turns: plan === null ? '' : wholeTurns(plan.turns), catches: '', scaleStep: '', together: true };
}

/** Catches of several rows, typed in and compared. Folded until someone wants it, or has done it. */
export function RowsForm({ view }: { view: CalibrationView }) {
  const [complain, setComplain] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const drafts = rowsDrafts.value ?? first();
  const { body, faults } = readRows(drafts, system.value);
  const change = (more: Partial<RowsDrafts>) => {
    rowsDrafts.value = { ...drafts, ...more };
    setRefused(null);
  };
  const send = async (event: Event) => {
    event.preventDefault();
    setComplain(body === null);
    if (body === null) return;
    const problem = await compareRows(body);
    setRefused(problem);
    if (problem === null) rowsDrafts.value = null;
  };
  const shown: RowsFaults = complain ? faults : {};
  const massUnit = handQuantity('grams', null).unit[system.value];
  return (
    <details class="panel lid" open={rowsDrafts.value !== null || view.rows !== null}>
      <summary>{words.title}</summary>
      {view.rows !== null && (
        <p role="status">
          <Told>{view.rows.sentence}</Told> {words.doubt({ share: percent(view.rows.doubt) })}
        </p>
      )}
      <form noValidate onSubmit={(event) => void send(event)} aria-label={words.title}>
        <p class="help">{words.intro}</p>
        <EntryInput
          id="rows-catches"
          label={words.fields.catches}
          unit={massUnit}
          help={words.catchesHelp}
          value={drafts.catches}
          fault={shown.catches ?? null}
          onType={(catches) => change({ catches })}
        />
        <div class="pairs">
          <EntryInput
            id="rows-turns"
            label={words.fields.turns}
            value={drafts.turns}
            fault={shown.turns ?? null}
            onType={(turns) => change({ turns })}
          />
          <EntryInput
            id="rows-step"
            label={words.fields.scaleStep}
            unit={massUnit}
            value={drafts.scaleStep}
            fault={shown.scaleStep ?? null}
            onType={(scaleStep) => change({ scaleStep })}
          />
        </div>
        <label class="tick">
          <input
            type="checkbox"
            checked={drafts.together}
            onChange={(event) => change({ together: event.currentTarget.checked })}
          />
          <span>{words.together}</span>
        </label>
        <p class="row">
          <button type="submit" class="go" disabled={pending.value !== null}>
            {words.compare}
          </button>
        </p>
        <p class="fault" role="alert">
          {refused}
        </p>
      </form>
    </details>
  );
}
