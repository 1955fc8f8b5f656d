import { useEffect, useState } from 'preact/hooks';
import type { FieldView } from '../../../../server/http/field-messages.ts';
import {
  chooseCalibration,
  chosenCalibration,
  fieldView,
  type Refused,
  readField,
} from '../../state/field-check/field-check.ts';
import { date } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { live } from '../../state/store.ts';
import { SeedNeeded } from '../seed-needed/seed-needed.tsx';
import { FieldChecks } from './field-checks.tsx';
import { FieldForm } from './field-form.tsx';
import { rateText } from './field-words.ts';

/** Which calibration the field was sown with, where it is another than that of the plan. */
function WhichCalibration({ view }: { view: FieldView }) {
  if (view.others.length === 0 && chosenCalibration.value === null) return null;
  return (
    <div class="field">
      <label for="field-calibration">{say.fieldCheck.otherCalibration}</label>
      <select
        id="field-calibration"
        value={chosenCalibration.value ?? ''}
        onChange={(event) => void chooseCalibration(event.currentTarget.value || null)}
      >
        <option value="">{say.fieldCheck.thisPlan}</option>
        {view.calibrationId !== null && chosenCalibration.value !== null && (
          <option value={view.calibrationId}>
            {view.drillName}, {view.seedName}
          </option>
        )}
        {view.others.map(({ id, words, at }) => (
          <option key={id} value={id}>
            {words}, {date(at)}
          </option>
        ))}
      </select>
    </div>
  );
}

/** The field: what was used there, held against the stand; and how much seed a field takes. */
export function FieldPage() {
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const { plan } = live.value;
  useEffect(() => void readField().then(setTrouble), [plan]);
  const view = fieldView.value;
  return (
    <div class="two field-place">
      <section class="panel" aria-labelledby="field-title">
        <h2 id="field-title">{say.fieldCheck.title}</h2>
        {trouble !== null && (
          <p class="fault" role="alert">
            {trouble.message}
          </p>
        )}
        {view !== null && (
          <>
            <p>
              {say.fieldCheck.of({
                drill: view.drillName,
                seed: view.seedName,
                rate: rateText(view.target),
              })}
            </p>
            <p class="help">{say.fieldCheck.intro}</p>
            <WhichCalibration view={view} />
            {view.checks.length > 0 && <FieldChecks view={view} />}
            {view.settings.length === 0 ? (
              <p class="note">{say.fieldCheck.noRuns}</p>
            ) : (
              <FieldForm view={view} />
            )}
          </>
        )}
      </section>
      <SeedNeeded />
    </div>
  );
}
