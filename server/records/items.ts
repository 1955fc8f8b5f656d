import type { Insertable } from 'kysely';
import { type Edit, fold } from './edits.ts';
import { type Kind, referencesOf } from './model.ts';
import { allWordsIn } from './search.ts';
import type { EditsTable, ItemsTable } from './tables.ts';

/** From edits to rows and back: what is looked for by, and nothing that the edits do not say. */

const notSearched = /(?:Id|At|^at|^basis|^method)$/;

/** All text in these fields that people wrote, in one line. */
function textIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => (notSearched.test(key) ? [] : textIn(part)));
}

const textOrNull = (value: unknown): string | null => (typeof value === 'string' ? value : null);

export function editRow(edit: Edit): Insertable<EditsTable> {
  return {
    id: edit.id,
    kind: edit.kind,
    item_id: edit.itemId,
    changes: JSON.stringify(edit.changes),
    made_by: edit.by,
    place: edit.place,
    made_at: edit.at,
  };
}

export function editOf(row: EditsTable): Edit {
  return {
    id: row.id,
    kind: row.kind,
    itemId: row.item_id,
    changes: JSON.parse(row.changes),
    by: row.made_by,
    place: row.place,
    at: row.made_at,
  };
}

/** The row of the item that these edits make. `label`: words it shall be found by besides its own. */
export function itemRow(edits: readonly Edit[], label: string): Insertable<ItemsTable> {
  const { kind, itemId } = edits[0]!;
  const { fields, createdAt, changedAt, deletedAt } = fold(edits);
  return {
    id: itemId,
    kind,
    created_at: createdAt,
    changed_at: changedAt,
    deleted_at: deletedAt,
    happened_at: textOrNull(fields.at) ?? createdAt,
    drill_id: textOrNull(fields.drillId),
    mix_id: textOrNull(fields.mixId),
    calibration_id: textOrNull(fields.calibrationId),
    about_id: textOrNull(fields.aboutId),
    stand_id: textOrNull(fields.standId),
    label,
    fields: JSON.stringify(fields),
    search: [label, ...textIn(fields)].flatMap(allWordsIn).join(' '),
  };
}

export interface Item {
  id: string;
  createdAt: string;
  changedAt: string;
  deletedAt: string | null;
  fields: Record<string, unknown>;
}

export function itemOf(
  row: Pick<ItemsTable, 'id' | 'created_at' | 'changed_at' | 'deleted_at' | 'fields'>,
): Item {
  return {
    id: row.id,
    createdAt: row.created_at,
    changedAt: row.changed_at,
    deletedAt: row.deleted_at,
    fields: JSON.parse(row.fields),
  };
}

/** Ids of other items that these fields name, with the kind that each must be of. */
export function referencesIn(
  kind: Kind,
  fields: Record<string, unknown>,
): { id: string; kind: Kind | null; field: string }[] {
  return Object.entries(referencesOf[kind]).flatMap(([field, wanted]) => {
    const id = fields[field];
    return typeof id === 'string' ? [{ id, kind: wanted, field }] : [];
  });
}
