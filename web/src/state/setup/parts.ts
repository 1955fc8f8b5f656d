import type { SeedPart } from '../../../../server/http/messages.ts';
import { fieldText, typeField } from '../doing.ts';
import { live, system } from '../store.ts';
import {
  type Basis,
  emptyPart,
  mostParts,
  type PartDraft,
  partDraft,
  readSeedText,
  type SeedDrafts,
  seedText,
} from './seed.ts';

/** What a person can do with the parts of the seed in the form. */

/** The parts as they stand in the form now. */
export const seedNow = (): SeedDrafts => readSeedText(fieldText('parts')) ?? { basis: 'mass', parts: [] };

const type = (drafts: SeedDrafts): void => typeField('parts', seedText(drafts));

export const chooseBasis = (basis: Basis): void => type({ ...seedNow(), basis });

export function changePart(index: number, more: Partial<PartDraft>): void {
  const { basis, parts } = seedNow();
  // A weight typed over is no longer the one from the bench.
  const counted = 'weight' in more && !('counted' in more) ? { counted: null } : {};
  type({ basis, parts: parts.map((part, at) => (at === index ? { ...part, ...more, ...counted } : part)) });
}

export function removePart(index: number): void {
  const { basis, parts } = seedNow();
  type({ basis, parts: parts.filter((_, at) => at !== index) });
}

export const canAdd = (): boolean => seedNow().parts.length < mostParts;

/** Adds a lot. The first one is all of the seed, and names it where nobody has. */
export function addPart(part: PartDraft): void {
  const { basis, parts } = seedNow();
  const alone = parts.length === 0;
  type({ basis, parts: [...parts, { ...part, share: alone ? '100' : '' }] });
  if (alone && part.name !== '' && isUnnamed()) typeField('seedName', part.name);
}

export const addLot = (lot: SeedPart): void => addPart(partDraft(lot, system.value));
export const addEmpty = (): void => addPart(emptyPart);

/** The name of a plan that nobody has filled in. */
const firstName = 'Seed';

function isUnnamed(): boolean {
  const name = fieldText('seedName').trim();
  return live.value.plan !== null && (name === '' || name === firstName);
}
