import { BeforeRunDesk } from './before-run/desk.ts';
import { FieldDesk } from './field/desk.ts';
import type { Store } from './records/types.ts';
import type { RunDesk } from './run/session.ts';
import { ScaleDesk, type ScaleSurroundings } from './scale/desk.ts';
import { newestChecks, slopeDoubtBy } from './scale/kept.ts';

/** What is checked around the runs: the scale, the list before a run, the field. */
export interface Checks {
  scale: ScaleDesk;
  beforeRun: BeforeRunDesk;
  field: FieldDesk;
  /** Lets go of the session. */
  close(): void;
}

/** Sets the checks up over a session, with what an earlier service left of them. */
export async function openChecks(around: ScaleSurroundings): Promise<Checks> {
  const { session, store, clock } = around;
  const scale = new ScaleDesk(around);
  const beforeRun = new BeforeRunDesk({ session, store, clock, watch: scale.watch });
  await scale.open();
  await beforeRun.open();
  return {
    scale,
    beforeRun,
    field: new FieldDesk(store),
    close() {
      beforeRun.close();
      scale.close();
    },
  };
}

/** The desk of the calibrations for a session that reckons with the stand's own scale checks. */
export function withScaleChecks(desk: RunDesk, store: Store): RunDesk {
  return {
    forRun: (plan) => desk.forRun(plan),
    runClosed: (runId) => desk.runClosed(runId),
    scaleSlopeDoubt: async (stand) => slopeDoubtBy(await newestChecks(store, stand.name), stand, Date.now()),
  };
}
