import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** The secret of a paired device. It never leaves the cookie; what is kept is its hash. */

const tokenBytes = 32;

export const newToken = (): string => randomBytes(tokenBytes).toString('base64url');

/** Session number for lists and revoking; says nothing of the secret. */
export const newSessionId = (): string => randomBytes(9).toString('base64url');

/**
 * SHA-256, not scrypt: slow hashing makes guessing dear where a secret can be guessed. 256 random bits cannot, and this is
 * computed for every request.
 */
export const hashToken = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Whether two hashes are the same; takes the same time either way. */
export function sameHash(one: string, other: string): boolean {
  const [a, b] = [Buffer.from(one, 'hex'), Buffer.from(other, 'hex')];
  return a.length === b.length && timingSafeEqual(a, b);
}
