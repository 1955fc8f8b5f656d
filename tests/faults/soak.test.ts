import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import { temporaryFolders } from '../records/folders.ts';
import type { Soak, SoakLoad, soak as soakRuns } from './soak.ts';

/** A season in one process: nothing piles up, and the last run is as right as the first. */

const whole = process.env.CATCHBENCH_WHOLE === '1';
const runs = whole ? 1000 : 16;
const every = whole ? 50 : 4;

/** From here on what the compiler keeps has settled. */
const warm = whole ? 200 : 8;
/**
 * A run that something still holds on to is 160 kB. In the first runs the compiler of Node keeps some 50 kB for each, later 4 kB: two snapshots of the
 * heap sixteen runs apart differ by its code and by no object of ours.
 */
const mostBytesEachRun = whole ? 10_000 : 100_000;

const folder = temporaryFolders();
let result: Soak;
beforeAll(async () => {
  const { soak } = await bundled<{ soak: typeof soakRuns }>(new URL('soak.ts', import.meta.url));
  result = await soak(folder(), runs, every, 1);
}, 3_600_000);

/** Growth from the first load that counts to the last, a run. */
function growth(of: (load: SoakLoad) => number): number {
  const settled = result.loads.filter((load) => load.runs >= warm);
  const [first, last] = [settled[0]!, settled.at(-1)!];
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
    for (const { runs: after, heapBytes, externalBytes, handles } of result.loads) {
      const megabytes = (bytes: number) => (bytes / 1e6).toFixed(2);
      console.info(
        `after ${after}: heap ${megabytes(heapBytes)} MB, beside it ${megabytes(externalBytes)}, ${handles} handles`,
      );
    }
    expect(growth(({ heapBytes }) => heapBytes)).toBeLessThan(mostBytesEachRun);
    expect(growth(({ externalBytes }) => externalBytes)).toBeLessThan(mostBytesEachRun);
  });

  it('leave no timer, socket or file open', () => {
    const settled = result.loads.filter((load) => load.runs >= warm);
    // One or two may be on their way at the moment of counting.
    expect(settled.at(-1)!.handles - settled[0]!.handles).toBeLessThanOrEqual(2);
  });
});
