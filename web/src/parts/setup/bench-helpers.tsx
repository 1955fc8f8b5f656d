import { CountSketch, MeasureSketch } from '../../sketches/bench.tsx';
import { typeField } from '../../state/doing.ts';
import { fields, type NumberField } from '../../state/fields.ts';
import { figure, percent } from '../../state/format.ts';
import { shownQuantity } from '../../state/quantity.ts';
import { say } from '../../state/say.ts';
import {
  type CountFound,
  countFields,
  densityFields,
  readCount,
  readDensity,
} from '../../state/setup/bench.ts';
import { countHelper, densityHelper } from '../../state/setup/helpers.ts';
import { system } from '../../state/store.ts';
import { fromSi, shown } from '../../state/units.ts';
import { EntryInput } from '../entry-input.tsx';
import { Helper } from './helper.tsx';

/** Helpers at the bench: seeds counted and weighed, a measure filled and weighed. */

const words = say.setup;

/** Whether the portions agree, in a sentence. */
function agreement({ weight }: CountFound, chaffy: boolean): string {
  const spread = percent(weight.variation);
  return weight.stands
    ? words.count.stands({ spread })
    : words.count.again({ spread, limit: percent(chaffy ? 0.06 : 0.04) });
}

/** `use`: takes over what the count gave. `id` tells several apart. */
export function CountHelper({ id, use }: { id: string; use: (found: CountFound) => void }) {
  const drafts = countHelper.value;
  const { found, faults } = readCount(drafts, system.value);
  const { count } = words;
  const one = faults.weights?.kind === 'empty' && drafts.weights.trim() !== '';
  const gives =
    found === null
      ? null
      : count.gives({
          weight: figure(found.weight.thousandSeedWeight),
          low: figure(found.weight.low),
          high: figure(found.weight.high),
        });
  return (
    <Helper
      id={`${id}-helper`}
      title={count.title}
      gives={gives}
      note={found === null ? '' : agreement(found, drafts.chaffy)}
      use={() => found !== null && use(found)}
    >
      <CountSketch />
      <div class="pairs">
        <EntryInput
          id={`${id}-each`}
          label={count.seedsEach}
          value={drafts.seedsEach}
          fault={drafts.seedsEach.trim() === '' ? null : (faults.seedsEach ?? null)}
          onType={(typed) => countHelper.set({ ...drafts, seedsEach: typed })}
        />
        <EntryInput
          id={`${id}-weights`}
          label={count.weights}
          help={count.weightsHelp}
          unit={countFields.weights.unit[system.value]}
          keys="text"
          value={drafts.weights}
          fault={one ? count.few : drafts.weights.trim() === '' ? null : (faults.weights ?? null)}
          onType={(typed) => countHelper.set({ ...drafts, weights: typed })}
        />
      </div>
      <label class="tick">
        <input
          type="checkbox"
          checked={drafts.chaffy}
          onChange={(event) => countHelper.set({ ...drafts, chaffy: event.currentTarget.checked })}
        />
        <span>{count.chaffy}</span>
      </label>
    </Helper>
  );
}

/** A bulk density as one would say it. */
export const densityWords = (si: number): string => {
  const unit = shown[system.value].density;
  return `${figure(fromSi(si, 'density', unit))} ${unit}`;
};

export function DensityHelper() {
  const drafts = densityHelper.value;
  const { found, faults } = readDensity(drafts, system.value);
  const { density } = words;
  const input = (id: 'volume' | 'mass') => (
    <EntryInput
      id={`measure-${id}`}
      label={density[id]}
      unit={densityFields[id].unit[system.value]}
      value={drafts[id]}
      fault={drafts[id].trim() === '' ? null : (faults[id] ?? null)}
      onType={(typed) => densityHelper.set({ ...drafts, [id]: typed })}
    />
  );
  const use = () => {
    if (found === null) return;
    typeField('bulkDensity', shownQuantity(fields.bulkDensity as NumberField, found, system.value));
  };
  return (
    <Helper
      id="density-helper"
      title={density.title}
      gives={found === null ? null : density.gives({ density: densityWords(found) })}
      use={use}
    >
      <MeasureSketch />
      <p class="help">{density.how}</p>
      <div class="pairs">
        {input('volume')}
        {input('mass')}
      </div>
    </Helper>
  );
}
