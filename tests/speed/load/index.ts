import type { Figure } from '../figures.ts';
import { fanOut } from './fan-out.ts';
import { load, memoryOverAnHour } from './load.ts';

/** What the service costs with many eyes on it, and over a long day. */
export const underLoad = async (): Promise<Figure[]> => [
  ...(await fanOut()),
  ...(await load()),
  ...(await memoryOverAnHour()),
];
