/** `npm run stand`: the emulated stand on a pseudo-terminal, until it is interrupted. */
import { parseArgs } from 'node:util';
import { oneRow, sixRows } from './drill/scenarios.ts';
import { createEmulatedStand } from './emulated.ts';
import { pace } from './pacing.ts';
import { openPseudoTerminal } from './pty.ts';

const usage = `An emulated stand under an imagined drill, on a pseudo-terminal that a serial driver can open.

Usage: npm run stand -- [options]

  --speed N   times real time, 0.01 to 100 (default 1)
  --cells N   load cells, each under a row of its own, 1 to 6 (default 1)
  --seed N    the same seed gives the same drill (default: another each time)
  --path P    where the pseudo-terminal is to be found (default: a new name)
  --help      this text

It prints the path; give it to the service: npm start -- --port <path>
`;

interface Options {
  speed: number;
  cells: number;
  seed: string;
  path: string | undefined;
}

/** What is wrong with the command line, for a person. */
class UsageError extends Error {}

function optionsFrom(args: string[]): Options | 'help' {
  const text = { type: 'string' } as const;
  const flags = { speed: text, cells: text, seed: text, path: text, help: { type: 'boolean' } } as const;
  let values: ReturnType<typeof parseArgs<{ options: typeof flags }>>['values'];
  try {
    values = parseArgs({ args, options: flags }).values;
  } catch (error) {
    throw new UsageError((error as Error).message);
  }
  if (values.help) return 'help';
  return {
    speed: numberBetween('speed', values.speed ?? '1', 0.01, 100),
    cells: wholeNumberBetween('cells', values.cells ?? '1', 1, 6),
    seed: values.seed ?? String(Date.now()),
    path: values.path,
  };
}

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

async function main(): Promise<void> {
  const options = optionsFrom(process.argv.slice(2));
  if (options === 'help') {
    console.log(usage);
    return;
  }
  const { speed, cells, seed, path } = options;
  const scenario = { ...(cells === 1 ? oneRow : sixRows), cells };
  const { stand } = createEmulatedStand(scenario, seed);
  const interrupted = new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, resolve);
  });
  const terminal = await openPseudoTerminal(stand, path);
  const pacing = pace(stand, speed);
  console.log(
    `${terminal.path}\n${cells} load cell(s), ${speed} times real time, seed ${seed}. Ctrl-C ends it.`,
  );
  await interrupted;
  await pacing.stop();
  await terminal.close();
}

main().catch((error: Error) => {
  console.error(error instanceof UsageError ? `${error.message}\n\n${usage}` : error.message);
  process.exitCode = 1;
});
