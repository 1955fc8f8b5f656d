import type * as german from './de/all.ts';
import type { en } from './en/index.ts';
import type { told } from './en/told.ts';
import type * as spanish from './es/all.ts';
import type * as french from './fr/all.ts';
import type { Differences } from './messages.ts';

/** Nothing: a type for which any path of a text that differs is a compile error that names the path. */
type None<Path extends never> = Path;

/** English as the other languages have it: what the page says, and what the server tells. */
type English = { texts: typeof en; told: typeof told };

/** Each language has the topics, keys and values of English. */
export type Same = None<
  | Differences<English, typeof french>
  | Differences<English, typeof spanish>
  | Differences<English, typeof german>
>;
