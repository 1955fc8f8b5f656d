import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { Access } from './access/access.ts';
import { type Certificate, readCertificate } from './access/certificate.ts';
import { accessFile } from './access/file.ts';
import { everyAddress, inUrl, machineNames, shopAddresses } from './access/network.ts';
import type { Role } from './access/roles.ts';
import { Desk } from './calibration/desk.ts';
import { openChecks, withScaleChecks } from './checks.ts';
import type { Clock } from './clock.ts';
import { keptPlan } from './first-plan.ts';
import { createApp } from './http/app.ts';
import type { Plan } from './http/messages.ts';
import { openLog } from './observe/log.ts';
import { Watch } from './observe/watch.ts';
import { findProject } from './project.ts';
import { openRecords } from './records/open.ts';
import { shareRecords } from './records/share/connect.ts';
import type { Sharing } from './records/share/sharing.ts';
import type { Store } from './records/types.ts';
import { Session, type SessionOptions } from './run/session.ts';
import { findUnended, recoverRuns } from './run/session-recover.ts';
import { type Hands, StandDesk } from './stand/desk.ts';
import { writeScaleLine } from './stand/write-settings.ts';

/** How the service is to be reached. */
export interface Reaching {
  /** Whether it listens on the shop network, with pairing. */
  lan: boolean;
  /** What the pairing code of the terminal lets people do. */
  pairAs: Role;
  /** Further names of this computer on the shop network. */
  names: readonly string[];
  /** Paths of certificate and key, for https; null for plain http. */
  tls: { cert: string; key: string } | null;
}

export const thisComputerOnly: Reaching = { lan: false, pairAs: 'operate', names: [], tls: null };

export interface ServiceOptions {
  clock: Clock;
  link: SessionOptions['link'];
  /** Folder of the records. */
  folder: string;
  demo: boolean;
  /** The plan to begin with where none was kept. */
  plan: Plan;
  /** Port to listen on; 0 takes a free one. */
  port: number;
  /** This computer alone where it is left out. */
  reaching?: Reaching;
  /** Address of the records shared with other stands, as CATCHBENCH_SHARE gives it; null where there are none. */
  share?: string | null;
  /** Told which load a scale check is about to weigh on which cell: an imagined stand has it put on. */
  putOn?: (cell: number, grams: number) => void;
  /** Does by hand what the check of the stand asks for, where the stand is imagined. */
  hands?: Hands;
  /** Told the records once the page can be opened. */
  opened?: (records: Store) => void;
  /** Gets what people at the terminal should know. */
  say: (sentence: string) => void;
}

export interface Service {
  /** Where the page is. */
  address: string;
  session: Session;
  /** Stops the wheel, takes leave of the pages, closes port and records. */
  close(): Promise<void>;
}

/** The service cannot start; the message says why and what to do. */
export class StartError extends Error {
  override name = 'StartError';
}

interface Entrance {
  access: Access;
  tls: Certificate | undefined;
}

/** Reads certificate and paired devices. Codes go to the terminal alone, never into the log. */
async function openEntrance(
  folder: string,
  reaching: Reaching,
  say: (words: string) => void,
): Promise<Entrance> {
  const { lan, pairAs, tls } = reaching;
  const certificate = tls === null ? undefined : readCertificate(tls.cert, tls.key);
  const file = accessFile(join(folder, 'access'));
  return { access: await Access.open({ shared: lan, pairAs, file, say }), tls: certificate };
}

/** What those in the shop have to open, and the first code. */
async function greetShop(
  { access, tls }: Entrance,
  port: number,
  say: (words: string) => void,
): Promise<void> {
  if (!access.shared) return;
  const scheme = tls === undefined ? 'http' : 'https';
  const addresses = shopAddresses().map((address) => `${scheme}://${inUrl(address)}:${port}`);
  say(
    addresses.length === 0
      ? 'This computer is on no shop network now; others can come in once it is.'
      : `Others on the shop network open ${addresses.join(' or ')}.`,
  );
  if (tls === undefined) {
    say(
      'Without --cert and --key, whoever listens in on the network can read what they send, and come in as they.',
    );
  }
  await access.greet();
}

