import type { Role } from './roles.ts';
import { sameHash } from './token.ts';

/** The devices that have been let in: pure. Times are milliseconds of the wall clock, for they outlive the program. */

/** Paired anew at least this often. */
export const sessionMillis = 30 * 24 * 3_600_000;
/** Far more than a shop has; the one unseen longest has to go first. */
export const mostSessions = 50;

export interface Session {
  /** For lists and revoking. */
  id: string;
  /** What the person called the device. */
  name: string;
  role: Role;
  /** Of the secret in its cookie. */
  tokenHash: string;
  /** Address it was paired from. */
  from: string;
  pairedAt: number;
  seenAt: number;
}

export const isOver = (session: Session, now: number): boolean => now >= session.pairedAt + sessionMillis;

/** With a new session; without those that are over and, where there are too many, without the one unseen longest. */
export function withSession(sessions: readonly Session[], added: Session, now: number): Session[] {
  const living = sessions.filter((session) => !isOver(session, now));
  const byUse = living.toSorted((one, other) => other.seenAt - one.seenAt);
  return [...byUse.slice(0, mostSessions - 1), added];
}

/** The session whose secret has this hash. Every one is looked at, so that the time tells nothing. */
export function sessionOf(sessions: readonly Session[], tokenHash: string, now: number): Session | null {
  let found: Session | null = null;
  for (const session of sessions) if (sameHash(session.tokenHash, tokenHash)) found = session;
  return found === null || isOver(found, now) ? null : found;
}

const greatestName = 40;

/** A name as it may stand in lists and on a terminal: one line, printable, not too long; null where nothing is left. */
export function deviceName(text: string): string | null {
  const name = text
    .normalize('NFC')
    .replace(/[\p{C}\p{Z}]+/gu, ' ')
    .trim();
  return name === '' ? null : [...name].slice(0, greatestName).join('');
}
