import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { SpeciesView } from '../../../../server/http/setup-messages.ts';
import * as api from '../../state/api.ts';
import { figure } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { fromSi, shown } from '../../state/units.ts';

const words = say.setup.seed;

/** Species looked up so far, by key: a mix names each again and again. Bounded by the table. */
const known = signal<Record<string, SpeciesView>>({});

async function lookUp(key: string): Promise<void> {
  const answer = await api.findSpecies(key.replaceAll('-', ' '));
  if (!answer.ok) return;
  const found = Object.fromEntries(answer.value.species.map((species) => [species.key, species]));
  known.value = { ...known.value, ...found };
}

/** What is printed of a species, and where: folded. */
export function Published({ species: key }: { species: string }) {
  useEffect(() => {
    if (key !== '' && known.value[key] === undefined) void lookUp(key);
  }, [key]);
  const species = known.value[key];
  if (species === undefined) return null;
  const { thousandSeedWeight, bulkDensity, commonName, note } = species;
  const unit = shown[system.value].density;
  const dense = (si: number) => figure(fromSi(si, 'density', unit));
  return (
    <details class="because">
      <summary aria-label={say.setup.whyOf({ label: commonName })}>{say.setup.why}</summary>
      <p>
        {words.published({
          name: commonName,
          low: figure(thousandSeedWeight.low),
          high: figure(thousandSeedWeight.high),
          typical: figure(thousandSeedWeight.typical),
        })}
      </p>
      {bulkDensity !== null && (
        <p>{words.publishedDensity({ low: dense(bulkDensity.low), high: dense(bulkDensity.high), unit })}</p>
      )}
      <ul class="sources" lang="en">
        {[...species.seedWeightSources, ...species.densitySources].map(({ asPrinted, source }) => (
          <li key={`${asPrinted} ${source}`}>{words.printed({ figure: asPrinted, source })}</li>
        ))}
      </ul>
      {note !== '' && <p lang="en">{note}</p>}
    </details>
  );
}
