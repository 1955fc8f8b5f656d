/** Shapes of the records as the routes give them: what is on record of one kind, its history, and the lists of the exports. */
export type { FieldChange } from '../records/edits.ts';
export type { Fields, Kind } from '../records/model.ts';
export type { Item, Page, StoredRun } from '../records/types.ts';
