/** How fast the emulation is, for the benchmark. */
import { oneRow, sixRows } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { wireLine } from './talk.ts';

/** Before the clock starts: the machine code of the emulation is compiled by then. */
const warmUpSeconds = 3;

const beatMilliseconds = 250;

/**
 * Times real time that the whole stand runs: the real firmware and an imagined drill that is being turned, the host beating
 * four times a second.
 * @param cells load cells, 1 to 6.
 * @param seconds of the stand's time to measure over.
 */
export function measureEmulation(cells: number, seconds: number): number {
  const { stand } = createEmulatedStand({ ...(cells === 1 ? oneRow : sixRows), cells }, 1);
  let text = '';
  stand.onBytes((bytes) => {
    text = (text + Buffer.from(bytes).toString('latin1')).slice(-500);
  });
  let tag = 10;
  const beat = () => {
    stand.write(wireLine(`${tag++} beat`));
    stand.clock.after(beatMilliseconds, beat);
  };
  beat();
  stand.advance(warmUpSeconds / 2);
  stand.write(wireLine('1 arm motor 1000000'));
  stand.advance(0.05);
  stand.write(wireLine(`2 go ${/A \d+ 1 ok (\d+)\*/.exec(text)?.[1]}`));
  stand.advance(warmUpSeconds / 2);
  if (!stand.board.motor) throw new Error('The drill does not turn');
  const start = performance.now();
  stand.advance(seconds);
  return (1000 * seconds) / (performance.now() - start);
}
