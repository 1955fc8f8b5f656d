export type RecordsTrouble =
  | 'read-only'
  | 'full'
  | 'locked'
  | 'damaged'
  | 'newer'
  | 'older'
  | 'unreachable'
  | 'incomplete'
  | 'unknown'
  | 'exists'
  | 'busy'
  | 'not-ours'
  | 'failed';

/** Something the records could not do; `message` says what happened, what it means and what to do. */
export class RecordsError extends Error {
  readonly trouble: RecordsTrouble;

  constructor(trouble: RecordsTrouble, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'RecordsError';
    this.trouble = trouble;
  }
}

/** Primary result codes of https://sqlite.org/rescode.html. */
const sqliteTroubles: Record<number, RecordsTrouble> = {
  5: 'locked', // SQLITE_BUSY
  6: 'locked', // SQLITE_LOCKED
  8: 'read-only', // SQLITE_READONLY
  11: 'damaged', // SQLITE_CORRUPT
  13: 'full', // SQLITE_FULL
  14: 'unreachable', // SQLITE_CANTOPEN
  26: 'damaged', // SQLITE_NOTADB
};

const systemTroubles: Record<string, RecordsTrouble> = {
  EACCES: 'read-only',
  EPERM: 'read-only',
  EROFS: 'read-only',
  ENOSPC: 'full',
  EDQUOT: 'full',
  ENOTDIR: 'unreachable',
  EEXIST: 'unreachable',
  ENOENT: 'unreachable',
  ECONNREFUSED: 'unreachable',
  ENOTFOUND: 'unreachable',
  ETIMEDOUT: 'unreachable',
};

const sentences: Record<RecordsTrouble, (place: string) => string> = {
  'read-only': (place) =>
    `The records in ${place} cannot be written: the folder or a file in it is read-only for this user. Make it writable, or name another folder in CATCHBENCH_DATA.`,
  full: (place) => `The disk that holds the records in ${place} is full. Make room on it.`,
  locked: (place) =>
    `The records in ${place} are in use by another program, most likely another Catchbench. Stop that one, or name another folder in CATCHBENCH_DATA.`,
  damaged: (place) =>
    `The file of records in ${place} is damaged. Stop Catchbench and start it again: it then puts the damaged file aside and begins a new one.`,
  newer: (place) =>
    `The records in ${place} were written by a newer Catchbench than this one. Use the newer one, or name another folder in CATCHBENCH_DATA.`,
  older: (place) =>
    `The records in ${place} were written by an older Catchbench. Start this one once: it brings them up to date.`,
  unreachable: (place) =>
    `The records in ${place} cannot be opened: it is no folder, or it cannot be reached. Name another folder in CATCHBENCH_DATA.`,
  exists: (place) => `There is something at ${place} already: name another file.`,
  busy: (place) => `A run in ${place} is under way. Let it end, then try again.`,
  'not-ours': (place) => `${place} is no backup of Catchbench, or it is damaged. Nothing was changed.`,
  unknown: (place) => `That is not, or no longer, on record in ${place}.`,
  incomplete: (place) => `Readings of this run are missing from the records in ${place}.`,
  failed: (place) => `The records in ${place} could not be read or written.`,
};

function troubleOf(error: unknown): RecordsTrouble {
  const { errcode, code } = (error ?? {}) as { errcode?: unknown; code?: unknown };
  // The low byte is the primary code; the rest of an extended code tells where in SQLite it happened.
  if (typeof errcode === 'number') return sqliteTroubles[errcode & 0xff] ?? 'failed';
  return typeof code === 'string' ? (systemTroubles[code] ?? 'failed') : 'failed';
}

/** The error for a trouble in this folder, with its sentence. */
export function trouble(kind: RecordsTrouble, folder: string, cause?: unknown): RecordsError {
  const detail = kind === 'failed' && cause instanceof Error ? ` (${cause.message})` : '';
  return new RecordsError(kind, sentences[kind](folder) + detail, cause);
}

/** Turns an error of SQLite or of the file system into one with a sentence. */
export function explain(error: unknown, folder: string): RecordsError {
  return error instanceof RecordsError ? error : trouble(troubleOf(error), folder, error);
}

/** Something that does not fit a field. `field` is its JSON pointer; `message` a sentence for whoever typed it. */
export class FieldError extends Error {
  readonly field: string;

  constructor(field: string, message: string) {
    super(message);
    this.name = 'FieldError';
    this.field = field;
  }
}
