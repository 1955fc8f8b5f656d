import { exact } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { changePart, removePart } from '../../state/setup/parts.ts';
import type { PartFaults } from '../../state/setup/seed.ts';
import { type Basis, type PartDraft, type PartField, partQuantity } from '../../state/setup/seed.ts';
import { system } from '../../state/store.ts';
import { EntryInput } from '../entry-input.tsx';
import { CountHelper } from './bench-helpers.tsx';
import { Published } from './published.tsx';

const words = say.setup.seed;

interface PartProps {
  part: PartDraft;
  index: number;
  /** All of the seed: it needs no share. */
  alone: boolean;
  basis: Basis;
  faults: PartFaults;
}

/** One lot of what is sown: its tag, its share, its published or counted seed weight. */
export function PartCard({ part, index, alone, basis, faults }: PartProps) {
  const input = (id: PartField, help = '') => (
    <EntryInput
      id={`part-${index}-${id}`}
      label={words[id]}
      help={help}
      keys={id === 'name' ? 'text' : 'decimal'}
      unit={id === 'name' ? '' : partQuantity[id].unit[system.value]}
      value={part[id]}
      fault={faults[id] ?? null}
      onType={(typed) => changePart(index, { [id]: typed })}
    />
  );
  return (
    <fieldset class="part">
      <legend>{part.name.trim() === '' ? words.part({ number: index + 1 }) : part.name}</legend>
      <div class="fields">
        {input('name')}
        {(!alone || basis === 'full-stand') && input('share')}
        {basis === 'full-stand' && input('fullRate', words.fullRateHelp)}
        {input('weight', words.weightHelp)}
        {input('purity', words.emptyTag)}
        {input('germination', words.emptyTag)}
      </div>
      {part.counted !== null && (
        <p class="help">
          {words.fromCount({ portions: part.counted.weightsGrams.length, seeds: part.counted.seedsEach })}
        </p>
      )}
      <Published species={part.species} />
      <CountHelper
        id={`part-${index}-count`}
        use={({ weight, from }) =>
          changePart(index, {
            weight: exact(Number(weight.thousandSeedWeight.toPrecision(6))),
            counted: from,
          })
        }
      />
      <details class="helper">
        <summary>{words.tag}</summary>
        <div class="fields helper-body">
          {input('hard', words.emptyNone)}
          {input('dormant', words.emptyNone)}
          {input('density')}
        </div>
      </details>
      <button type="button" class="quiet" onClick={() => removePart(index)}>
        {words.remove({ name: part.name.trim() === '' ? words.part({ number: index + 1 }) : part.name })}
      </button>
    </fieldset>
  );
}
