import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Dice } from '../link/dice.ts';
import { killCampaign } from './records-kill.ts';

/** Kills of the process that puts runs on record: 500 with CATCHBENCH_WHOLE set, else a sample. */
const whole = Boolean(process.env.CATCHBENCH_WHOLE);
const kills = whole ? 500 : 8;

const place = mkdtempSync(join(tmpdir(), 'catchbench-kill-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

const share = (values: number[], part: number) => values[Math.floor(part * (values.length - 1))]!;

describe('kill -9 at any moment', () => {
  it(`${kills} times: no finished run lost or changed, no file corrupt, every interrupted run found, hardly a reading missing`, {
    timeout: 1_800_000,
  }, async () => {
    const dice = new Dice(whole ? 500 : Date.now());
    const report = await killCampaign(place, kills, () => dice.below(1e6) / 1e6, {
      together: whole ? 3 : 2,
    });
    const { missingMillis: missing, ownMillis: own, finished, interrupted, wrongs } = report;
    console.info(
      `${report.kills} kills, ${finished} runs called final before, ${interrupted} found interrupted, ${report.takenUp} of them taken up and ended by a later process, ${report.notStarted} left and not started; readings missing at a kill in mid-run: median ${share(missing, 0.5).toFixed(0)} ms, 99 % ${share(missing, 0.99).toFixed(0)} ms, most ${missing.at(-1)!.toFixed(0)} ms, ${missing.filter((millis) => millis > 250).length} of ${missing.length} above 250 ms; without the disk's own time at most ${own.at(-1)!.toFixed(0)} ms`,
    );
    expect(wrongs).toEqual([]);
    expect(report.kills).toBe(kills);
    expect(interrupted).toBeGreaterThan(kills / 8);
    if (whole) expect(report.takenUp).toBeGreaterThan(kills / 20);
    // A batch waits 100 ms; the rest is the disk's and the machine's. Without batches a whole run would be missing, some 1 500 ms.
    expect(share(missing, 0.5)).toBeLessThan(250);
    expect(missing.at(-1)).toBeLessThan(1000);
  });
});
