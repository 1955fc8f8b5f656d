import { useEffect } from 'preact/hooks';
import type { Plan } from '../../../../server/http/messages.ts';
import { figure } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import {
  convertSeedNeeded,
  type SeedFieldId,
  type SeedKnown,
  seedAnswer,
  seedFields,
  seedText,
  usual,
} from '../../state/seed-needed/seed-needed.ts';
import { seedTyped } from '../../state/seed-needed/seed-typed.ts';
import { live, system } from '../../state/store.ts';
import { fromSi } from '../../state/units.ts';
import { EntryInput } from '../entry-input.tsx';

/** What the plan knows: the rest is for whoever fetches the seed to say. */
function knownBy({ drill, seed, target }: Plan): SeedKnown {
  return {
    area: null,
    rate: target.gramsPerSquareMetre,
    reserve: usual.reserve,
    bag: null,
    hopper: null,
    density: seed.bulkDensityKilogramsPerCubicMetre ?? null,
    width: drill.rowCount == null ? null : drill.rowCount * drill.rowSpacingMetres,
    keepBack: usual.keepBack,
  };
}

const helps: Partial<Record<SeedFieldId, 'reserveHelp' | 'hopperHelp' | 'keepBackHelp'>> = {
  reserve: 'reserveHelp',
  hopper: 'hopperHelp',
  keepBack: 'keepBackHelp',
};

const unitOf = (id: SeedFieldId): string => seedFields[id].unit[system.value];

/** An amount in the unit of one of the fields. */
const amount = (si: number, id: SeedFieldId): string =>
  `${figure(fromSi(si, seedFields[id].dimension, unitOf(id)))} ${unitOf(id)}`;

const distance = (metres: number): string => {
  const unit = system.value === 'us' ? 'mi' : 'km';
  return `${figure(fromSi(metres, 'length', unit))} ${unit}`;
};

function Answer({ plan }: { plan: Plan }) {
  const typed = seedTyped.value?.typed ?? {};
  const { needGrams, bags, reach, fills } = seedAnswer(typed, knownBy(plan), system.value);
  if (needGrams === null && reach === null) return null;
  return (
    <div class="seed-answer" aria-live="polite">
      {needGrams !== null && (
        <p class="verdict" data-figure="seedNeeded">
          {say.seedNeeded.need({ mass: amount(needGrams, 'bag') })}
        </p>
      )}
      {bags !== null && (
        <p>{say.seedNeeded.bags({ bags: bags.bags, left: amount(bags.leftGrams, 'bag') })}</p>
      )}
      {reach !== null && (
        <p data-figure="reach">
          {say.seedNeeded.reach({
            mass: amount(reach.seed, 'bag'),
            area: amount(reach.area, 'area'),
            distance: distance(reach.distance),
          })}
        </p>
      )}
      {fills !== null && <p>{say.seedNeeded.fills({ fills })}</p>}
    </div>
  );
}

/** Seed, bags and refills for a field: everything follows while one types. */
export function SeedNeeded() {
  const { plan } = live.value;
  const kept = seedTyped.value;
  useEffect(() => {
    if (kept === null || kept.system === system.value) return;
    seedTyped.value = {
      system: system.value,
      typed: convertSeedNeeded(kept.typed, kept.system, system.value),
    };
  }, [system.value]);
  if (plan === null) return null;
  const known = knownBy(plan);
  const typed = kept?.typed ?? {};
  const { faults } = seedAnswer(typed, known, system.value);
  const entry = (id: SeedFieldId) => {
    const help = helps[id];
    return (
      <EntryInput
        key={id}
        id={`seed-${id}`}
        label={say.seedNeeded[id]}
        unit={unitOf(id)}
        help={help === undefined ? '' : say.seedNeeded[help]}
        value={seedText(id, typed, known, system.value)}
        fault={faults[id] ?? null}
        onType={(text) => {
          seedTyped.value = { system: system.value, typed: { ...typed, [id]: text } };
        }}
      />
    );
  };
  return (
    <section class="panel seed-needed" aria-labelledby="seed-needed-title">
      <h2 id="seed-needed-title">{say.seedNeeded.title}</h2>
      <p class="help">{say.seedNeeded.intro}</p>
      <div class="pairs">{(['area', 'rate', 'reserve', 'bag'] as const).map(entry)}</div>
      <div class="pairs">{(['hopper', 'density', 'width', 'keepBack'] as const).map(entry)}</div>
      <Answer plan={plan} />
    </section>
  );
}
