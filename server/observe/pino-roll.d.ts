declare module 'pino-roll' {
  import type { SonicBoom, SonicBoomOpts } from 'sonic-boom';

  /** A file that is followed by a new one when it is full; the newest so many are kept. */
  export default function roll(
    options: Omit<SonicBoomOpts, 'dest'> & {
      file: string;
      size?: number | string;
      limit?: { count?: number; removeOtherLogFiles?: boolean };
    },
  ): Promise<SonicBoom>;
}
