import { useState } from 'preact/hooks';
import type { FieldView, KeptField } from '../../../../server/http/field-messages.ts';
import { type Refused, removeField, useAim, useSlip } from '../../state/field-check/field-check.ts';
import { exact, percent } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { pending } from '../../state/store.ts';
import { areaText, rateText, seedMass } from './field-words.ts';

type Tell = (ask: Promise<Refused | null>) => void;

function Row({ check, tell }: { check: KeptField; tell: Tell }) {
  const { id, name, setting, usedGrams, areaSquareMetres, fieldRate, line } = check;
  const none = say.live.none;
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{setting === null ? none : exact(setting)}</td>
      <td>{usedGrams === null ? none : seedMass(usedGrams)}</td>
      <td>{areaSquareMetres === null ? none : areaText(areaSquareMetres)}</td>
      <td>{fieldRate === null ? none : rateText(fieldRate)}</td>
      <td>{line === null ? none : say.scale.share({ percent: percent(line.factor) })}</td>
      <td>
        <button
          type="button"
          class="quiet"
          aria-label={say.fieldCheck.removeOf({ name })}
          onClick={() => tell(removeField(id))}
        >
          {say.fieldCheck.remove}
        </button>
      </td>
    </tr>
  );
}

const columns = ['name', 'setting', 'used', 'area', 'rate', 'share'] as const;

/** What to do with the factor: one of two ways into the plan. */
function Correct({
  view,
  combined,
  tell,
}: {
  view: FieldView;
  combined: NonNullable<FieldView['combined']>;
  tell: Tell;
}) {
  const { aim, slip } = combined;
  if (aim === null) return <p>{say.fieldCheck.leave}</p>;
  const busy = pending.value !== null;
  return (
    <>
      <p>{say.fieldCheck.aim({ target: rateText(view.target), aim: rateText(aim) })}</p>
      {view.inHand && slip !== null && (
        <p>
          <button
            type="button"
            class="go"
            disabled={busy}
            onClick={() => tell(useSlip(slip.value, slip.doubt))}
          >
            {say.fieldCheck.useSlip({ slip: percent(slip.value) })}
          </button>
          <small class="help">{say.fieldCheck.useSlipHelp}</small>
        </p>
      )}
      {view.inHand && (
        <p>
          <button type="button" disabled={busy} onClick={() => tell(useAim(aim))}>
            {say.fieldCheck.useAim({ aim: rateText(aim) })}
          </button>
          <small class="help">{say.fieldCheck.useAimHelp}</small>
        </p>
      )}
    </>
  );
}

/** The checks kept with this calibration, and what they say together. */
export function FieldChecks({ view }: { view: FieldView }) {
  const [told, setTold] = useState<Refused | 'done' | null>(null);
  const tell: Tell = (ask) => void ask.then((refused) => setTold(refused ?? 'done'));
  const removed: Tell = (ask) => void ask.then(setTold);
  const { combined } = view;
  return (
    <div class="field-checks">
      <div class="table-scroll">
        <table>
          <caption>{say.fieldCheck.checks}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th scope="col" key={column}>
                  {say.fieldCheck.columns[column]}
                </th>
              ))}
              <td />
            </tr>
          </thead>
          <tbody>
            {view.checks.map((check) => (
              <Row key={check.id} check={check} tell={removed} />
            ))}
          </tbody>
        </table>
      </div>
      {combined !== null && (
        <div class="together">
          <h3>{say.fieldCheck.together}</h3>
          <p class="verdict" data-figure="fieldTogether">
            {say.fieldCheck.togetherCount({
              count: combined.checks,
              percent: percent(combined.factor),
              low: percent(combined.low),
              high: percent(combined.high),
            })}
          </p>
          {combined.fieldToField > 0 && (
            <p>
              {say.fieldCheck.differ({
                spread: percent(combined.fieldToField),
                low: percent(combined.next.low),
                high: percent(combined.next.high),
              })}
            </p>
          )}
          <Correct view={view} combined={combined} tell={tell} />
        </div>
      )}
      <p role="status">{told === 'done' ? say.fieldCheck.done : ''}</p>
      <p class="fault" role="alert">
        {told !== null && told !== 'done' ? told.message : ''}
      </p>
    </div>
  );
}
