import { useState } from 'preact/hooks';
import type { ScaleView } from '../../../../server/http/scale-messages.ts';
import { figure } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { type BeginDrafts, firstDrafts, massKinds, readBegin } from '../../state/scale-place/begin.ts';
import { beginCheck, scaleBusy } from '../../state/scale-place/scale-place.ts';
import { system } from '../../state/store.ts';
import { EntryInput } from '../entry-input.tsx';

/** Masses of one's own are as sure as whoever weighed them. */
function OwnMasses({ drafts, change, faults }: Part) {
  return (
    <div class="pairs">
      <EntryInput
        id="mass-doubt"
        label={say.scale.massDoubt}
        unit="g"
        help={say.scale.massDoubtHelp}
        value={drafts.doubt}
        fault={faults.doubt ?? null}
        onType={(doubt) => change({ doubt })}
      />
      <EntryInput
        id="mass-shared"
        label={say.scale.massShared}
        unit="%"
        help={say.scale.massSharedHelp}
        value={drafts.shared}
        fault={faults.shared ?? null}
        onType={(shared) => change({ shared })}
      />
    </div>
  );
}

interface Part {
  drafts: BeginDrafts;
  change: (more: Partial<BeginDrafts>) => void;
  faults: ReturnType<typeof readBegin>['faults'];
}

function Kinds({ drafts, change }: Omit<Part, 'faults'>) {
  return (
    <fieldset class="field">
      <legend>{say.scale.massKind}</legend>
      <div class="choices">
        {massKinds.map((kind) => (
          <label key={kind}>
            <input
              type="radio"
              name="mass-kind"
              checked={drafts.kind === kind}
              onChange={() => change({ kind })}
            />
            <span>{say.scale.massKinds[kind]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** Which cell, where there are several. */
function Cells({ count, cell, choose }: { count: number; cell: number; choose: (cell: number) => void }) {
  return (
    <fieldset class="field">
      <legend>{say.scale.whichCell}</legend>
      <div class="choices">
        {Array.from({ length: count }, (_, index) => (
          <label key={index}>
            <input type="radio" name="cell" checked={cell === index} onChange={() => choose(index)} />
            <span>{say.scale.cell({ cell: String(index + 1) })}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** Which masses there are: what a check begins with. */
export function BeginCheck({
  view,
  cell,
  choose,
}: {
  view: ScaleView;
  cell: number;
  choose: (cell: number) => void;
}) {
  const [drafts, setDrafts] = useState<BeginDrafts>(() => firstDrafts(view.suggestedMasses));
  const [complain, setComplain] = useState(false);
  const { body, faults } = readBegin(drafts, cell, system.value);
  const change = (more: Partial<BeginDrafts>) => setDrafts({ ...drafts, ...more });
  const shown = complain ? faults : {};
  const begin = (event: Event) => {
    event.preventDefault();
    setComplain(body === null);
    if (body !== null) void beginCheck(body);
  };
  return (
    <form noValidate class="begin-check" onSubmit={begin} aria-label={say.scale.checkTitle}>
      <p class="help">{say.scale.intro({ grams: figure(view.heaviestGrams) })}</p>
      {view.cells.length > 1 && <Cells count={view.cells.length} cell={cell} choose={choose} />}
      <EntryInput
        id="masses"
        label={say.scale.masses}
        help={say.scale.massesHelp}
        keys="text"
        value={drafts.masses}
        fault={shown.masses ?? null}
        onType={(masses) => change({ masses })}
      />
      <Kinds drafts={drafts} change={change} />
      {drafts.kind === 'own' && <OwnMasses drafts={drafts} change={change} faults={shown} />}
      <p class="row">
        <button type="submit" class="go" disabled={scaleBusy.value !== null}>
          {say.scale.begin}
        </button>
      </p>
    </form>
  );
}
