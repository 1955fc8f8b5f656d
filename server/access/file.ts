import { appendFile, mkdir, readFile, rename, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type AuditEntry, mostEntries, readEntry } from './audit.ts';
import { isRole } from './roles.ts';
import type { Session } from './sessions.ts';

/** Where sessions and the audit outlive the program. */
export interface AccessFile {
  sessions(): Promise<Session[]>;
  keepSessions(sessions: readonly Session[]): Promise<void>;
  entries(): Promise<AuditEntry[]>;
  note(entry: AuditEntry): Promise<void>;
}

/** Two files of this size hold some 4 000 entries. */
const greatestAudit = 512 * 1024;

/** Nobody but the user who runs Catchbench reads them. */
const mode = 0o600;

function isSession(value: unknown): value is Session {
  if (typeof value !== 'object' || value === null) return false;
  const { id, name, role, tokenHash, from, pairedAt, seenAt } = value as Record<string, unknown>;
  const words = [id, name, tokenHash, from].every((one) => typeof one === 'string');
  return words && isRole(role) && Number.isFinite(pairedAt) && Number.isFinite(seenAt);
}

/** What is in a file; nothing where it cannot be read: neither list is worth not starting for. */
const textOf = (path: string): Promise<string> => readFile(path, 'utf8').catch(() => '');

/** Files in `folder`. What cannot be read lets nobody in: those devices pair again. */
export function accessFile(folder: string): AccessFile {
  const sessionsPath = join(folder, 'paired.json');
  const auditPath = join(folder, 'audit.jsonl');
  const olderPath = join(folder, 'audit.1.jsonl');
  let auditSize: number | null = null;
  return {
    async sessions() {
      try {
        const value: unknown = JSON.parse((await textOf(sessionsPath)) || '[]');
        return Array.isArray(value) ? value.filter(isSession) : [];
      } catch {
        return [];
      }
    },
    async keepSessions(sessions) {
      await mkdir(folder, { recursive: true });
      const fresh = `${sessionsPath}.new`;
      await writeFile(fresh, JSON.stringify(sessions), { mode });
      await rename(fresh, sessionsPath);
    },
    async entries() {
      const text = (await textOf(olderPath)) + (await textOf(auditPath));
      const entries = text.split('\n').flatMap((line) => readEntry(line) ?? []);
      return entries.slice(-mostEntries);
    },
    async note(entry) {
      if (auditSize === null) {
        await mkdir(folder, { recursive: true });
        auditSize = await stat(auditPath).then(
          (file) => file.size,
          () => 0,
        );
      }
      if (auditSize > greatestAudit) {
        await rename(auditPath, olderPath);
        auditSize = 0;
      }
      const line = `${JSON.stringify(entry)}\n`;
      await appendFile(auditPath, line, { mode });
      auditSize += line.length;
    },
  };
}
