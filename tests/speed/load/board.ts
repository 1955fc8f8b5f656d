import { sixRows } from '../../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../../firmware-sim/emulated.ts';
import { pace } from '../../../firmware-sim/pacing.ts';
import { openPseudoTerminal } from '../../../firmware-sim/pty.ts';

/**
 * An emulated stand of six cells on a pseudo-terminal, as a process of its own: what holds up the service holds up no byte here, as with a real board.
 * Every half second it tells its parent when the last byte of each reading left.
 */

export interface BoardReport {
  /** Where a serial driver finds it. */
  path: string;
  /** Board time of readings, and when their last byte left (milliseconds of the computer's clock). */
  left: [boardMicros: number, epochMillis: number][];
  /** Processor time since the process began, milliseconds. */
  processorMillis: number;
  /** Seconds that the stand gave up because the computer could not keep up. */
  secondsLost: number;
}

const { stand } = createEmulatedStand(sixRows, 'load');
let left: BoardReport['left'] = [];
let rest = '';
const terminal = await openPseudoTerminal(stand);
// After the terminal's own listener: by now it has the bytes.
stand.onBytes((bytes) => {
  const lines = (rest + Buffer.from(bytes).toString('latin1')).split('\n');
  rest = lines.pop()!;
  for (const line of lines) {
    const micros = /^R \d+ (\d+) /.exec(line)?.[1];
    if (micros !== undefined) left.push([Number(micros), performance.timeOrigin + performance.now()]);
  }
});
const pacing = pace(stand);

function report(): void {
  const { user, system } = process.cpuUsage();
  const processorMillis = (user + system) / 1000;
  const { path } = terminal;
  process.send?.({ path, left, processorMillis, secondsLost: pacing.secondsLost } satisfies BoardReport);
  left = [];
}

const ended = new Promise((resolve) => process.once('message', resolve));
process.once('disconnect', () => process.exit(1));
report();
const reporting = setInterval(report, 500);
await ended;
clearInterval(reporting);
await pacing.stop();
await terminal.close();
report();
process.disconnect();
