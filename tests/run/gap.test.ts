import { beforeAll, describe, expect, it } from 'vitest';
import { bundled } from '../bundled.ts';
import type { GapRun, gapCampaign as runCampaign } from './gap-campaign.ts';
import { ScriptedRun } from './script.ts';

/** What a time without readings costs: detail and no total, doubt and no finding. */

/** Runs by motor and by hand: 500 each with CATCHBENCH_WHOLE set, else a sample. */
const whole = Boolean(process.env.CATCHBENCH_WHOLE);
const runsEach = whole ? 500 : 20;

let gapCampaign: typeof runCampaign;
beforeAll(async () => {
  ({ gapCampaign } = await bundled<typeof import('./gap-campaign.ts')>(
    new URL('gap-campaign.ts', import.meta.url),
  ));
});

/** The swelling of the meter's own flutes is really there, and is seen when there are turns enough to see it. */
const raisedByGap = ({ whole, gapped }: GapRun) =>
  gapped.findings
    .map(({ kind }) => kind)
    .filter((kind) => kind !== 'pulse-per-flute' && !whole.findings.some((each) => each.kind === kind));

describe('runs with a time without readings', () => {
  it.each(['by motor', 'by hand'] as const)(
    '%s: whole totals, an honest interval, no finding out of the gap',
    {
      timeout: 900_000,
    },
    (name) => {
      const runs = gapCampaign(name, runsEach, true);
      for (const { gapped, whole, seconds } of runs) {
        expect(gapped.outcome).toBe('complete');
        expect(gapped.gaps).toEqual([expect.objectContaining({ cause: 'cable' })]);
        const [gap] = gapped.gaps;
        expect(Math.abs(gap!.toSeconds! - gap!.fromSeconds - seconds)).toBeLessThan(0.05);
        expect(gapped.turnsDone).toBe(whole.turnsDone);
        expect(Math.abs(gapped.grams! - whole.grams!)).toBeLessThan(0.05);
      }
      expect(runs.flatMap(raisedByGap)).toEqual([]);
      const held = runs.filter(({ gapped: { rate }, truth }) => rate!.low <= truth && truth <= rate!.high);
      const doubts = runs.map(({ whole, gapped }) => gapped.rate!.standardDoubt / whole.rate!.standardDoubt);
      const mean = doubts.reduce((sum, ratio) => sum + ratio, 0) / runs.length;
      console.info(
        `${name}: interval holds the truth in ${held.length} of ${runs.length}; doubt ${mean.toFixed(3)} times that with all readings (${Math.min(...doubts).toFixed(2)} to ${Math.max(...doubts).toFixed(2)})`,
      );
      expect(held.length / runs.length).toBeGreaterThan(whole ? 0.935 : 0.79);
      // Which noise is learnt from fewer readings differs a little either way; on the whole nothing is gained by reading less.
      expect(mean).toBeGreaterThan(0.98);
      expect(Math.min(...doubts)).toBeGreaterThan(0.85);
    },
  );
});

/** Turning by hand for three turns, then cut off and taken up again. */
function cutOff(armings: number | undefined): ScriptedRun {
  const run = new ScriptedRun({ mode: 'hand' }).started();
  run.read(6, 3);
  run.give({ type: 'resumed', awaySeconds: 4, clockSeconds: 50 });
  run.give({ type: 'link-back', ...(armings === undefined ? {} : { armings }) });
  return run;
}

describe('a run taken up again', () => {
  it('goes on where the board says that this arming is its newest', () => {
    const run = cutOff(77);
    expect(run.shown).toMatchObject({ phase: 'turning', outcome: null });
  });

  it.each([20, 40, 58])('goes on after %i minutes: the board counts that far', (minutes) => {
    const run = new ScriptedRun({ mode: 'hand' }).started();
    run.read(6, 3);
    run.give({ type: 'resumed', awaySeconds: 60 * minutes, clockSeconds: 9000 });
    run.give({ type: 'link-back', armings: 77 });
    run.pass(60 * minutes, 2);
    run.read(1, 0.5);
    expect(run.shown).toMatchObject({ phase: 'turning', gaps: [{ cause: 'service' }] });
    expect(run.shown.turnsDone).toBeCloseTo(5.5, 1);
  });

  it('does not where another arming is, or the board cannot tell', () => {
    expect(cutOff(78).shown).toMatchObject({
      outcome: 'interrupted',
      sentence: expect.stringMatching(/made ready for something else/),
    });
    expect(cutOff(undefined).shown).toMatchObject({
      outcome: 'interrupted',
      sentence: expect.stringMatching(/cannot tell whether it has done something else/),
    });
    expect(cutOff(0).shown).toMatchObject({ outcome: 'board-reset' });
  });

  it('is interrupted where the counts have leapt further than a wheel can turn', () => {
    const run = new ScriptedRun({ mode: 'hand' }).started();
    run.read(6, 3);
    run.give({ type: 'link-lost' }, { type: 'link-back', armings: 77 });
    run.read(0.0125, 2);
    expect(run.shown.sentence).toMatch(/had leapt further than a wheel can turn/);
  });

  it('waits two minutes for the stand, and no longer', () => {
    const run = new ScriptedRun({ mode: 'hand' }).started();
    run.read(6, 3);
    run.give({ type: 'resumed', awaySeconds: 4, clockSeconds: 50 });
    for (let second = 51; second <= 170; second++) run.give({ type: 'clock', seconds: second });
    expect(run.shown.phase).toBe('turning');
    run.give({ type: 'clock', seconds: 171 });
    expect(run.shown.outcome).toBe('link-lost');
    expect(run.shown.gaps).toEqual([expect.objectContaining({ cause: 'service', toSeconds: null })]);
  });
});

describe('a computer that stands still', () => {
  it('for minutes is not taken for a silent stand: the run goes on by what comes afterwards', () => {
    const run = new ScriptedRun({ mode: 'hand' }).started();
    run.give({ type: 'clock', seconds: 10 });
    run.read(6, 3);
    run.give({ type: 'clock', seconds: 400 });
    expect(run.shown.phase).toBe('turning');
    // What the system had buffered, then nothing, then what comes now.
    run.read(0.25, 0.1);
    run.give({ type: 'gap', lines: 160 });
    run.pass(2, 1);
    run.read(0.5, 0.25);
    expect(run.shown.gaps).toEqual([expect.objectContaining({ cause: 'computer' })]);
    expect(run.shown.gaps[0]!.toSeconds! - run.shown.gaps[0]!.fromSeconds).toBeCloseTo(2, 1);
    expect(run.shown.turnsDone).toBeCloseTo(4.35, 1);
  });

  it('may wake with its clock behind: that ends nothing', () => {
    const run = new ScriptedRun({ mode: 'hand' }).started();
    for (const seconds of [100, 101, 40, 41, 42]) {
      run.give({ type: 'clock', seconds });
      run.read(0.5, 0.1);
    }
    expect(run.shown).toMatchObject({ phase: 'turning', gaps: [] });
  });
});
