import {
  createReadStream,
  createWriteStream,
  existsSync,
  mkdirSync,
  readdirSync,
  rmSync,
  statSync,
} from 'node:fs';
import { rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setTimeout as pause } from 'node:timers/promises';
import type { FastifyInstance } from 'fastify';
import Type, { type Static } from 'typebox';
import { explain, FieldError } from '../records/errors.ts';
import type { Store } from '../records/types.ts';
import { Problem } from './messages.ts';
import { refuseWhileRunning, sendNotFound } from './problems.ts';

/** Backups: made, listed, taken away, brought from elsewhere, put in the place of everything. */

/** Names that backups are given here; nothing else in the folder can be asked for, and nothing outside it. */
const backupName = /^\d{4}-\d{2}-\d{2}T\d{2}-\d{2}-\d{2}-\d{3}Z\.db$/;
const BackupParams = Type.Object({ name: Type.String({ pattern: backupName.source }) });
type BackupParams = Static<typeof BackupParams>;
const Backup = Type.Object({ name: Type.String(), bytes: Type.Integer() });
const BackupsAnswer = Type.Object({ folder: Type.String(), backups: Type.Array(Backup) });
const RestoreAnswer = Type.Object({
  before: Type.String({ description: 'where the records from before are' }),
});
const DoneAnswer = Type.Object({ done: Type.Literal(true) });

/** A store of a hundred thousand long runs; what is larger is carried by hand and restored by command. */
const greatestBackup = 8 * 1024 ** 3;

export interface BackupSurroundings {
  store: Store;
  /** Whether a run is under way: then nothing is restored. */
  isRunning: () => boolean;
  /** Called once everything has been replaced. */
  restored: () => Promise<void>;
}

const newName = (): string => `${new Date().toISOString().replace(/[:.]/g, '-')}.db`;
const missing = 'There is no such backup.';

class BackupFolder {
  readonly path: string;

  constructor({ folder }: Store) {
    this.path = join(folder, 'backups');
  }

  of(name: string): string {
    return join(this.path, name);
  }

  has(name: string): boolean {
    return existsSync(this.of(name));
  }

  entry(name: string): Static<typeof Backup> {
    return { name, bytes: statSync(this.of(name)).size };
  }

  list(): Static<typeof Backup>[] {
    if (!existsSync(this.path)) return [];
    const names = readdirSync(this.path).filter((name) => backupName.test(name));
    return names
      .toSorted()
      .toReversed()
      .map((name) => this.entry(name));
  }
}

const tooLarge = () =>
  new FieldError('', 'This file is too large to be taken in here. Restore it by command.');

/** Lets bytes through until there are too many. */
function bounded(most: number): Transform {
  let bytes = 0;
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length;
      if (bytes <= most) done(null, chunk);
      else done(tooLarge());
    },
  });
}

/** The sender has gone, or was hung up on because nothing came any more. */
const isCutOff = ({ code }: NodeJS.ErrnoException): boolean =>
  code === 'ECONNRESET' || code === 'ERR_STREAM_PREMATURE_CLOSE';
const notWhole = 'The file did not arrive whole, so nothing of it was kept. Send it again.';

/** How often it is looked whether the run is over that a backup waits for. */
const lookMillis = 100;

/** Writes a file to disk as it comes. */
async function receive(body: NodeJS.ReadableStream, path: string): Promise<void> {
  try {
    await pipeline(body, bounded(greatestBackup), createWriteStream(path));
  } catch (error) {
    if (error instanceof FieldError) throw error;
    throw isCutOff(error as Error) ? new FieldError('', notWhole) : explain(error, dirname(path));
  }
}

