import { randomBytes, randomInt, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * The code that someone reads off the host and types in: eight signs of thirty, none of which looks like another, so 39 bits. It lives for minutes
 * and allows five tries; what protects it is that it cannot be tried often.
 */

/** Without 0 and O, 1, I and L, U (like V). */
const signs = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const length = 8;

/** OWASP's smallest advised cost is for passwords that live for years; this is for minutes: 16 MiB and some 50 ms a try. */
const cost: ScryptOptions = { N: 2 ** 14, r: 8, p: 1 };
const hashBytes = 32;

export function newCode(): string {
  return Array.from({ length }, () => signs[randomInt(signs.length)]).join('');
}

/** As it is shown: in two halves, which are easier to read out. */
export const shownCode = (code: string): string => `${code.slice(0, length / 2)}-${code.slice(length / 2)}`;

/** What was typed, as a code: without spaces and dashes, in capitals; null where it cannot be one. */
export function typedCode(text: string): string | null {
  const code = text.replace(/[\s-]/g, '').toUpperCase();
  return code.length === length && [...code].every((sign) => signs.includes(sign)) ? code : null;
}

/** What is kept of a code. A short code has to be hashed slowly: whoever reads memory must not find it while it still lives. */
export interface CodeHash {
  salt: Buffer;
  hash: Buffer;
}

const slowHash = (code: string, salt: Buffer): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    scrypt(code, salt, hashBytes, cost, (error, hash) => (error ? reject(error) : resolve(hash)));
  });

export async function hashCode(code: string): Promise<CodeHash> {
  const salt = randomBytes(16);
  return { salt, hash: await slowHash(code, salt) };
}

/** Whether `code` is the one that was hashed; takes the same time either way. */
export async function isCode(code: string, { salt, hash }: CodeHash): Promise<boolean> {
  return timingSafeEqual(await slowHash(code, salt), hash);
}
