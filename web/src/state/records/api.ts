import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import type { FieldChange, Item, Kind, Page, StoredRun } from '../../../../server/http/records-messages.ts';
import type { PaperFacts } from '../../../../server/paper/compose/types.ts';
import { type Answer, request } from '../api.ts';

/** What the page asks of the records. */

/** Anything on record but a run. */
export type AnyItem = { [K in Exclude<Kind, 'run'>]: Item<K> }[Exclude<Kind, 'run'>];

export interface Search {
  text?: string;
  /** Days, ISO 8601: from that day's beginning on, and before that day. */
  from?: string;
  before?: string;
  drill?: string;
  mix?: string;
  calibration?: string;
  about?: string;
  deleted?: 'yes';
  after?: string;
  limit?: string;
}

const query = (search: object): string =>
  new URLSearchParams(
    Object.entries(search).filter(([, value]) => value !== '') as [string, string][],
  ).toString();

export const findItems = <K extends Exclude<Kind, 'run'>>(
  kind: K,
  search: Search = {},
): Promise<Answer<Page<Item<K>>>> => request('GET', `records/${kind}?${query(search)}`);
export const findRuns = (search: Search = {}): Promise<Answer<Page<StoredRun>>> =>
  request('GET', `records/run?${query(search)}`);
export const readHistory = (kind: Kind, id: string): Promise<Answer<{ changes: FieldChange[] }>> =>
  request('GET', `records/${kind}/${id}/history`);
export const removeItem = (kind: Kind, id: string): Promise<Answer<unknown>> =>
  request('POST', `records/${kind}/${id}/remove`);
export const bringBackItem = (kind: Kind, id: string): Promise<Answer<unknown>> =>
  request('POST', `records/${kind}/${id}/bring-back`);

export const readPaperFacts = (calibration: string): Promise<Answer<PaperFacts>> =>
  request('GET', `paper/facts?${query({ calibration })}`);
export const lookAtCalibration = (id: string): Promise<Answer<CalibrationView>> =>
  request('GET', `calibrations/${encodeURIComponent(id)}`);

/** An export as the server writes it, to be kept by the browser. */
export const exportPath = (search: {
  form: 'json' | 'csv';
  run?: string;
  calibration?: string;
  units?: string;
}): string => `./api/export?${query(search)}`;

export interface Backup {
  name: string;
  bytes: number;
}
export const listBackups = (): Promise<Answer<{ folder: string; backups: Backup[] }>> =>
  request('GET', 'backups');
export const makeBackup = (): Promise<Answer<Backup>> => request('POST', 'backups');
export const restoreBackup = (name: string): Promise<Answer<{ before: string }>> =>
  request('POST', `backups/${encodeURIComponent(name)}/restore`);
export const backupPath = (name: string): string => `./api/backups/${encodeURIComponent(name)}`;
export const unsavedPath = './api/export/unsaved';
export const removeBackup = (name: string): Promise<Answer<unknown>> =>
  request('POST', `backups/${encodeURIComponent(name)}/remove`);

/** Sends a file as it is, for as long as that takes: the server hangs up when nothing comes any more. */
async function sendFile<T>(path: string, file: Blob, type: string): Promise<Answer<T>> {
  try {
    const response = await fetch(`./api/${path}`, {
      method: 'POST',
      body: file,
      headers: { 'content-type': type },
    });
    const value = await response.json().catch(() => null);
    if (response.ok) return { ok: true, value };
    return { ok: false, status: response.status, problem: typeof value?.message === 'string' ? value : null };
  } catch {
    return { ok: false, status: 0, problem: null };
  }
}

export interface Imported {
  items: number;
  runs: number;
  edits: number;
  known: number;
  /** Sentences. */
  conflicts: string[];
  skipped?: string[];
}
/** What is new of an export is added; a table is told by its name. */
export const importFile = (file: File): Promise<Answer<Imported>> =>
  sendFile('import', file, /\.csv$/i.test(file.name) ? 'text/csv' : 'application/json');
export const uploadBackup = (file: File): Promise<Answer<Backup>> =>
  sendFile('backups/upload', file, 'application/octet-stream');

/** Runs that are over and could not be put on disk. */
export const countUnsaved = (): Promise<Answer<{ store?: { unsavedRuns: number } }>> =>
  request('GET', 'health');
