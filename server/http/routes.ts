import type { FastifyInstance } from 'fastify';
import type { Access } from '../access/access.ts';
import { keptPlan } from '../first-plan.ts';
import { addMetricsRoute } from '../observe/metrics.ts';
import { logRequests } from '../observe/requests.ts';
import type { Store } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { AppOptions } from './app.ts';
import type { Hub } from './hub.ts';
import { addAccessRoutes } from './routes-access.ts';
import { addBackupRoutes } from './routes-backups.ts';
import { addBeforeRunRoutes } from './routes-before-run.ts';
import { addCalibrationRoutes } from './routes-calibration.ts';
import { addExportRoutes } from './routes-export.ts';
import { addFieldRoutes } from './routes-field.ts';
import { addFindRoutes } from './routes-find.ts';
import { addHealthRoute } from './routes-health.ts';
import { addPaperRoutes } from './routes-paper.ts';
import { addRecordRoutes } from './routes-records.ts';
import { addRunRoutes } from './routes-run.ts';
import { addScaleRoutes } from './routes-scale.ts';
import { addSetupRoutes } from './routes-setup.ts';
import { addStandRoutes } from './routes-stand.ts';
import { addWheelRoutes } from './routes-wheel.ts';

/** Every route under /api and /metrics, as far as there is something behind it. */

export interface RouteSurroundings {
  access: Access;
  hub: Hub;
  /** Whether Catchbench speaks https. */
  secure: boolean;
}

export function addRoutes(app: FastifyInstance, options: AppOptions, around: RouteSurroundings): void {
  addPeopleRoutes(app, options, around);
  addBenchRoutes(app, options);
  if (options.store !== undefined) addStoreRoutes(app, options, options.store, around.hub);
  addWatchRoutes(app, options, around.hub);
}

function isUnderWay(session: SessionFace): boolean {
  const { phase } = session.view().run.figures;
  return phase !== 'idle' && phase !== 'finished';
}

/** Who may come in, and who holds the wheel. */
function addPeopleRoutes(
  app: FastifyInstance,
  { session, standDesk }: AppOptions,
  { access, secure }: RouteSurroundings,
): void {
  addAccessRoutes(app, { access, secure });
  const isRunning = () => isUnderWay(session) || standDesk?.view()?.end === null;
  addWheelRoutes(app, { access, isRunning });
}

/** The run in hand, the calibration it belongs to, and what is checked around it. */
function addBenchRoutes(app: FastifyInstance, options: AppOptions): void {
  const { session, version, records, desk, checks } = options;
  addRunRoutes(app, { session, version, beforeRun: checks?.beforeRun ?? null });
  addRecordRoutes(app, records);
  if (desk !== undefined) {
    addCalibrationRoutes(app, desk, session);
    addSetupRoutes(app, desk);
  }
  if (checks !== undefined) {
    addScaleRoutes(app, checks.scale);
    addBeforeRunRoutes(app, checks.beforeRun);
    addFieldRoutes(app, checks.field, session);
  }
}

/** All that is on record: found, printed, taken out and in, kept safe. */
function addStoreRoutes(app: FastifyInstance, options: AppOptions, store: Store, hub: Hub): void {
  const { session, version, desk, standDesk, unsaved = () => [] } = options;
  const isRunning = () => isUnderWay(session);
  const plan = () => session.view().plan;
  const changed = () => hub.calibrated();
  addFindRoutes(app, store, changed);
  if (desk !== undefined) addPaperRoutes(app, { desk, store, version, demo: session.demo, plan });
  addExportRoutes(app, { store, unsaved, isRunning, imported: changed });
  const restored = async () => {
    await session.keepPlan(await keptPlan(store, plan()));
    hub.restored();
  };
  addBackupRoutes(app, { store, isRunning, restored });
  if (standDesk !== undefined) addStandRoutes(app, standDesk, session, (id) => store.standChecks.find(id));
}

/** Whether all is well, and how much of it. */
function addWatchRoutes(app: FastifyInstance, options: AppOptions, hub: Hub): void {
  const { session, version, records, observe, share = async () => null } = options;
  const viewers = () => hub.viewers;
  const unsaved = () => options.unsaved?.().length ?? 0;
  addHealthRoute(app, { session, version, share, folder: records.folder, viewers, unsaved });
  if (observe === undefined) return;
  logRequests(app, observe.log);
  addMetricsRoute(app, { ...observe, session, version, viewers, unsaved });
}
