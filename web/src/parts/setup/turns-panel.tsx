import { typeField } from '../../state/doing.ts';
import { chancePercent, exact, percent, wholeTurns } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import {
  commonStand,
  type LengthName,
  lengthNames,
  type TurnsAdvice,
  turnsAdvice,
  turnsForLength,
} from '../../state/setup/turns.ts';
import { form, live } from '../../state/store.ts';
import { FieldInput, ModeInput } from '../field.tsx';
import { Why } from './why.tsx';

const words = say.setup.turns;

/** How many turns are enough, and what decides it. */
function Advice({ advice }: { advice: TurnsAdvice }) {
  const { enough, binds, alone, plannedHalfWidth, tolerance, confidence } = advice;
  const { plan } = form.value!;
  const whole = (count: number) => exact(Math.max(1, Math.ceil(count)));
  return (
    <section class="means" aria-live="polite">
      <p>
        <b>
          {enough === null
            ? words.never({ tolerance: percent(tolerance) })
            : words.enough({
                turns: enough,
                tolerance: percent(tolerance),
                confidence: chancePercent(confidence),
              })}
        </b>{' '}
        {enough !== null && words.binds[binds]}
      </p>
      <p>
        {words.planned({ turns: wholeTurns(plan.turns), half: percent(plannedHalfWidth) })}{' '}
        {plannedHalfWidth > tolerance && <b>{words.short}</b>}
      </p>
      <p class="help">
        {words.alone({
          scale: whole(alone.scale),
          counting: whole(alone.counting),
          seed: whole(alone.seedSampling),
        })}
      </p>
      {enough !== null && enough !== plan.turns && enough <= 2000 && (
        <button type="button" onClick={() => typeField('turns', exact(enough))}>
          {say.setup.useFigure({ figure: exact(enough) })}
        </button>
      )}
    </section>
  );
}

/** Lengths of a test that people know, as turns of this wheel. */
function Lengths() {
  const { plan } = form.value!;
  const take = (name: string) => {
    const found = lengthNames.find((one) => one === name);
    const count = found === undefined ? null : turnsForLength(plan, found);
    if (count !== null) typeField('turns', exact(count));
  };
  const option = (name: LengthName) => {
    const count = turnsForLength(plan, name);
    return count === null ? null : (
      <option key={name} value={name}>
        {words.length({ name, turns: count })}
      </option>
    );
  };
  return (
    <div class="field">
      <label for="usual-length">{words.lengths}</label>
      <select id="usual-length" value="" onChange={(event) => take(event.currentTarget.value)}>
        <option value="">{words.choose}</option>
        {lengthNames.map(option)}
      </select>
    </div>
  );
}

/** The run itself: how many turns and why, who turns, how fast. */
export function TurnsPanel() {
  const { plan, faults } = form.value!;
  const board = live.value.link?.board ?? null;
  const stand = board === null ? commonStand : { cells: board.cells, pulsesPerTurn: board.pulsesPerTurn };
  const advice = Object.keys(faults).length > 0 ? null : turnsAdvice(plan, stand);
  return (
    <fieldset class="panel group step">
      <legend>{say.form.groups.run}</legend>
      <div class="fields">
        <FieldInput id="turns">
          <Why id="turns" />
        </FieldInput>
        <Lengths />
        <FieldInput id="plannedSpeed" />
        <ModeInput />
      </div>
      {advice !== null && <Advice advice={advice} />}
    </fieldset>
  );
}
