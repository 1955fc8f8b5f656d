import { useState } from 'preact/hooks';
import type { MassPlace, ScaleCheckView } from '../../../../server/http/scale-messages.ts';
import { exact, figure, fixed } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { dropCheck, scaleBusy, undoStep, weigh } from '../../state/scale-place/scale-place.ts';
import { Told } from '../told.tsx';
import { ScaleResultPanel } from './scale-result.tsx';

type Step = ScaleCheckView['steps'][number];

const names = (masses: readonly string[]): string =>
  masses.length === 0 ? say.scale.empty : masses.join(' + ');

const placesOffMiddle = ['left', 'right', 'front', 'back'] as const satisfies readonly MassPlace[];

function StepsTable({ steps }: { steps: readonly Step[] }) {
  return (
    <div class="table-scroll">
      <table class="scale-steps">
        <caption>{say.scale.weighings}</caption>
        <thead>
          <tr>
            <th scope="col">{say.scale.onIt}</th>
            <th scope="col">{say.scale.load}</th>
            <th scope="col">{say.scale.showed}</th>
            <th scope="col">{say.scale.off}</th>
          </tr>
        </thead>
        <tbody>
          {steps.map((step, index) => (
            <tr key={index}>
              <th scope="row">
                {names(step.masses)}
                {step.place !== 'middle' && ` (${say.scale.places[step.place]})`}
              </th>
              <td>{say.scale.grams({ grams: exact(step.load) })}</td>
              <td>{say.scale.grams({ grams: fixed(step.shown, 2) })}</td>
              <td>
                {say.scale.offBy({
                  grams: fixed(step.shown - step.load, 2),
                  half: figure(2 * step.standardError),
                })}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** A weighing that was not suggested: any masses, in the middle or off it. */
function OtherWeighing({ check }: { check: ScaleCheckView }) {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [place, setPlace] = useState<MassPlace>('left');
  return (
    <details class="other-weighing">
      <summary>{say.scale.other}</summary>
      <p class="help">{say.scale.otherHelp}</p>
      <fieldset class="field">
        <legend>{say.scale.onIt}</legend>
        <div class="choices">
          {check.masses.map(({ name }) => (
            <label key={name}>
              <input
                type="checkbox"
                checked={chosen.includes(name)}
                onChange={() =>
                  setChosen(chosen.includes(name) ? chosen.filter((one) => one !== name) : [...chosen, name])
                }
              />
              <span>{name}</span>
            </label>
          ))}
        </div>
      </fieldset>
      <fieldset class="field">
        <legend>{say.scale.where}</legend>
        <div class="choices">
          {(['middle', ...placesOffMiddle] as const).map((each) => (
            <label key={each}>
              <input type="radio" name="place" checked={place === each} onChange={() => setPlace(each)} />
              <span>{say.scale.places[each]}</span>
            </label>
          ))}
        </div>
      </fieldset>
      <p class="row">
        <button type="button" disabled={scaleBusy.value !== null} onClick={() => void weigh(chosen, place)}>
          {say.scale.weighThis({ masses: names(chosen) })}
        </button>
      </p>
    </details>
  );
}

/** What to do next: one thing. */
function NextStep({ check }: { check: ScaleCheckView }) {
  const { next, steps, suggested } = check;
  if (next === null) return null;
  const done = steps.filter(({ place }) => place === 'middle').length;
  return (
    <div class="scale-next">
      <p class="help">{say.scale.step({ done: done + 1, all: suggested })}</p>
      <p class="verdict" data-figure="next-load">
        {next.length === 0 ? say.scale.takeOff : say.scale.putOn({ masses: names(next) })}
      </p>
      <p class="row">
        <button
          type="button"
          class="go"
          disabled={scaleBusy.value !== null}
          onClick={() => void weigh(next, 'middle')}
        >
          {scaleBusy.value === 'weigh' ? say.scale.weighing : say.scale.weigh}
        </button>
      </p>
    </div>
  );
}

/** A check with masses under way. */
export function CheckPanel({ check }: { check: ScaleCheckView }) {
  const busy = scaleBusy.value !== null;
  return (
    <div class="scale-check">
      <h3>{say.scale.checking({ cell: String(check.cell + 1) })}</h3>
      <p class="unseen" role="status">
        {scaleBusy.value === 'weigh' ? say.scale.weighing : ''}
      </p>
      <NextStep check={check} />
      {check.steps.length > 0 && <StepsTable steps={check.steps} />}
      {check.result !== null && <ScaleResultPanel result={check.result} done={check.next === null} />}
      {check.why !== null && check.steps.length >= 3 && (
        <p class="fault">
          <Told>{check.why}</Told>
        </p>
      )}
      <p class="row">
        <button
          type="button"
          class="quiet"
          disabled={busy || check.steps.length === 0}
          onClick={() => void undoStep()}
        >
          {say.scale.undo}
        </button>
        <button type="button" class="quiet" disabled={busy} onClick={() => void dropCheck()}>
          {say.scale.drop}
        </button>
      </p>
      <OtherWeighing check={check} />
    </div>
  );
}
