import type { ComponentChildren } from 'preact';
import { typeField } from '../../state/doing.ts';
import { exact, figure, percent } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { addEmpty, canAdd, chooseBasis, seedNow } from '../../state/setup/parts.ts';
import { past, takeSeed } from '../../state/setup/past.ts';
import { bases, type SeedSummary, summaryOf } from '../../state/setup/seed.ts';
import { form } from '../../state/store.ts';
import { FieldInput, faultWords } from '../field.tsx';
import { CountHelper, DensityHelper, densityWords } from './bench-helpers.tsx';
import { PartCard } from './part-card.tsx';
import { Past } from './past.tsx';
import { SpeciesSearch } from './species-search.tsx';
import { Why } from './why.tsx';

const words = say.setup.seed;

function BasisChoice() {
  const { basis, parts } = seedNow();
  if (parts.length < 2 && basis !== 'full-stand') return null;
  return (
    <fieldset class="field">
      <legend>{words.basis}</legend>
      <div class="choices">
        {bases.map((one) => (
          <label key={one}>
            <input type="radio" name="basis" checked={basis === one} onChange={() => chooseBasis(one)} />
            <span>{words.bases[one]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

const Fact = ({ name, children }: { name: string; children: ComponentChildren }) => (
  <div>
    <dt>{name}</dt>
    <dd>{children}</dd>
  </div>
);

/** Seeds alive in a gram from the bag, all species together. */
const liveInGram = ({ mix }: SeedSummary): number =>
  mix.parts.reduce((sum, { lot, massShare }) => {
    const alive = Math.min(1, lot.germination + lot.hard + lot.dormant);
    return sum + (1000 * massShare * lot.purity * alive) / lot.thousandSeedWeight;
  }, 0);

/** What the parts come to. */
function SeedFacts() {
  const { seed } = form.value!.plan;
  const summary = summaryOf(seed);
  if (summary === null) return null;
  const { mix, pureLiveSeed, seedMassGrams, density } = summary;
  return (
    <section class="means" aria-labelledby="seed-gives">
      <h3 id="seed-gives">{words.gives}</h3>
      <dl class="facts">
        <Fact name={words.pls}>
          <b data-figure="pls">{percent(pureLiveSeed)} %</b>
        </Fact>
        <Fact name={words.mean}>{words.meanOf({ weight: figure(1000 * seedMassGrams) })}</Fact>
        <Fact name={words.liveSeeds}>{figure(liveInGram(summary))}</Fact>
        {mix.parts.length > 1 && (
          <Fact name={words.massShares}>
            {mix.parts.map(({ name, massShare }) => `${name} ${percent(massShare)} %`).join(', ')}
          </Fact>
        )}
        {density !== null && <Fact name={words.estimate}>{densityWords(density)}</Fact>}
      </dl>
    </section>
  );
}

/** What is wrong with the parts together. */
function PartsFault() {
  const fault = form.value?.faults.parts;
  const together = fault === undefined || fault.kind === 'parts' ? '' : faultWords(fault, words.share);
  return (
    <div class={together === '' ? '' : 'field-wrong'}>
      <p class="fault" id="parts-problem" aria-live="polite">
        {together}
      </p>
    </div>
  );
}

/** What most can leave as it is: bulk density, how well runs repeat, seed that stands in no table. `bare`: nothing is told of its parts. */
function MoreSeed({ bare }: { bare: boolean }) {
  return (
    <details class="helper">
      <summary>{words.more}</summary>
      <div class="helper-body">
        {bare && (
          <CountHelper
            id="count"
            use={({ weight }) =>
              typeField('thousandSeedWeight', exact(Number(weight.thousandSeedWeight.toPrecision(6))))
            }
          />
        )}
        <DensityHelper />
        <div class="fields">
          <FieldInput id="bulkDensity">
            <Why id="bulkDensity" />
          </FieldInput>
          <FieldInput id="repeatability">
            <Why id="repeatability" />
          </FieldInput>
        </div>
        {canAdd() && (
          <button type="button" class="quiet" onClick={addEmpty}>
            {words.byHand}
          </button>
        )}
      </div>
    </details>
  );
}

/** The seed: one lot or a mix, from what was used before, from the table of species, or by hand. */
export function SeedPanel() {
  const { basis, parts } = seedNow();
  const fault = form.value?.faults.parts;
  const faults = fault?.kind === 'parts' ? fault.faults : [];
  const alone = parts.length === 1;
  return (
    <fieldset class="panel group step">
      <legend>{say.form.groups.seed}</legend>
      <Past
        title={say.setup.past.seeds}
        items={(past.value?.seeds ?? []).map(({ id, seed }) => ({
          id,
          name: seed.name,
          note: speciesNote(seed.parts?.length ?? 0),
          take: () => takeSeed(seed),
        }))}
      />
      <div class="fields">
        <FieldInput id="seedName" />
        {parts.length === 0 && (
          <FieldInput id="thousandSeedWeight">
            <Why id="thousandSeedWeight" />
          </FieldInput>
        )}
      </div>
      {parts.map((part, index) => (
        <PartCard
          key={index}
          part={part}
          index={index}
          alone={alone}
          basis={basis}
          faults={faults[index] ?? {}}
        />
      ))}
      <BasisChoice />
      <PartsFault />
      {canAdd() && <SpeciesSearch label={parts.length === 0 ? words.find : words.findMore} withLots />}
      <SeedFacts />
      <MoreSeed bare={parts.length === 0} />
    </fieldset>
  );
}

const speciesNote = (species: number): string => (species > 1 ? words.species({ count: species }) : '');
