import { parseArgs } from 'node:util';

export const usage = `An emulated stand under an imagined drill, on a pseudo-terminal that a serial driver can open; or the check of a stand.

Usage: npm run stand -- [options]

  --speed N   times real time, 0.01 to 100 (default 1)
  --cells N   load cells, each under a row of its own, 1 to 6 (default 1)
  --seed N    the same seed gives the same drill (default: another each time)
  --path P    where the pseudo-terminal is to be found (default: a new name)
  --help      this text

It prints the path; give it to the service: npm start -- --port <path>
A person's hands are typed here: turn 3, turn -3 (the wheel), hang 200 or hang 200 2 (grams on cell 1 or 2), press, release.

       npm run stand -- check --port P [--by NAME]
  leads through the check of the stand on this port, new or once a year, prints the result and keeps it with the records

       npm run stand -- check --emulated [--speed N] [--cells N] [--seed N]
  shows it on an emulated stand, whose person is played too
`;

/** What is wrong with the command line, for a person. */
export class UsageError extends Error {
  override name = 'UsageError';
}

interface Emulated {
  speed: number;
  cells: number;
  seed: string;
}

export type StandCommand =
  | { command: 'help' }
  | ({ command: 'stand'; path: string | undefined } & Emulated)
  | { command: 'check'; port: string; by: string }
  | ({ command: 'check-emulated'; by: string } & Emulated);

function numberBetween(name: string, text: string, least: number, most: number): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= least && value <= most)) {
    throw new UsageError(`--${name} takes a number from ${least} to ${most}, not "${text}".`);
  }
  return value;
}

function wholeNumberBetween(name: string, text: string, least: number, most: number): number {
  const value = numberBetween(name, text, least, most);
  if (!Number.isInteger(value)) throw new UsageError(`--${name} takes a whole number, not "${text}".`);
  return value;
}

function parse(args: string[]) {
  const text = { type: 'string' } as const;
  const flag = { type: 'boolean' } as const;
  const options = {
    speed: text,
    cells: text,
    seed: text,
    path: text,
    port: text,
    by: text,
    emulated: flag,
    help: flag,
  };
  try {
    return parseArgs({ args, options, allowPositionals: true });
  } catch (error) {
    throw new UsageError((error as Error).message);
  }
}

/**
 * What the command line asks for. `args` without program and script.
 * @throws UsageError with a sentence.
 */
export function readStandCommand(args: string[]): StandCommand {
  const { values, positionals } = parse(args);
  if (values.help) return { command: 'help' };
  const [word, ...more] = positionals;
  if (more.length > 0 || (word !== undefined && word !== 'check')) {
    throw new UsageError(`"${more[0] ?? word}" means nothing here.`);
  }
  const emulated: Emulated = {
    speed: numberBetween('speed', values.speed ?? (word === 'check' ? '20' : '1'), 0.01, 100),
    cells: wholeNumberBetween('cells', values.cells ?? '1', 1, 6),
    seed: values.seed ?? String(Date.now()),
  };
  const { by = '', port, path } = values;
  if (word === undefined) {
    if (port !== undefined)
      throw new UsageError('--port belongs to the check: npm run stand -- check --port <path>');
    return { command: 'stand', path, ...emulated };
  }
  if (values.emulated) {
    if (port !== undefined) throw new UsageError('Name a port or say --emulated, not both.');
    return { command: 'check-emulated', by, ...emulated };
  }
  if (port === undefined)
    throw new UsageError('Say which port the stand is on: npm run stand -- check --port <path>');
  return { command: 'check', port, by };
}
