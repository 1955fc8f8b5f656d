import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { createEmulatedStand } from '../../firmware-sim/emulated.ts';
import { openPseudoTerminal, type PseudoTerminal } from '../../firmware-sim/pty.ts';
import { type Pace, pace } from '../../firmware-sim/stand.ts';
import { systemClock } from '../../server/clock.ts';
import { driverPort } from '../../server/link/port-factory.ts';
import { Session } from '../../server/run/session.ts';
import { replay } from '../../server/run/session-replay.ts';
import { needs } from '../needs.ts';
import { planFor } from '../run/imagined.ts';
import { MemoryRecords } from './memory-records.ts';

const until = async (done: () => boolean): Promise<void> => {
  while (!done()) await new Promise((resolve) => setTimeout(resolve, 20));
};

describe.runIf(needs('socat'))('a whole run through the real serial driver', () => {
  const { stand, drill } = createEmulatedStand(drawScenario(oneRow, 4), 4);
  const records = new MemoryRecords();
  let terminal: PseudoTerminal;
  let pacing: Pace;
  let session: Session;

  beforeAll(async () => {
    terminal = await openPseudoTerminal(stand);
    pacing = pace(stand, 1);
    session = new Session({
      clock: systemClock,
      link: { createPort: driverPort, listPorts: async () => [], path: terminal.path },
      records,
      demo: true,
      plan: planFor(oneRow),
    });
    session.open();
  });
  afterAll(async () => {
    await session.shut();
    await pacing.stop();
    await terminal.close();
  });

  it('on a pseudo-terminal ends complete, with the true rate inside the interval, and replays alike', async () => {
    await until(() => session.view().link.condition === 'connected');
    expect(await session.arm()).toMatchObject({ ok: true });
    await until(() => session.view().run.figures.phase === 'ready');
    expect(await session.start()).toMatchObject({ ok: true });
    await until(() => session.view().run.figures.phase === 'finished');
    const { id, figures } = session.view().run;
    expect(figures.outcome).toBe('complete');
    const truth = drill.truth.rateGramsPerSquareMetre;
    expect(figures.rate!.low).toBeLessThan(truth);
    expect(figures.rate!.high).toBeGreaterThan(truth);
    expect(replay(await records.journal(id!, 0, 100_000)).figures).toEqual(figures);
  }, 120_000);
});
