import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import { temporaryFolders } from '../records/folders.ts';
import type { Soak, SoakLoad, soak as soakRuns } from './soak.ts';

/** A season in one process: nothing piles up, and the last run is as right as the first. */

const whole = process.env.CATCHBENCH_WHOLE === '1';
/** Numbers of runs after which the load is looked at, the first when everything that is made once has been made. */
const marks = whole ? [50, 200, 400, 600, 800, 1000] : [12, 16];
const runs = marks.at(-1)!;

/**
 * What the test itself keeps of a run is some 100 bytes, and up to 45 kB come and go, which the few runs of the sample do not even out; a run that
 * something still holds on to is 160 kB, its figures alone 2 kB.
 */
const mostBytesEachRun = whole ? 200 : 15_000;
/** The same with what the engine compiles as one function after the other becomes hot, which it does for hundreds of runs, ever less. */
const mostHeapEachRun = whole ? 3000 : 100_000;

const folder = temporaryFolders();
let result: Soak;
beforeAll(async () => {
  const { soak } = await bundled<{ soak: typeof soakRuns }>(new URL('soak.ts', import.meta.url));
  result = await soak(folder(), marks, 1);
}, 3_600_000);

/** Growth from the first mark to the last, a run. */
function growth(of: (load: SoakLoad) => number): number {
  const [first, last] = [result.loads[0]!, result.loads.at(-1)!];
  return (of(last) - of(first)) / (last.runs - first.runs);
}

describe(`${runs} runs on the emulated stand in one process`, () => {
  it('all end complete, with the turns and the catch that really were, and the same from their readings', () => {
    const of = (right: (run: Soak['runs'][number]) => boolean) => result.runs.filter(right).length;
    const held = of(({ holds }) => holds);
    console.info(
      `rate's interval holds the truth in ${held} of ${runs}; ${(result.standSeconds / result.realSeconds).toFixed(1)} times real time`,
    );
    expect(result.faults).toEqual([]);
    expect(of(({ outcome }) => outcome === 'complete')).toBe(runs);
    expect(of(({ verdict }) => verdict === 'same')).toBe(runs);
    // A magnet's spacing at either end.
    expect(of(({ turnsWrong }) => turnsWrong <= 2 / 24)).toBe(runs);
    expect(of(({ catchOff }) => catchOff <= 5)).toBe(runs);
    // 95 % and what chance makes of so many: four standard deviations below.
    expect(held / runs).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / runs));
  });

  it('leave nothing behind in memory', () => {
    const megabytes = (bytes: number) => (bytes / 1e6).toFixed(3);
    for (const { runs: after, heapBytes, heldBytes, externalBytes, handles } of result.loads)
      console.info(
        `after ${after}: objects ${megabytes(heldBytes)} MB of a heap of ${megabytes(heapBytes)}, beside it ${megabytes(externalBytes)}, ${handles} handles`,
      );
    expect(growth(({ heldBytes }) => heldBytes)).toBeLessThan(mostBytesEachRun);
    expect(growth(({ heapBytes }) => heapBytes)).toBeLessThan(mostHeapEachRun);
    expect(growth(({ externalBytes }) => externalBytes)).toBeLessThan(mostBytesEachRun);
  });

  it('leave no timer, socket or file open', () => {
    // One or two may be on their way at the moment of counting.
    expect(result.loads.at(-1)!.handles - result.loads[0]!.handles).toBeLessThanOrEqual(2);
  });
});
