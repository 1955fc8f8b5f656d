import { join } from 'node:path';
import pino, { type Logger } from 'pino';
import roll from 'pino-roll';
import { withoutSecrets } from './secrets.ts';

export type Log = Pick<Logger, 'debug' | 'info' | 'warn' | 'error'>;

export interface OpenLog {
  log: Log;
  /** Writes what is left, and closes the file. */
  close(): Promise<void>;
}

/** Three files of 4 MB at most: weeks of a busy shop, and never a full disk. */
const sizeOfFile = '4m';
const olderFiles = 2;

export const logFolder = (dataFolder: string): string => join(dataFolder, 'logs');

const cleaned = (value: unknown): unknown => (typeof value === 'string' ? withoutSecrets(value) : value);

/** Lines of JSON to this stream, secrets taken out of every sentence and field. */
export function logTo(stream: pino.DestinationStream, level = 'info'): Log {
  return pino(
    {
      level,
      base: null,
      timestamp: pino.stdTimeFunctions.isoTime,
      formatters: {
        level: (label) => ({ level: label }),
        log: (fields) =>
          Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, cleaned(value)])),
      },
      serializers: {
        err: (error: Error) => ({
          message: withoutSecrets(error.message),
          stack: withoutSecrets(error.stack ?? ''),
        }),
      },
      hooks: {
        logMethod(parts, method) {
          method.apply(this, parts.map(cleaned) as typeof parts);
        },
      },
    },
    stream,
  );
}

/** A log that goes nowhere. */
export const noLog: Log = pino({ level: 'silent' });

/**
 * The log in the data folder. Where it cannot be written the service goes on without one, and `say` hears it once: a log is no reason to leave a
 * drill standing.
 */
export async function openLog(
  dataFolder: string,
  level: string | undefined,
  say: (sentence: string) => void,
): Promise<OpenLog> {
  let told = false;
  const complain = (error: Error): void => {
    if (!told) say(`There will be no log in ${logFolder(dataFolder)}: ${error.message}.`);
    told = true;
  };
  try {
    const stream = await roll({
      file: join(logFolder(dataFolder), 'catchbench.log'),
      size: sizeOfFile,
      limit: { count: olderFiles, removeOtherLogFiles: true },
      mkdir: true,
      sync: false,
    });
    stream.on('error', complain);
    return {
      log: logTo(stream, level),
      close: () =>
        new Promise((resolve) => {
          stream.once('close', resolve);
          stream.once('error', () => resolve());
          stream.end();
        }),
    };
  } catch (error) {
    complain(error as Error);
    return { log: noLog, close: async () => {} };
  }
}