function addMaking(app: FastifyInstance, store: Store, folder: BackupFolder): void {
  app.get(
    '/api/backups',
    { schema: { summary: 'Backups on this computer, newest first', response: { 200: BackupsAnswer } } },
    async () => ({ folder: folder.path, backups: folder.list() }),
  );
  app.post(
    '/api/backups',
    { schema: { summary: 'Makes a backup of everything while all goes on', response: { 200: Backup } } },
    async () => {
      mkdirSync(folder.path, { recursive: true });
      const name = newName();
      await store.backup(folder.of(name));
      return folder.entry(name);
    },
  );
  app.get<{ Params: BackupParams }>(
    '/api/backups/:name',
    {
      schema: {
        summary: 'One backup, to be kept elsewhere',
        params: BackupParams,
        response: { 404: Problem },
      },
    },
    async ({ params: { name } }, reply) => {
      if (!folder.has(name)) return sendNotFound(reply, missing);
      return reply
        .type('application/vnd.sqlite3')
        .header('content-disposition', `attachment; filename="catchbench-${name}"`)
        .send(createReadStream(folder.of(name)));
    },
  );
  app.post<{ Params: BackupParams }>(
    '/api/backups/:name/remove',
    {
      config: { role: 'manage' },
      schema: {
        summary: 'Throws a backup away, for good',
        params: BackupParams,
        response: { 200: DoneAnswer, 404: Problem },
      },
    },
    async ({ params: { name } }, reply) => {
      if (!folder.has(name)) return sendNotFound(reply, missing);
      rmSync(folder.of(name));
      return { done: true as const };
    },
  );
}

/** A backup that was kept elsewhere comes back on the list, once it has shown to be one. */
function addUpload(
  app: FastifyInstance,
  { store, isRunning }: BackupSurroundings,
  folder: BackupFolder,
): void {
  app.register(async (scope) => {
    // It may be larger than memory: it goes to disk as it comes.
    scope.addContentTypeParser('application/octet-stream', async (_request: unknown, body: unknown) => body);
    scope.post<{ Body: NodeJS.ReadableStream }>(
      '/api/backups/upload',
      {
        bodyLimit: greatestBackup,
        config: { role: 'manage' },
        schema: {
          summary: 'Puts a backup that was kept elsewhere on the list (application/octet-stream)',
          response: { 200: Backup, 400: Problem },
        },
      },
      async ({ body, headers, raw }) => {
        // A length that is told need not be waited for; one that is not told is counted.
        if (Number(headers['content-length'] ?? 0) > greatestBackup) throw tooLarge();
        if (typeof body?.pipe !== 'function') throw new FieldError('', 'Send the file itself.');
        mkdirSync(folder.path, { recursive: true });
        const name = newName();
        const part = `${folder.of(name)}.part`;
        try {
          await receive(body, part);
          // Looking through a large file holds everything else up, and with it what keeps a motor turning.
          while (isRunning() && !raw.socket.destroyed) await pause(lookMillis);
          if (raw.socket.destroyed) throw new FieldError('', notWhole);
          await store.examine(part);
          await rename(part, folder.of(name));
        } finally {
          rmSync(part, { force: true });
        }
        return folder.entry(name);
      },
    );
  });
}

function addRestore(
  app: FastifyInstance,
  { store, isRunning, restored }: BackupSurroundings,
  folder: BackupFolder,
): void {
  app.post<{ Params: BackupParams }>(
    '/api/backups/:name/restore',
    {
      config: { role: 'manage' },
      schema: {
        summary: 'Puts a backup in the place of everything; what was there is kept beside it',
        params: BackupParams,
        response: { 200: RestoreAnswer, 404: Problem, 409: Problem },
      },
    },
    async ({ params: { name } }, reply) => {
      if (!folder.has(name)) return sendNotFound(reply, missing);
      if (isRunning()) return refuseWhileRunning(reply, 'restore');
      const before = await store.restore(folder.of(name));
      await restored();
      return { before };
    },
  );
}

export function addBackupRoutes(app: FastifyInstance, surroundings: BackupSurroundings): void {
  const { store } = surroundings;
  const folder = new BackupFolder(store);
  addMaking(app, store, folder);
  addUpload(app, surroundings, folder);
  addRestore(app, surroundings, folder);
}
