/** `npm run stand`: the emulated stand on a pseudo-terminal until it is interrupted, or the check of a stand. */
import { createInterface } from 'node:readline';
import { checkEmulated, checkOnPort } from './check-cli.ts';
import { readStandCommand, type StandCommand, UsageError, usage } from './command-line.ts';
import { createHandledStand } from './emulated.ts';
import { doByHand } from './hands.ts';
import { pace } from './pacing.ts';
import { openPseudoTerminal } from './pty.ts';

async function standUntilInterrupted(options: StandCommand & { command: 'stand' }): Promise<void> {
  const { speed, cells, seed, path } = options;
  const { stand, person } = createHandledStand(cells, seed);
  const interrupted = new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, resolve);
  });
  const terminal = await openPseudoTerminal(stand, path);
  const pacing = pace(stand, speed);
  console.log(
    `${terminal.path}\n${cells} load cell(s), ${speed} times real time, seed ${seed}. Ctrl-C ends it.`,
  );
  const typed = createInterface({ input: process.stdin });
  const later = (seconds: number, sentence: string) =>
    void stand.clock.after(1000 * seconds, () => console.log(sentence));
  typed.on('line', (line) => console.log(doByHand(line, person, later)));
  await interrupted;
  typed.close();
  process.stdin.unref();
  await pacing.stop();
  await terminal.close();
}

async function main(): Promise<void> {
  const command = readStandCommand(process.argv.slice(2));
  switch (command.command) {
    case 'help':
      console.log(usage);
      break;
    case 'check':
      process.exitCode = await checkOnPort(command);
      break;
    case 'check-emulated':
      process.exitCode = await checkEmulated(command);
      break;
    default:
      await standUntilInterrupted(command);
  }
}

main().catch((error: Error) => {
  console.error(error instanceof UsageError ? `${error.message}\n\n${usage}` : error.message);
  process.exitCode = 1;
});
