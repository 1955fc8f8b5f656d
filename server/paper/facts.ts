import type { Desk } from '../calibration/desk.ts';
import type { Plan } from '../http/messages.ts';
import type { Store } from '../records/types.ts';
import type { PaperFacts } from './compose/types.ts';

export interface PaperSources {
  desk: Desk;
  store: Store;
  version: string;
  /** Whether this is the demo. */
  demo: boolean;
  /** The plan in hand. */
  plan: () => Plan;
}

/** Runs of one calibration that are looked through for demo data. */
const most = 200;

/**
 * What a paper about this calibration is made from; null: about the one in hand. One of the records is told with the plan of its newest run.
 * @throws DeskError `unknown-calibration`.
 */
export async function paperFacts(sources: PaperSources, calibrationId: string | null): Promise<PaperFacts> {
  const { desk, store, version, demo } = sources;
  const view = calibrationId === null ? await desk.view(sources.plan()) : await desk.look(calibrationId);
  const { items } =
    view.id === null ? { items: [] } : await store.runs.list({ calibrationId: view.id, limit: most });
  const newest = items[0]?.plan as Plan | undefined;
  return {
    view,
    plan: calibrationId === null ? sources.plan() : (newest ?? sources.plan()),
    demo: demo || items.some((run) => run.demo),
    version,
    madeAt: new Date().toISOString(),
  };
}
