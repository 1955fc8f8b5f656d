import swagger from '@fastify/swagger';
import Fastify, { type FastifyInstance } from 'fastify';
import { Access } from '../access/access.ts';
import type { Desk } from '../calibration/desk.ts';
import type { Checks } from '../checks.ts';
import { systemClock } from '../clock.ts';
import type { Log } from '../observe/log.ts';
import type { MetricSources } from '../observe/metrics.ts';
import type { Records, Store, UnsavedRun } from '../records/types.ts';
import type { SessionFace } from '../run/session-types.ts';
import type { StandDesk } from '../stand/desk.ts';
import { addDoor } from './door.ts';
import { type Reach, thisComputerAlone } from './guard.ts';
import { Hub } from './hub.ts';
import type { ShareHealth } from './messages.ts';
import { addPage } from './page.ts';
import { type Patience, unheard, usualPatience } from './patience.ts';
import { errorHandler, sendNotFound } from './problems.ts';
import { addRoutes } from './routes.ts';
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
  /** How slowly a request may arrive. */
  patience?: Patience;
}

/** The greatest request that most routes have a use for is a plan, well under 2 kB; those that take files say so themselves. */
const greatestBody = 16 * 1024;

/**
 * The service: routes, page and socket, not yet listening. Closing it takes leave of every page. What comes in is checked as it came: text is
 * never turned into a number, and a field too many is an error, not dropped in silence.
 */
export async function createApp(options: AppOptions): Promise<FastifyInstance> {
  const { version, access = Access.alone(), patience = usualPatience } = options;
  const reach = reachOf(options, access);
  const app = bareApp(options, patience);
  const { recognise, isTooMany } = await addDoor(app, { access, reach, patience });
  const info = { title: 'Catchbench', description: 'The calibration of a seed drill on its stand.', version };
  await app.register(swagger, { openapi: { info } });
  const hub = new Hub(options.session, systemClock, version);
  const closeSockets = addSocket(app.server, { hub, access, recognise, reach, isTooMany });
  tellHub(app, { hub, access, desk: options.desk, closeSockets });
  addRoutes(app, options, { access, hub, secure: reach.secure });
  app.get('/api/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  await addPage(app, options.pageFolder);
  return app;
}

const reachOf = ({ tls, names = [] }: AppOptions, { shared }: Access): Reach => ({
  ...thisComputerAlone,
  shared,
  secure: tls !== undefined,
  names,
});

/** A server that checks what comes in and answers in sentences, with nothing on it yet. */
function bareApp({ tls, report }: AppOptions, patience: Patience): FastifyInstance {
  const waits = {
    headersTimeout: patience.headersMillis,
    connectionsCheckingInterval: patience.lookEveryMillis,
  };
  const options = {
    bodyLimit: greatestBody,
    forceCloseConnections: true,
    // How long a body may take depends on whether it comes on.
    requestTimeout: 0,
    clientErrorHandler: unheard,
    ajv: {
      customOptions: { coerceTypes: false, removeAdditional: false, useDefaults: false, verbose: true },
    },
  } as const;
  // A server with https is of another type, though everything here treats both alike.
  const app =
    tls === undefined
      ? Fastify({ ...options, http: waits })
      : (Fastify({
          ...options,
          https: { ...tls, ...waits, minVersion: 'TLSv1.2' },
        }) as unknown as FastifyInstance);
  // Figures leave as they are: the schemas of answers describe and are tested, they do not rewrite.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  app.setErrorHandler(errorHandler(report));
  app.setNotFoundHandler((request, reply) =>
    sendNotFound(reply, `There is nothing at ${request.url.slice(0, 80)}.`),
  );
  return app;
}

interface HubNews {
  hub: Hub;
  access: Access;
  desk: Desk | undefined;
  closeSockets: () => void;
}

/** Tells the pages of calibrations and people, until the service closes. */
function tellHub(app: FastifyInstance, { hub, access, desk, closeSockets }: HubNews): void {
  const unlisten = desk?.listen(() => hub.calibrated());
  const unlistenPeople = access.listen({ changed: () => hub.peopleChanged() });
  app.addHook('preClose', async () => {
    unlisten?.();
    unlistenPeople();
    hub.stop();
    closeSockets();
  });
}
