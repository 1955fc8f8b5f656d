import type { Role } from './roles.ts';

/** Who did what: one line each, kept in a bounded list. */

export interface AuditEntry {
  /** ISO 8601, UTC. */
  at: string;
  /** Session number, `host` for this computer itself, or `` where nobody is known. */
  by: string;
  /** What the device was called then. */
  name: string;
  role: Role | null;
  /** Network address. */
  from: string;
  /** The route, as `POST /api/run/start`, or what befell: `code offered`, `pairing refused`. */
  act: string;
  /** HTTP status of the answer, or a word. */
  outcome: string;
}

/** Entries held in memory and shown; some more stay on disk. */
export const mostEntries = 500;

export function withEntry(entries: readonly AuditEntry[], added: AuditEntry): AuditEntry[] {
  return [...entries.slice(Math.max(0, entries.length + 1 - mostEntries)), added];
}

const texts = ['at', 'by', 'name', 'from', 'act', 'outcome'] as const;

/** A line of the file as an entry, or null where it is none: cut off by a crash, or written by someone else. */
export function readEntry(line: string): AuditEntry | null {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value !== 'object' || value === null) return null;
    const entry = value as Record<string, unknown>;
    return texts.every((key) => typeof entry[key] === 'string') ? (value as AuditEntry) : null;
  } catch {
    return null;
  }
}
