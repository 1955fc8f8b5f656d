import type { de } from './de/index.ts';
import type { en } from './en/index.ts';
import type { es } from './es/index.ts';
import type { fr } from './fr/index.ts';
import type { Differences } from './messages.ts';

/** Nothing: a type for which any path of a text that differs is a compile error that names the path. */
type None<Path extends never> = Path;

/** Each language has the topics, keys and values of English. */
export type Same = None<
  Differences<typeof en, typeof fr> | Differences<typeof en, typeof es> | Differences<typeof en, typeof de>
>;