function listenSentence(error: NodeJS.ErrnoException, port: number): string {
  if (error.code === 'EADDRINUSE') {
    return `Port ${port} is in use, perhaps by another Catchbench. Stop that one, or choose another port: PORT=${port + 1} npm start`;
  }
  if (error.code === 'EACCES') {
    return `This user may not listen on port ${port}. Choose one above 1023, as in PORT=8321 npm start`;
  }
  return `Port ${port} could not be opened: ${error.message}.`;
}

/**
 * Starts everything: records, recovery of runs that were cut off, routes, page, and then the link to the stand.
 * @throws RecordsError or StartError with a sentence for the terminal.
 */
export async function startService(options: ServiceOptions): Promise<Service> {
  const { clock, link, demo, port, share = null } = options;
  const { folder: root, version } = findProject();
  const { log, close: closeLog } = await openLog(options.folder, process.env.CATCHBENCH_LOG, options.say);
  const say = (sentence: string): void => {
    log.warn(sentence);
    options.say(sentence);
  };
  log.info({ version, node: process.version, platform: process.platform, demo }, 'Catchbench starts.');
  const { reaching = thisComputerOnly } = options;
  const entrance = await openEntrance(options.folder, reaching, options.say);
  const { access, tls } = entrance;
  const records = await openRecords(options.folder);
  // The stand of a demo ends with the program: nothing can go on there.
  const { sentences, unended } = demo
    ? { sentences: await recoverRuns(records), unended: null }
    : await findUnended(records);
  for (const sentence of [...records.notices, ...sentences]) say(sentence);
  const plan = await keptPlan(records, options.plan);
  const desk = new Desk(records, demo);
  const session = new Session({
    clock,
    link,
    records,
    demo,
    plan,
    desk: withScaleChecks(desk, records),
    unended,
  });
  const { putOn } = options;
  const checks = await openChecks({
    session,
    store: records,
    clock,
    writeLine: (cell, gramsPerCount, zeroCount) => writeScaleLine(session, cell, gramsPerCount, zeroCount),
    ...(putOn === undefined ? {} : { putOn }),
  });
  const { hands } = options;
  const standDesk = new StandDesk({
    session,
    store: records,
    clock,
    ...(hands === undefined ? {} : { hands }),
  });
  const watch = new Watch(session, log);
  const report = (error: Error) => say(`A fault inside Catchbench: ${error.stack ?? error.message}`);
  let sharing: Sharing | null = null;
  const app = await createApp({
    session,
    records,
    desk,
    store: records,
    checks,
    standDesk,
    unsaved: () => session.unsaved(),
    share: async () => sharing?.report() ?? null,
    pageFolder: join(root, 'web', 'dist'),
    version,
    report,
    access,
    ...(tls === undefined ? {} : { tls }),
    ...(access.shared ? { names: machineNames(reaching.names) } : {}),
    observe: { log, seen: watch, linkFigures: () => session.linkFigures() },
  });
  try {
    await app.listen({ port, host: access.shared ? await everyAddress() : '127.0.0.1' });
  } catch (error) {
    await app.close();
    await records.shut();
    await closeLog();
    throw new StartError(listenSentence(error as NodeJS.ErrnoException, port));
  }
  session.open();
  options.opened?.(records);
  const { port: opened } = app.server.address() as AddressInfo;
  await greetShop(entrance, opened, options.say);
  sharing = share === null ? null : shareRecords(records, share, say);
  return {
    address: `${tls === undefined ? 'http' : 'https'}://localhost:${opened}`,
    session,
    async close() {
      await standDesk.drop();
      await session.shut();
      await app.close();
      checks.close();
      await sharing?.stop();
      await access.close();
      await records.shut();
      watch.stop();
      log.info('Catchbench has ended in order.');
      await closeLog();
    },
  };
}
