import { useState } from 'preact/hooks';
import { v7 as newId } from 'uuid';
import { addHandRun } from '../state/calibrating.ts';
import { calibration, handDrafts, handRunId } from '../state/calibration.ts';
import { type HandDrafts, type HandFaults, handFields, handQuantity, readHandRun } from '../state/entry.ts';
import { wholeTurns } from '../state/format.ts';
import { say } from '../state/say.ts';
import { live, pending, system } from '../state/store.ts';
import { EntryInput } from './entry-input.tsx';

const words = say.setting.hand;

/** What the form begins with: the plan's setting and turns. */
function first(): HandDrafts {
  const { plan } = live.value;
  return {
    setting: plan?.drill.setting ?? '',
    turns: plan === null ? '' : wholeTurns(plan.turns),
    grams: '',
    scaleStep: '',
    countedByEye: true,
  };
}

/** A catch weighed by hand, typed in. What was typed stays until it is on record. */
export function HandRun() {
  const [shown, show] = useState(false);
  const [told, tell] = useState<{ refused: string } | 'added' | null>(null);
  const drafts = handDrafts.value ?? first();
  const { body, faults } = readHandRun(drafts, calibration.value?.scale ?? null, system.value);
  const change = (more: Partial<HandDrafts>) => {
    handDrafts.value = { ...drafts, ...more };
    handRunId.value = newId();
    tell(null);
  };
  const send = async (event: Event) => {
    event.preventDefault();
    show(body === null);
    if (body === null) return;
    const refused = await addHandRun({ ...body, id: handRunId.value });
    tell(refused === null ? 'added' : { refused });
    if (refused !== null) return;
    handDrafts.value = { ...drafts, grams: '' };
    handRunId.value = newId();
  };
  const visible: HandFaults = shown ? faults : {};
  return (
    <form class="panel group" noValidate onSubmit={(event) => void send(event)} aria-labelledby="hand-title">
      <h2 id="hand-title">{words.title}</h2>
      <p class="help">{words.intro}</p>
      <div class="pairs">
        {handFields.map((id) => (
          <EntryInput
            key={id}
            id={`hand-${id}`}
            label={words.fields[id]}
            unit={handQuantity(id, null).unit[system.value]}
            value={drafts[id]}
            fault={visible[id] ?? null}
            help={id === 'scaleStep' ? words.stepHelp : ''}
            onType={(typed) => change({ [id]: typed })}
          />
        ))}
      </div>
      <label class="tick">
        <input
          type="checkbox"
          checked={drafts.countedByEye}
          onChange={(event) => change({ countedByEye: event.currentTarget.checked })}
        />
        <span>
          {words.byEye} <small>{words.byEyeHelp}</small>
        </span>
      </label>
      <p class="row">
        <button type="submit" class="go" disabled={pending.value !== null}>
          {words.add}
        </button>
        <span role="status">{told === 'added' ? words.added : ''}</span>
      </p>
      <p class="fault" role="alert">
        {told !== null && told !== 'added' ? told.refused : ''}
      </p>
    </form>
  );
}
