/** The service runs against the shipped .hex in simavr, through the real serial driver on a pseudo-terminal. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { eepromForScenario } from '../../firmware-sim/emulated.ts';
import { systemClock } from '../../server/clock.ts';
import { driverPort } from '../../server/link/port-factory.ts';
import { Session } from '../../server/run/session.ts';
import { replay } from '../../server/run/session-replay.ts';
import { needs } from '../needs.ts';
import { planFor } from '../run/imagined.ts';
import { MemoryRecords } from '../session/memory-records.ts';
import { DrillOnSimavr } from './drill-on-simavr.ts';
import { type LiveSimavr, Simavr } from './simavr.ts';

const turns = 4;

const until = async (done: () => boolean): Promise<void> => {
  while (!done()) await new Promise((resolve) => setTimeout(resolve, 20));
};

describe.skipIf(!needs('make') || !needs('gcc') || !needs('simavr'))('a calibration run on simavr', () => {
  const scenario = drawScenario(oneRow, 4);
  const records = new MemoryRecords();
  let simavr: Simavr;
  let chip: LiveSimavr;
  let drill: Drill;
  let joined: DrillOnSimavr;
  let session: Session;

  beforeAll(async () => {
    simavr = new Simavr();
    chip = await simavr.live(eepromForScenario(scenario));
    drill = createDrill(scenario, 4);
    joined = new DrillOnSimavr(drill, chip);
    joined.start();
    session = new Session({
      clock: systemClock,
      link: { createPort: driverPort, listPorts: async () => [], path: chip.path },
      records,
      demo: false,
      plan: { ...planFor(scenario), turns },
    });
    session.open();
  });
  afterAll(async () => {
    await session.shut();
    await joined.stop();
    await chip.end();
    simavr.dispose();
  });

  it('arms, turns, stops at the count, states the true rate within its interval, and replays alike', async () => {
    await until(() => session.view().link.condition === 'connected');
    expect(await session.arm()).toMatchObject({ ok: true });
    await until(() => session.view().run.figures.phase === 'ready');
    expect(await session.start()).toMatchObject({ ok: true });
    await until(() => session.view().run.figures.phase === 'finished');
    const { id, figures } = session.view().run;
    expect(figures.outcome).toBe('complete');
    expect(figures.turnsDone).toBeGreaterThanOrEqual(turns);
    expect(Math.abs(drill.truth.turns() - figures.turnsDone)).toBeLessThan(
      1.5 / scenario.stated.pulsesPerTurn,
    );
    const truth = drill.truth.rateGramsPerSquareMetre;
    console.info(
      `simavr: ${figures.turnsDone} turns, ${figures.grams} g; rate ${figures.rate!.low} to ${figures.rate!.high}, true ${truth}`,
    );
    expect(figures.rate!.low).toBeLessThan(truth);
    expect(figures.rate!.high).toBeGreaterThan(truth);
    expect(replay(await records.journal(id!, 0, 100_000)).figures).toEqual(figures);
  }, 120_000);
});
