import { batch } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { targetUnits } from '../../../../server/domain/target-units.ts';
import { fieldText, typeField } from '../../state/doing.ts';
import { exact, figure } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { chosenUnit } from '../../state/setup/complete.ts';
import { summaryOf } from '../../state/setup/seed.ts';
import { isPlain, ofPlants, targetIn } from '../../state/setup/target.ts';
import { drafts, form, live, system } from '../../state/store.ts';
import { fromSi, shown } from '../../state/units.ts';
import { FieldInput, problemOf } from '../field.tsx';
import { rateWords } from '../rate-words.ts';
import { Why } from './why.tsx';

const words = say.setup;

/** Another unit: the target stays what it is, and is told in the new one. */
function chooseUnit(unit: string): void {
  const { plan } = form.value!;
  const establishment = plan.target.stated?.establishment ?? 1;
  const wanted = targetUnits.find((one) => one === unit);
  const told =
    wanted === undefined
      ? fromSi(plan.target.gramsPerSquareMetre, 'rate', shown[system.value].rate)
      : targetIn(plan, wanted, establishment);
  batch(() => {
    typeField('targetUnit', unit);
    if (told !== null) typeField('targetRate', exact(Number(told.toPrecision(4))));
  });
}

function UnitChoice() {
  const problem = problemOf('targetUnit');
  return (
    <div class="field">
      <label for="targetUnit">{words.fields.targetUnit.label}</label>
      <select
        id="targetUnit"
        value={fieldText('targetUnit')}
        onChange={(event) => chooseUnit(event.currentTarget.value)}
      >
        <option value="">{shown[system.value].rate}</option>
        {targetUnits
          .filter((unit) => !isPlain(unit))
          .map((unit) => (
            <option key={unit} value={unit}>
              {words.units[unit]}
            </option>
          ))}
      </select>
      <p class="fault">{problem}</p>
    </div>
  );
}

const Fact = ({ name, children }: { name: string; children: ComponentChildren }) => (
  <div>
    <dt>{name}</dt>
    <dd>{children}</dd>
  </div>
);

/** The target told in the other ways: from the bag, alive, by number. */
function TargetMeans() {
  const { plan, faults } = form.value!;
  if (faults.targetRate !== undefined || faults.establishment !== undefined) return null;
  const metric = system.value === 'metric';
  const area = metric ? 'm²' : 'ft²';
  const live = targetIn(plan, metric ? 'kg/ha live seed' : 'lb/ac live seed');
  const seeds = targetIn(plan, metric ? 'live seeds/m²' : 'live seeds/ft²');
  const stated = plan.target.stated ?? null;
  const plants =
    stated !== null && ofPlants(stated.unit)
      ? targetIn(plan, metric ? 'plants/m²' : 'plants/ft²', stated.establishment)
      : null;
  return (
    <section class="means" aria-labelledby="target-means">
      <h3 id="target-means">{words.target.means}</h3>
      <dl class="facts">
        <Fact name={words.target.bulk}>
          <b data-figure="bulkRate">{rateWords(plan.target.gramsPerSquareMetre)}</b>
        </Fact>
        {live !== null && (
          <Fact name={words.target.live}>{`${figure(live)} ${shown[system.value].rate}`}</Fact>
        )}
        {seeds !== null && (
          <Fact name={words.target.number}>{words.target.perArea({ count: figure(seeds), unit: area })}</Fact>
        )}
        {plants !== null && (
          <Fact name={words.target.plants}>
            {words.target.perArea({ count: figure(plants), unit: area })}
          </Fact>
        )}
      </dl>
    </section>
  );
}

/** A mix by shares of a full stand asks for a rate of its own. */
function FullStand() {
  const { plan } = form.value!;
  const rate = summaryOf(plan.seed)?.fullStandRate ?? null;
  if (rate === null) return null;
  const take = () =>
    batch(() => {
      typeField('targetUnit', '');
      typeField('targetRate', exact(fromSi(rate, 'rate', shown[system.value].rate)));
    });
  return (
    <p class="row asked">
      {words.seed.fullStand({ rate: rateWords(rate) })}
      <button type="button" onClick={take}>
        {words.useFigure({ figure: rateWords(rate) })}
      </button>
    </p>
  );
}

/** What is wanted: a figure in any unit, how close, how sure. */
export function TargetPanel() {
  const { plan } = live.value;
  if (plan === null) return null;
  const unit = chosenUnit(plan, drafts.value, system.value);
  return (
    <fieldset class="panel group step">
      <legend>{say.form.groups.target}</legend>
      <div class="fields">
        <FieldInput id="targetRate" unit={isPlain(unit) ? shown[system.value].rate : words.units[unit]}>
          <p class="help">{words.unitOwn}</p>
          <Why id="targetRate" />
        </FieldInput>
        <UnitChoice />
        {ofPlants(unit) && <FieldInput id="establishment" />}
      </div>
      <FullStand />
      <TargetMeans />
      <div class="fields">
        <FieldInput id="tolerance">
          <Why id="tolerance" />
        </FieldInput>
        <FieldInput id="confidence">
          <Why id="confidence" />
        </FieldInput>
      </div>
    </fieldset>
  );
}
