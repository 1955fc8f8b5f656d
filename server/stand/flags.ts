import { type Reading, readingFlags } from '../link/readings.ts';

/** Whether a reading carries this flag. */
export const hasReadingFlag = ({ flags }: Reading, flag: keyof typeof readingFlags): boolean =>
  (flags & readingFlags[flag]) !== 0;
