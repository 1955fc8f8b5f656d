import swagger from '@fastify/swagger';
import Fastify, { type FastifyInstance } from 'fastify';
import type { Desk } from '../calibration/desk.ts';
import { systemClock } from '../clock.ts';
import type { Log } from '../observe/log.ts';
import type { MetricSources } from '../observe/metrics.ts';
import { addMetricsRoute } from '../observe/metrics.ts';
import { logRequests } from '../observe/requests.ts';
import type { Records, Store, UnsavedRun } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import { whyTurnedAway } from './guard.ts';
import { Hub } from './hub.ts';
import { addPage } from './page.ts';
import { errorHandler, sendNotFound } from './problems.ts';
import { addCalibrationRoutes } from './routes-calibration.ts';
import { addExportRoutes } from './routes-export.ts';
import { addFindRoutes } from './routes-find.ts';
import { addHealthRoute } from './routes-health.ts';
import { addRecordRoutes } from './routes-records.ts';
import { addRunRoutes } from './routes-run.ts';
import { addSetupRoutes } from './routes-setup.ts';
import { addSocket } from './socket.ts';

export interface AppOptions {
  session: SessionFace;
  records: Records;
  /** The calibrations; without it their routes are not there. */
  desk?: Desk;
  /** All that is on record, for finding, export and backup; without it those routes are not there. */
  store?: Store;
  /** Runs that are in memory alone. */
  unsaved?: () => UnsavedRun[];
  /** Folder of the built page. */
  pageFolder: string;
  /** Version of Catchbench. */
  version: string;
  /** The log, and what the metrics read; without it there are neither. */
  observe?: { log: Log } & Pick<MetricSources, 'seen' | 'linkFigures'>;
  /** Gets faults of our own, for the log. */
  report: (error: Error) => void;
}

/** The greatest request that any route has a use for is a plan, well under 2 kB. */
const greatestBody = 16 * 1024;

/**
 * The service: routes, page and socket, not yet listening. Closing it takes leave of every page. What comes in is checked as it came: text is
 * never turned into a number, and a field too many is an error, not dropped in silence.
 */
export async function createApp(options: AppOptions): Promise<FastifyInstance> {
  const { session, records, version } = options;
  const app: FastifyInstance = Fastify({
    bodyLimit: greatestBody,
    forceCloseConnections: true,
    requestTimeout: 15_000,
    ajv: {
      customOptions: { coerceTypes: false, removeAdditional: false, useDefaults: false, verbose: true },
    },
  });
  app.removeContentTypeParser('text/plain');
  // Figures leave as they are: the schemas of answers describe and are tested, they do not rewrite.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  app.setErrorHandler(errorHandler(options.report));
  app.setNotFoundHandler((request, reply) =>
    sendNotFound(reply, `There is nothing at ${request.url.slice(0, 80)}.`),
  );
  addGuard(app);
  await app.register(swagger, {
    openapi: {
      info: { title: 'Catchbench', description: 'The calibration of a seed drill on its stand.', version },
    },
  });

  const hub = new Hub(session, systemClock, version);
  const unlisten = options.desk?.listen(() => hub.calibrated());
  const closeSockets = addSocket(app.server, hub);
  app.addHook('preClose', async () => {
    unlisten?.();
    hub.stop();
    closeSockets();
  });
  addRunRoutes(app, session, version);
  addRecordRoutes(app, records);
  if (options.desk !== undefined) {
    addCalibrationRoutes(app, options.desk, session);
    addSetupRoutes(app, options.desk);
  }
  if (options.store !== undefined) {
    const { store, unsaved = () => [] } = options;
    addFindRoutes(app, store);
    addExportRoutes(app, { store, unsaved, isRunning: () => isUnderWay(session) });
  }
  addHealthRoute(app, { session, version, viewers: () => hub.viewers });
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

function addGuard(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    const message = whyTurnedAway(request.headers);
    if (message !== null) return reply.code(403).send({ code: 'turned-away', message });
  });
}

function isUnderWay(session: SessionFace): boolean {
  const { phase } = session.view().run.figures;
  return phase !== 'idle' && phase !== 'finished';
}
