import { batch } from '@preact/signals';
import { RanksSketch, RollSketch, SensorSketch, TapeSketch } from '../../sketches/drill.tsx';
import { typeField } from '../../state/doing.ts';
import { fields, type NumberField } from '../../state/fields.ts';
import { exact, figure } from '../../state/format.ts';
import { shownQuantity } from '../../state/quantity.ts';
import { say } from '../../state/say.ts';
import { readGears } from '../../state/setup/bench.ts';
import { gearsHelper, ranksHelper, wheelHelper } from '../../state/setup/helpers.ts';
import {
  ranksFields,
  readRanks,
  readWheel,
  type WheelDrafts,
  type WheelFaults,
  ways,
  wheelFields,
} from '../../state/setup/working.ts';
import { form, live, system } from '../../state/store.ts';
import { EntryInput } from '../entry-input.tsx';
import { Helper } from './helper.tsx';
import { lengthWords } from './why.tsx';

/** Helpers of the drill: row spacing of staggered ranks, the wheel's circumference, the shaft that the sensor counts. */

const words = say.setup;

/** Types a figure in SI into a field of the form. */
function typeSi(
  id: 'rowSpacing' | 'circumference' | 'circumferenceDoubt' | 'slip' | 'slipDoubt',
  si: number,
) {
  typeField(id, shownQuantity(fields[id] as NumberField, si, system.value));
}

/** Faults of fields that nobody has touched yet are not told. */
const whenTyped = <T,>(text: string, fault: T | undefined): T | null =>
  text.trim() === '' ? null : (fault ?? null);

export function RanksHelper() {
  const drafts = ranksHelper.value;
  const { found, faults } = readRanks(drafts, system.value);
  const input = (id: keyof typeof drafts) => (
    <EntryInput
      id={`ranks-${id}`}
      label={words.ranks[id]}
      unit={ranksFields[id].unit[system.value]}
      value={drafts[id]}
      fault={whenTyped(drafts[id], faults[id])}
      onType={(typed) => ranksHelper.set({ ...drafts, [id]: typed })}
    />
  );
  const use = () =>
    batch(() => {
      if (found === null) return;
      typeSi('rowSpacing', found.metres);
      typeField('rowSpacingFrom', JSON.stringify(found.from));
    });
  return (
    <Helper
      id="ranks-helper"
      title={words.ranks.title}
      gives={found === null ? null : words.ranks.gives({ spacing: lengthWords(found.metres) })}
      use={use}
    >
      <RanksSketch />
      <div class="pairs">
        {input('within')}
        {input('ranks')}
      </div>
    </Helper>
  );
}

interface WheelInputs {
  drafts: WheelDrafts;
  faults: WheelFaults;
}

function WheelInputs({ drafts, faults }: WheelInputs) {
  const { wheel } = words;
  const input = (id: keyof WheelFaults, label: string, field: keyof typeof wheelFields, help = '') => (
    <EntryInput
      id={`wheel-${id}`}
      label={label}
      help={help}
      unit={wheelFields[field].unit[system.value]}
      value={drafts[id]}
      fault={whenTyped(drafts[id], faults[id])}
      onType={(typed) => wheelHelper.set({ ...drafts, [id]: typed })}
    />
  );
  switch (drafts.way) {
    case 'tape':
      return input('readings', wheel.readings, 'tape', wheel.readingsHelp);
    case 'roll-out':
      return (
        <div class="pairs">
          {input('turns', wheel.turns, 'turns')}
          {input('readings', wheel.rolled, 'rolled', wheel.rolledHelp)}
        </div>
      );
    case 'field':
      return (
        <div class="pairs">
          {input('distance', wheel.distance, 'distance')}
          {input('counts', wheel.counts, 'turns', wheel.countsHelp)}
        </div>
      );
  }
}

function WayChoice({ drafts }: { drafts: WheelDrafts }) {
  return (
    <fieldset class="field">
      <legend>{words.wheel.way}</legend>
      <div class="choices">
        {ways.map((way) => (
          <label key={way}>
            <input
              type="radio"
              name="way"
              checked={drafts.way === way}
              onChange={() => wheelHelper.set({ ...drafts, way, readings: '' })}
            />
            <span>{words.wheel.ways[way]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

export function WheelHelper() {
  const drafts = wheelHelper.value;
  const { found, faults } = readWheel(drafts, system.value);
  const use = () =>
    batch(() => {
      if (found === null) return;
      typeSi('circumference', found.circumference);
      typeSi('circumferenceDoubt', found.doubt.standard);
      typeField('circumferenceFrom', JSON.stringify(found.from));
      if (!found.holdsSlip) return;
      typeSi('slip', 0);
      typeSi('slipDoubt', 0);
    });
  const gives =
    found === null
      ? null
      : words.wheel.gives({
          length: lengthWords(found.circumference),
          doubt: lengthWords(found.doubt.standard),
        });
  return (
    <Helper
      id="wheel-helper"
      title={words.wheel.title}
      gives={gives}
      note={found?.holdsSlip ? words.wheel.holdsSlip : ''}
      use={use}
    >
      {drafts.way === 'tape' ? <TapeSketch /> : <RollSketch />}
      <WayChoice drafts={drafts} />
      <WheelInputs drafts={drafts} faults={faults} />
    </Helper>
  );
}

/** What the sensor's pulses come to at the drive wheel, as far as the stand has told. */
function PulsesNote() {
  const pulses = live.value.link?.board?.pulsesPerTurn;
  const ratio = form.value!.plan.drill.shaftRatio ?? 1;
  if (pulses === undefined) return null;
  return <p class="help">{words.gears.pulses({ pulses: exact(pulses), whole: figure(pulses * ratio) })}</p>;
}

export function GearsHelper() {
  const typed = gearsHelper.value;
  const ratio = readGears(typed);
  return (
    <Helper
      id="gears-helper"
      title={words.gears.title}
      gives={ratio === null ? null : words.gears.gives({ ratio: figure(ratio) })}
      use={() => ratio !== null && typeField('shaftRatio', exact(ratio))}
    >
      <SensorSketch />
      <EntryInput
        id="gears"
        label={words.gears.pairs}
        help={words.gears.help}
        keys="text"
        value={typed}
        fault={typed.trim() !== '' && ratio === null ? words.gears.wrong : null}
        onType={(text) => gearsHelper.set(text)}
      />
      <PulsesNote />
    </Helper>
  );
}
