import type { FastifyInstance } from 'fastify';
import type { Desk } from '../calibration/desk.ts';
import {
  findSpecies,
  publishedDensityOf,
  type Species,
  speciesSources,
  speciesTable,
} from '../domain/species.ts';
import { Plan, Problem } from './messages.ts';
import { KeptAnswer, PastAnswer, SpeciesAnswer, SpeciesQuery, type SpeciesView } from './setup-messages.ts';

/** Routes of the set-up of a calibration: what is on record to begin from, and the table of species. */

/** More than these nobody reads through; another letter typed brings fewer. */
const mostShown = 20;

/** Title, publisher and year of a source, in one line. */
function sourceLine(id: string): string {
  const source = speciesSources.find((each) => each.id === id);
  if (source === undefined) return id;
  const year = source.year === null ? '' : `, ${source.year}`;
  return `${source.title} (${source.publisher}${year})`;
}

const printed = ({ asPrinted, source }: { asPrinted: string; source: string }) => ({
  asPrinted,
  source: sourceLine(source),
});

export function speciesView(species: Species): SpeciesView {
  const { key, commonName, latinName, group, thousandSeedWeight, note } = species;
  const { typical, low, high } = thousandSeedWeight;
  const density = publishedDensityOf(species);
  return {
    key,
    commonName,
    latinName,
    group,
    thousandSeedWeight: { typical, low, high },
    seedWeightSources: species.seedWeights.map(printed),
    bulkDensity: density === null ? null : { typical: density.typical, low: density.low, high: density.high },
    densitySources: [...species.bushelWeights, ...species.densities].map(printed),
    note,
  };
}

const wordsOf = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word !== '');

/** Who types rye wants rye before ryegrass: species that have all words as whole words come first. */
function wholeWordsFirst(species: readonly Species[], text: string): Species[] {
  const wanted = wordsOf(text);
  const whole = ({ commonName, latinName }: Species): number => {
    const named = wordsOf(`${commonName} ${latinName}`);
    return Number(!wanted.every((word) => named.includes(word)));
  };
  return species.toSorted((one, other) => whole(one) - whole(other));
}

export function addSetupRoutes(app: FastifyInstance, desk: Desk): void {
  app.get(
    '/api/setup/past',
    {
      schema: {
        summary: 'Drills, mixes and lots on record, the last changed first',
        response: { 200: PastAnswer, 503: Problem },
      },
    },
    async () => desk.past(),
  );

  app.get<{ Querystring: SpeciesQuery }>(
    '/api/setup/species',
    {
      schema: {
        summary: `Species whose common or Latin name holds all words, with what is published of their seed; of ${speciesTable.length} in all`,
        querystring: SpeciesQuery,
        response: { 200: SpeciesAnswer, 400: Problem },
      },
    },
    async ({ query }) => {
      const { text = '' } = query;
      const found = wholeWordsFirst(findSpecies(text), text);
      return { species: found.slice(0, mostShown).map(speciesView), total: found.length };
    },
  );

  app.post<{ Body: Plan }>(
    '/api/setup/keep',
    {
      schema: {
        summary: 'Puts drill, lots and mix of a plan on record, for the next time',
        body: Plan,
        response: { 200: KeptAnswer, 400: Problem, 503: Problem },
      },
    },
    async ({ body }) => {
      await desk.keepSetUp(body);
      return { kept: true as const };
    },
  );
}
