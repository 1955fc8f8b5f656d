import cookie from '@fastify/cookie';
import swagger from '@fastify/swagger';
import Fastify, { type FastifyInstance } from 'fastify';
import { Access } from '../access/access.ts';
import type { Desk } from '../calibration/desk.ts';
import type { Checks } from '../checks.ts';
import { systemClock } from '../clock.ts';
import { keptPlan } from '../first-plan.ts';
import type { Log } from '../observe/log.ts';
import type { MetricSources } from '../observe/metrics.ts';
import { addMetricsRoute } from '../observe/metrics.ts';
import { logRequests } from '../observe/requests.ts';
import type { Records, Store, UnsavedRun } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { StandDesk } from '../stand/desk.ts';
import { addAccess, recogniser } from './access-hook.ts';
import { type Reach, thisComputerAlone, whyTurnedAway } from './guard.ts';
import { addHeaders } from './headers.ts';
import { Hub } from './hub.ts';
import { addRateLimit, limitConnections, type Patience, usualPatience } from './limits.ts';
import type { ShareHealth } from './messages.ts';
import { addPage } from './page.ts';
import { errorHandler, sendNotFound } from './problems.ts';
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
import { addSocket } from './socket.ts';

export interface AppOptions {
  session: SessionFace;
  records: Records;
  /** The calibrations; without it their routes are not there. */
  desk?: Desk;
  /** All that is on record, for finding, export and backup; without it those routes are not there. */
  store?: Store;
  /** Scale, list before a run, field; without them those routes are not there. */
  checks?: Checks;
  /** The check of the stand; without it its routes are not there. */
  standDesk?: StandDesk;
  /** Runs that are in memory alone. */
  unsaved?: () => UnsavedRun[];
  /** Condition of what is shared with other stands; null where nothing is. */
  share?: () => Promise<ShareHealth | null>;
  /** Folder of the built page. */
  pageFolder: string;
  /** Version of Catchbench. */
  version: string;
  /** The log, and what the metrics read; without it there are neither. */
  observe?: { log: Log } & Pick<MetricSources, 'seen' | 'linkFigures'>;
  /** Gets faults of our own, for the log. */
  report: (error: Error) => void;
  /** Who may come in; this computer alone where it is left out. */
  access?: Access;
  /** Names of this computer on the shop network. */
  names?: readonly string[];
  /** Certificate and key, as text; plain http where they are left out. */
  tls?: { cert: string; key: string };
  /** How long a request may take to arrive. */
  patience?: Patience;
}

/** The greatest request that any route has a use for is a plan, well under 2 kB. */
const greatestBody = 16 * 1024;

/**
 * The service: routes, page and socket, not yet listening. Closing it takes leave of every page. What comes in is checked as it came: text is
 * never turned into a number, and a field too many is an error, not dropped in silence.
 */
export async function createApp(options: AppOptions): Promise<FastifyInstance> {
  const { session, records, version, tls, access = Access.alone() } = options;
  const reach = {
    ...thisComputerAlone,
    shared: access.shared,
    secure: tls !== undefined,
    names: options.names ?? [],
  };
  const app = bareApp(options);
  limitConnections(app.server);
  app.removeContentTypeParser('text/plain');
  // Figures leave as they are: the schemas of answers describe and are tested, they do not rewrite.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  app.setErrorHandler(errorHandler(options.report));
  app.setNotFoundHandler((request, reply) =>
    sendNotFound(reply, `There is nothing at ${request.url.slice(0, 80)}.`),
  );
  await app.register(cookie);
  await addHeaders(app);
  addGuard(app, reach);
  await addRateLimit(app);
  const recognise = recogniser(app, access, reach.secure);
  addAccess(app, access, recognise);
  await app.register(swagger, {
    openapi: {
      info: { title: 'Catchbench', description: 'The calibration of a seed drill on its stand.', version },
    },
  });

  const hub = new Hub(session, systemClock, version);
  const unlisten = options.desk?.listen(() => hub.calibrated());
  const closeSockets = addSocket(app.server, { hub, access, recognise, reach });
  const unlistenPeople = access.listen({ changed: () => hub.peopleChanged() });
  app.addHook('preClose', async () => {
    unlisten?.();
    unlistenPeople();
    hub.stop();
    closeSockets();
  });
  addAccessRoutes(app, { access, secure: reach.secure });
  const isChecked = () => options.standDesk?.view()?.end === null;
  addWheelRoutes(app, { access, isRunning: () => isUnderWay(session) || isChecked() });
  addRunRoutes(app, session, version);
  addRecordRoutes(app, records);
  if (options.desk !== undefined) {
    addCalibrationRoutes(app, options.desk, session);
    addSetupRoutes(app, options.desk);
  }
  if (options.checks !== undefined) {
    const { scale, beforeRun, field } = options.checks;
    addScaleRoutes(app, scale);
    addBeforeRunRoutes(app, beforeRun);
    addFieldRoutes(app, field, session);
  }
  if (options.store !== undefined) {
    const { store, unsaved = () => [] } = options;
    addFindRoutes(app, store);
    addPapers(app, options, store);
    const isRunning = () => isUnderWay(session);
    addExportRoutes(app, { store, unsaved, isRunning });
    const restored = async () => {
      await session.keepPlan(await keptPlan(store, session.view().plan));
      hub.restored();
    };
    addBackupRoutes(app, { store, isRunning, restored });
  }
  if (options.standDesk !== undefined && options.store !== undefined) {
    const { standChecks } = options.store;
    addStandRoutes(app, options.standDesk, session, (id) => standChecks.find(id));
  }
  const { unsaved: unsavedRuns = () => [], share = async () => null } = options;
  addHealthRoute(app, {
    ...{ session, version, share, folder: records.folder },
    viewers: () => hub.viewers,
    unsaved: () => unsavedRuns().length,
  });
  if (options.observe !== undefined) {
    const { unsaved = () => [] } = options;
    logRequests(app, options.observe.log);
    addMetricsRoute(app, {
      ...options.observe,
      session,
      version,
      viewers: () => hub.viewers,
      unsaved: () => unsaved().length,
    });
  }
  app.get('/api/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  await addPage(app, options.pageFolder);
  return app;
}

function bareApp({ tls, patience = usualPatience }: AppOptions): FastifyInstance {
  const { headersMillis, requestMillis, lookEveryMillis } = patience;
  const waits = { headersTimeout: headersMillis, connectionsCheckingInterval: lookEveryMillis };
  const options = {
    bodyLimit: greatestBody,
    forceCloseConnections: true,
    requestTimeout: requestMillis,
    ajv: {
      customOptions: { coerceTypes: false, removeAdditional: false, useDefaults: false, verbose: true },
    },
  } as const;
  if (tls === undefined) return Fastify({ ...options, http: waits });
  // A server with https is of another type, though everything here treats both alike.
  return Fastify({
    ...options,
    https: { ...tls, ...waits, minVersion: 'TLSv1.2' },
  }) as unknown as FastifyInstance;
}

function addGuard(app: FastifyInstance, reach: Reach): void {
  app.addHook('onRequest', async (request, reply) => {
    const message = whyTurnedAway(request.raw, reach);
    if (message !== null) return reply.code(403).send({ code: 'turned-away', message });
  });
}

function addPapers(app: FastifyInstance, { desk, session, version }: AppOptions, store: Store): void {
  const plan = () => session.view().plan;
  if (desk !== undefined) addPaperRoutes(app, { desk, store, version, demo: session.demo, plan });
}

function isUnderWay(session: SessionFace): boolean {
  const { phase } = session.view().run.figures;
  return phase !== 'idle' && phase !== 'finished';
}
