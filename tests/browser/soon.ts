import { expect } from 'vitest';

/** Like `expect.poll`, with the patience that a busy machine needs. */
export const soon = <T>(get: () => T | Promise<T>) => expect.poll(get, { timeout: 20_000 });
