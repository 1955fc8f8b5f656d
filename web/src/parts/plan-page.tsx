import { useEffect, useRef } from 'preact/hooks';
import { discardDrafts } from '../state/doing.ts';
import { type FieldId, fieldAt, fieldIds } from '../state/fields.ts';
import { figure, grams } from '../state/format.ts';
import { preview } from '../state/preview.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { pastTrouble, readPast, saveSetUp } from '../state/setup/past.ts';
import { form, pending, planMoved, planProblem, planSaved, system } from '../state/store.ts';
import { fromSi, shownArea } from '../state/units.ts';
import { Cautions } from './cautions.tsx';
import { wordsOf } from './field.tsx';
import { Doubts, DrillPanel, ScalePanel } from './setup/drill-panel.tsx';
import { Waiting } from './setup/helper.tsx';
import { SeedPanel } from './setup/seed-panel.tsx';
import { TargetPanel } from './setup/target-panel.tsx';
import { TurnsPanel } from './setup/turns-panel.tsx';
import { Told } from './told.tsx';

const { form: words } = say;

/** What the figures typed so far ask of a run. */
function Gives() {
  const { plan, faults } = form.value!;
  const given = Object.keys(faults).length > 0 ? null : preview(plan);
  const area = shownArea[system.value];
  return (
    <section class="gives" aria-labelledby="gives-title" aria-live="polite">
      <h3 id="gives-title">{words.gives}</h3>
      {given === null ? (
        <p>{words.cannotGive}</p>
      ) : (
        <dl class="facts">
          <div>
            <dt>{words.targetCatch}</dt>
            <dd>
              <b>{grams(given.catch.target)} g</b>{' '}
              {words.rightFrom({ low: grams(given.catch.low), high: grams(given.catch.high) })}
            </dd>
          </div>
          <div>
            <dt>{words.area}</dt>
            <dd>
              {figure(fromSi(given.area, 'area', area))} {area}
            </dd>
          </div>
        </dl>
      )}
      <details class="because">
        <summary aria-label={say.setup.whyOf({ label: words.gives })}>{say.setup.why}</summary>
        <p>{say.setup.reasons.gives}</p>
      </details>
    </section>
  );
}

/** Where something is wrong: it may lie beyond the screen. */
function Faulty() {
  const ids = fieldIds.filter((id) => form.value?.faults[id] !== undefined);
  return (
    <p class="fault">
      {say.setup.faulty}{' '}
      {ids.map((id) => (
        <a key={id} href={address('plan', id)}>
          {labelOf(id)}
        </a>
      ))}
    </p>
  );
}

function labelOf(id: FieldId): string {
  if (id === 'parts') return words.groups.seed;
  return id === 'rowSpacingFrom' || id === 'circumferenceFrom' ? words.groups.drill : wordsOf(id).label;
}

/** Enter in a field of a helper or a search takes what it offers; it does not save the plan. */
function takeOnEnter(event: KeyboardEvent): void {
  const input = event.key === 'Enter' && event.target instanceof HTMLInputElement ? event.target : null;
  const beside = input?.closest('[data-beside]') ?? null;
  if (beside === null) return;
  event.preventDefault();
  beside.querySelector<HTMLButtonElement>('[data-enter]:not(:disabled)')?.click();
}

/** The foot of the form: what the server says of the whole, and saving. */
function Saving() {
  const { faults, changed } = form.value!;
  const problem = planProblem.value;
  const elsewhere = problem !== null && (problem.field === undefined || fieldAt(problem.field) === null);
  const faulty = Object.keys(faults).length > 0;
  return (
    <div class="saving">
      {elsewhere && (
        <p class="fault" role="alert">
          <Told>{problem.message}</Told>
        </p>
      )}
      {faulty && <Faulty />}
      {planMoved.value && <p class="note">{words.changedElsewhere}</p>}
      <button type="submit" class="go" disabled={faulty || !changed || pending.value !== null}>
        {words.save}
      </button>
      {changed && (
        <button type="button" class="quiet" onClick={discardDrafts}>
          {words.discard}
        </button>
      )}
      <p class="note" role="status">
        {planSaved.value && !changed ? words.saved : changed ? '' : words.unchanged}
      </p>
      {!changed && <a href={address('run')}>{words.toRun}</a>}
    </div>
  );
}

/** Starts at the field that the address names, and brings what it lies in to light. */
function useStart(startAt: string | null, ready: boolean): void {
  useEffect(() => {
    const known = fieldIds.find((id) => id === startAt);
    if (!ready || known === undefined) return;
    const place = known === 'parts' ? '.part input, #species-search' : `#${known}`;
    const input = document.querySelector<HTMLInputElement>(place);
    const folded = input?.closest('details');
    if (folded) folded.open = true;
    input?.focus();
    if (input instanceof HTMLInputElement) input.select();
  }, [startAt, ready]);
}

/**
 * The set-up of a calibration, in the order of the work. Nothing typed is lost: not by a refusal, a reload, a change of units or another
 * page's change.
 */
export function PlanPage({ startAt }: { startAt: string | null }) {
  const ready = form.value !== null;
  const element = useRef<HTMLFormElement>(null);
  useStart(startAt, ready);
  useEffect(() => void readPast(), []);
  useEffect(() => {
    const here = element.current;
    here?.addEventListener('keydown', takeOnEnter);
    return () => here?.removeEventListener('keydown', takeOnEnter);
  }, [ready]);
  if (form.value === null) return null;
  const save = (event: Event) => {
    event.preventDefault();
    void saveSetUp();
  };
  return (
    <form ref={element} class="plan" onSubmit={save} noValidate aria-labelledby="plan-title">
      <h2 id="plan-title" class="page-title">
        {words.title}
      </h2>
      <div class="groups steps">
        {pastTrouble.value !== null && <p class="fault">{pastTrouble.value}</p>}
        <DrillPanel />
        <ScalePanel />
        <SeedPanel />
        <TargetPanel />
        <TurnsPanel />
        <Doubts />
      </div>
      <div class="gist">
        <Gives />
        <Saving />
        <Waiting busy={pending.value === 'plan'} />
        <Cautions mode={form.value.plan.mode} />
      </div>
    </form>
  );
}
