/** Stop while the stand is held for its check: said to be done only once the board has said so. */
import { describe, expect, it } from 'vitest';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { Session } from '../../server/run/session.ts';
import { PaperBench } from '../link/bench.ts';
import { planFor } from '../run/imagined.ts';
import { MemoryRecords } from './memory-records.ts';

async function heldSession() {
  const bench = new PaperBench();
  const { clock, createPort } = bench;
  const link = { createPort, listPorts: async () => [], path: '/dev/ttyA' };
  const records = new MemoryRecords();
  const session = new Session({ clock, link, records, demo: false, plan: planFor(oneRow) });
  session.open();
  await bench.until(() => session.standFacts() !== null);
  const hold = session.holdStand();
  if (!hold.ok) throw new Error(hold.problem.message);
  const { word } = (await bothPass(
    bench,
    hold.value.send({ command: 'arm', mode: 'motor', pulses: 48 }),
  )) as {
    word: string;
  };
  await bothPass(bench, hold.value.send({ command: 'go', key: word }));
  return { bench, session };
}

/** Lets the time pass until it is settled. */
async function bothPass<T>(bench: PaperBench, asked: Promise<T>): Promise<T> {
  let settled = false;
  const end = () => {
    settled = true;
  };
  asked.then(end, end);
  await bench.until(() => settled, 8000);
  return asked;
}

describe('the port of a stand that is being checked', () => {
  it('is not exchanged for another', async () => {
    const { session } = await heldSession();
    expect(await session.choosePort('/dev/ttyB')).toMatchObject({ problem: { code: 'run-under-way' } });
    expect(session.view().link).toMatchObject({ condition: 'connected', path: '/dev/ttyA' });
  });
});

describe('Stop during the check of the stand', () => {
  it('is confirmed by the board', async () => {
    const { bench, session } = await heldSession();
    expect(bench.board.state).toBe('turning');
    expect((await bothPass(bench, session.stop())).ok).toBe(true);
    expect(bench.board.state).toBe('halted');
  });

  it('that the board does not confirm sends to the red button', async () => {
    const { bench, session } = await heldSession();
    bench.board.deafTo.add('stop');
    const stopped = await bothPass(bench, session.stop());
    expect(stopped).toMatchObject({ problem: { code: 'not-confirmed' } });
    expect(!stopped.ok && stopped.problem.message).toContain('red button');
  });

  it('says so where the stand is away', async () => {
    const { bench, session } = await heldSession();
    bench.cable.unplug();
    expect(await bothPass(bench, session.stop())).toMatchObject({ problem: { code: 'disconnected' } });
  });
});
