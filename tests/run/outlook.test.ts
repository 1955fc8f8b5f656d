import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import type * as campaign from './outlook-campaign.ts';

/**
 * Forecast, verdict and live rate on the imagined drill. CATCHBENCH_WHOLE=1 makes 500 runs and more of each; without it a seeded sample runs whose bounds are
 * as much wider as chance asks for.
 */
const whole = process.env.CATCHBENCH_WHOLE === '1';
const patience = { timeout: 1_200_000 };

let fast: typeof campaign;
beforeAll(async () => {
  fast = await bundled(new URL('outlook-campaign.ts', import.meta.url));
});

const percent = (part: number) => `${(100 * part).toFixed(2)} %`;
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const rms = (values: number[]) => Math.sqrt(mean(values.map((value) => value ** 2)));

describe('the early verdict', () => {
  it.each(['by motor', 'by hand'] as const)(
    '%s: a run headed for a miss by a fifth or more is called, on the right side, before four tenths of its turns',
    patience,
    (drill) => {
      const runs = fast.missing(drill, whole ? 500 : 20);
      const called = runs.filter(
        ({ called, off }) => called !== null && called.at < 0.4 && (called.kind === 'too-little') === off < 0,
      );
      const at = mean(runs.map(({ called }) => called?.at ?? 1));
      console.info(
        `${drill}: ${called.length} of ${runs.length} called in time, on average after ${percent(at)} of the turns`,
      );
      expect(called.length / runs.length).toBeGreaterThanOrEqual(0.95);
    },
  );

  it('calls fewer than one in two hundred of the runs that would have passed', patience, () => {
    const passed = fast.near(whole ? 3000 : 60).filter((run) => run.passed);
    const wronged = passed.filter(({ called }) => called !== null).length;
    console.info(`${wronged} of ${passed.length} runs called that would have passed`);
    expect(passed.length).toBeGreaterThan(whole ? 1000 : 15);
    if (whole) expect(wronged / passed.length).toBeLessThan(1 / 200);
    else expect(wronged).toBeLessThanOrEqual(1);
  });
});

describe('the live rate on the imagined drill', () => {
  it.each(['by motor', 'by hand'] as const)(
    '%s: its bias is under two in a thousand after 20, 50 and 98 hundredths of the turns',
    patience,
    (drill) => {
      const runs = fast.liveErrors(drill, whole ? 500 : 30);
      for (const look of [0, 1, 2]) {
        const errors = runs.map((run) => run[look]!);
        const bias = mean(errors);
        const standard = rms(errors.map((error) => error - bias)) / Math.sqrt(errors.length);
        console.info(`${drill}, look ${look}: bias ${percent(bias)} ± ${percent(standard)}`);
        if (whole) expect(standard).toBeLessThan(0.002 / 3);
        expect(Math.abs(bias)).toBeLessThan(0.002 + (whole ? 0 : 3 * standard));
      }
    },
  );
});

describe('the final rate', () => {
  it('errs by less than a third of what a bag on a kitchen scale and counting aloud do', patience, () => {
    const runs = fast.againstHand(whole ? 500 : 30);
    const [ours, hand] = [rms(runs.map((run) => run.ours)), rms(runs.map((run) => run.hand))];
    const [oursLong, handLong] = [
      rms(runs.map((run) => run.oursLongRun)),
      rms(runs.map((run) => run.handLongRun)),
    ];
    console.info(
      `RMS error against what the drill gave in the run: ${percent(ours)}, by hand ${percent(hand)} (${(hand / ours).toFixed(0)} times); ` +
        `against its delivery in the long run, seeds' own chance in it: ${percent(oursLong)}, by hand ${percent(handLong)} (${(handLong / oursLong).toFixed(1)} times)`,
    );
    expect(hand / ours).toBeGreaterThan(3);
    if (whole) expect(handLong / oursLong).toBeGreaterThan(3);
  });
});
