import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Dice } from '../link/dice.ts';
import { needs } from '../needs.ts';
import { temporaryFolders } from '../records/folders.ts';
import { type MadeRun, madeRun } from '../records/made-runs.ts';
import { TestPostgres } from '../records/postgres.ts';
import { shareCampaign } from './records-share.ts';

/** Four stands and a PostgreSQL that is cut off again and again: 50 times with CATCHBENCH_WHOLE set, else a sample. */
const cuts = process.env.CATCHBENCH_WHOLE ? 50 : 6;

const folder = temporaryFolders();

describe.skipIf(!needs('postgres'))('shared records under four stands at work', () => {
  const postgres = new TestPostgres();
  let made: MadeRun;
  beforeAll(async () => {
    await postgres.start();
    made = await madeRun(1, 1);
  });
  afterAll(() => postgres.end());

  it(`are the same on all sides after ${cuts} cuts and stops: nothing missing, nothing twice`, {
    timeout: 600_000,
  }, async () => {
    const dice = new Dice(Date.now());
    const report = await shareCampaign({ postgres, made, folder, cuts, random: () => dice.below(1e6) / 1e6 });
    const { stops, edits, runs, outOfTouch, millisToAgree, wrongs } = report;
    console.info(
      `${cuts} cuts, ${stops} of them stops of the server; ${outOfTouch} times out of touch; ${edits} edits and ${runs} runs, the same on four stands and in the share ${millisToAgree.toFixed(0)} ms after the end`,
    );
    expect(wrongs).toEqual([]);
    expect(outOfTouch).toBeGreaterThan(0);
    expect(runs).toBeGreaterThan(0);
  });
});
