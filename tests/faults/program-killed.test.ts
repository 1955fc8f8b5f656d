import { afterEach, describe, expect, it } from 'vitest';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { openPseudoTerminal } from '../../firmware-sim/pty.ts';
import { pace } from '../../firmware-sim/stand.ts';
import type { RunDetail, StateAnswer } from '../../server/http/messages.ts';
import { openRecords } from '../../server/records/open.ts';
import { verifyAll } from '../../server/records/verify.ts';
import { getReady, type Program, startProgram } from '../http/program.ts';
import { pause } from '../http/server.ts';
import { needs } from '../needs.ts';
import { temporaryFolders } from '../records/folders.ts';
import { planFor } from '../run/imagined.ts';

/** The real program on real files and the real serial driver, killed while somebody turns the wheel by hand. */

const folder = temporaryFolders();
const closing: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close();
});

async function start(path: string, data: string): Promise<Program> {
  const program = await startProgram(['start', '--port', path], {
    CATCHBENCH_DATA: data,
    CATCHBENCH_NO_OPEN: '1',
  });
  closing.push(async () => {
    program.child.kill('SIGKILL');
    await program.ended;
  });
  return program;
}

const state = async ({ address }: Program): Promise<StateAnswer> =>
  (await fetch(`${address}/api/state`)).json();

const post = async ({ address }: Program, act: string): Promise<boolean> =>
  (await fetch(`${address}/api/run/${act}`, { method: 'POST' })).ok;

describe.runIf(needs('socat'))('the program, killed in mid-run', () => {
  it('is started again and ends the run with the totals of the stand', { timeout: 180_000 }, async () => {
    const { stand, drill } = createEmulatedStand(drawScenario(byHand, 3), 3);
    const terminal = await openPseudoTerminal(stand);
    const pacing = pace(stand);
    closing.push(
      () => terminal.close(),
      () => pacing.stop(),
    );
    const data = folder();
    const first = await start(terminal.path, data);
    const headers = { 'content-type': 'application/json' };
    const plan = JSON.stringify({ ...planFor(byHand), turns: 6 });
    expect((await fetch(`${first.address}/api/plan`, { method: 'PUT', headers, body: plan })).status).toBe(
      200,
    );
    while (!(await getReady(first.address))) await pause(50);
    while ((await state(first)).run.figures.phase !== 'ready') await pause(50);
    expect(await post(first, 'start')).toBe(true);
    drill.turnByHand();
    while ((await state(first)).run.figures.turnsDone < 1) await pause(50);
    const { id } = (await state(first)).run;
    first.child.kill('SIGKILL');
    await first.ended;

    const second = await start(terminal.path, data);
    expect(second.said()).toMatch(/goes on if the stand still answers in it/);
    let now = await state(second);
    expect(now.run.id).toBe(id);
    for (; now.run.figures.phase !== 'finished'; now = await state(second)) await pause(50);
    const { outcome, turnsDone, grams, gramsDoubt, gaps } = now.run.figures;
    expect(outcome).toBe('complete');
    expect(gaps).toEqual([expect.objectContaining({ cause: 'service', toSeconds: expect.any(Number) })]);
    expect(turnsDone).toBeCloseTo(drill.truth.turns(), 0);
    expect(Math.abs(grams! - drill.truth.gramsCaught())).toBeLessThan(4 * gramsDoubt! + 0.1);
    const kept: RunDetail = await (await fetch(`${second.address}/api/runs/${id}`)).json();
    expect(kept.figures).toEqual(now.run.figures);
    second.child.kill('SIGTERM');
    await second.ended;

    const records = await openRecords(data);
    const verdicts: string[] = [];
    for await (const { verdict } of verifyAll(records)) verdicts.push(verdict);
    expect(verdicts).toEqual(['same']);
    await records.shut();
  });
});
