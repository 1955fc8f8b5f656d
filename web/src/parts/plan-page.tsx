import { useEffect, useRef } from 'preact/hooks';
import { discardDrafts, savePlan } from '../state/doing.ts';
import { type FieldId, fieldAt, fieldIds } from '../state/fields.ts';
import { grams } from '../state/format.ts';
import { preview } from '../state/preview.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { form, pending, planMoved, planProblem, planSaved, system } from '../state/store.ts';
import { fromSi, shownArea } from '../state/units.ts';
import { Cautions } from './cautions.tsx';
import { FieldInput, ModeInput } from './field.tsx';

const { form: words } = say;
type Numbered = Exclude<FieldId, 'mode'>;

const groups = {
  drill: ['drillName', 'setting', 'rowSpacing', 'circumference', 'slip', 'rowsCaught', 'rowCount'],
  scale: ['scaleLow', 'scaleHigh', 'scaleStep', 'configuration', 'otherConfigurations'],
  seed: ['seedName', 'thousandSeedWeight', 'bulkDensity', 'repeatability'],
  target: ['targetRate', 'tolerance', 'confidence'],
} satisfies Record<string, Numbered[]>;
const doubts: Numbered[] = ['rowSpacingDoubt', 'circumferenceDoubt', 'slipDoubt', 'closedAt', 'leverPlay'];

function Group({ title, intro, ids }: { title: string; intro?: string; ids: readonly Numbered[] }) {
  return (
    <fieldset class="panel group">
      <legend>{title}</legend>
      {intro !== undefined && <p class="help">{intro}</p>}
      {ids.map((id) => (
        <FieldInput key={id} id={id} />
      ))}
    </fieldset>
  );
}

/** Folded, but never over a fault. */
function Doubts() {
  const details = useRef<HTMLDetailsElement>(null);
  const faulty = doubts.some((id) => form.value?.faults[id] !== undefined);
  useEffect(() => {
    if (faulty && details.current !== null) details.current.open = true;
  }, [faulty]);
  return (
    <details ref={details} class="panel group doubts">
      <summary>{words.groups.doubts}</summary>
      <p class="help">{words.doubtsIntro}</p>
      {doubts.map((id) => (
        <FieldInput key={id} id={id} />
      ))}
    </details>
  );
}

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
              {fromSi(given.area, 'area', area).toPrecision(4)} {area}
            </dd>
          </div>
        </dl>
      )}
    </section>
  );
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
          {problem.message}
        </p>
      )}
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

/** The plan for the next run, as a form. Nothing typed is lost: not by a refusal, a reload, a change of units or another page's change. */
export function PlanPage({ startAt }: { startAt: string | null }) {
  const ready = form.value !== null;
  useEffect(() => {
    const known = fieldIds.find((id) => id === startAt);
    if (!ready || known === undefined) return;
    const input = document.getElementById(known) as HTMLInputElement | null;
    input?.focus();
    input?.select();
  }, [startAt, ready]);
  if (form.value === null) return null;
  const save = (event: Event) => {
    event.preventDefault();
    void savePlan();
  };
  return (
    <form class="plan" onSubmit={save} noValidate aria-labelledby="plan-title">
      <h2 id="plan-title" class="page-title">
        {words.title}
      </h2>
      <div class="groups">
        <Group title={words.groups.drill} ids={groups.drill} />
        <Group title={words.groups.scale} intro={words.scaleIntro} ids={groups.scale} />
        <Group title={words.groups.seed} ids={groups.seed} />
        <Group title={words.groups.target} ids={groups.target} />
        <fieldset class="panel group">
          <legend>{words.groups.run}</legend>
          <FieldInput id="turns" />
          <FieldInput id="plannedSpeed" />
          <ModeInput />
        </fieldset>
        <Doubts />
      </div>
      <div class="gist">
        <Gives />
        <Saving />
        <Cautions mode={form.value.plan.mode} />
      </div>
    </form>
  );
}
