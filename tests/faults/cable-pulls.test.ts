import { describe, expect, it } from 'vitest';
import { Dice } from '../link/dice.ts';
import { needs } from '../needs.ts';
import { pullCampaign } from './cable-pulls.ts';

/** Pulls of the cable, in real time: 100 with CATCHBENCH_WHOLE set, else a sample. */
const whole = Boolean(process.env.CATCHBENCH_WHOLE);
const pulls = whole ? 100 : 4;

describe.runIf(needs('socat'))('a cable that is pulled', () => {
  it(`${pulls} times at random moments: found again, no wrong total, runs flagged rightly`, {
    timeout: 900_000,
  }, async () => {
    const dice = new Dice(whole ? 100 : Date.now());
    const report = await pullCampaign(pulls, whole ? 4 : 2, () => dice.below(1e6) / 1e6);
    const { recoveryMillis: recovery, phases, outcomes, runs, wrongs } = report;
    const most = recovery.at(-1)!;
    console.info(
      `${report.pulls} pulls in ${runs} runs ${JSON.stringify(outcomes)}, pulled while ${JSON.stringify(phases)}; connected again after the cable went in: median ${recovery[recovery.length >> 1]!.toFixed(0)} ms, most ${most.toFixed(0)} ms`,
    );
    expect(wrongs).toEqual([]);
    expect(report.pulls).toBe(pulls);
    // 0.6 s until the port is looked for again, and what the machine takes to open it and to hear the stand. The whole campaign belongs on a quiet one.
    expect(most).toBeLessThan(whole ? 2000 : 5000);
  });
});
