import type { Figure } from '../figures.ts';
import { fanOut } from './fan-out.ts';
import { frames } from './frames.ts';
import { load, memoryOverAnHour } from './load.ts';

/** What the service costs with many eyes on it, over a long day, and how the page keeps up. */
export const underLoad = async (): Promise<Figure[]> => [
  ...(await fanOut()),
  ...(await load()),
  ...(await memoryOverAnHour()),
  ...(await frames()),
];
