import Type, { type Static } from 'typebox';
import { Plan, SeedPart } from './messages.ts';

/** Shapes of what a calibration is set up from: past drills, mixes and lots, and the table of species. SI units throughout. */

const Nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const Known = { id: Type.String(), changedAt: Type.String({ description: 'ISO 8601, UTC' }) };

/** What is on record, the last changed first; a drill once for each gate, notch or gear. */
export const PastAnswer = Type.Object({
  drills: Type.Array(Type.Object({ ...Known, drill: Plan.properties.drill })),
  seeds: Type.Array(Type.Object({ ...Known, seed: Plan.properties.seed })),
  lots: Type.Array(Type.Object({ ...Known, part: SeedPart })),
});
export type PastAnswer = Static<typeof PastAnswer>;

export const SpeciesQuery = Type.Object(
  { text: Type.Optional(Type.String({ maxLength: 80, description: 'words of the common or Latin name' })) },
  { additionalProperties: false },
);
export type SpeciesQuery = Static<typeof SpeciesQuery>;

const Range = Type.Object({ typical: Type.Number(), low: Type.Number(), high: Type.Number() });

/** Where figures were printed, and how. */
const Printed = Type.Object({ asPrinted: Type.String(), source: Type.String() });

export const SpeciesView = Type.Object({
  key: Type.String(),
  commonName: Type.String(),
  latinName: Type.String(),
  group: Type.String(),
  /** Grams. */
  thousandSeedWeight: Range,
  seedWeightSources: Type.Array(Printed),
  /** Kilograms a cubic metre, null where nothing is published. */
  bulkDensity: Nullable(Range),
  densitySources: Type.Array(Printed),
  note: Type.String(),
});
export type SpeciesView = Static<typeof SpeciesView>;

/** At most twenty; `total` says how many there are in all. */
export const SpeciesAnswer = Type.Object({ species: Type.Array(SpeciesView), total: Type.Integer() });
export type SpeciesAnswer = Static<typeof SpeciesAnswer>;

export const KeptAnswer = Type.Object({ kept: Type.Literal(true) });
