import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import Type, { type Static } from 'typebox';
import { importTable } from '../calibration/import-table.ts';
import { type ExportScope, exportJson } from '../records/export.ts';
import { readingsCsv, runsCsv, type Units } from '../records/export-csv.ts';
import { ExportFile } from '../records/export-schema.ts';
import { importJson } from '../records/import.ts';
import type { Store, UnsavedRun } from '../records/types.ts';
import { exportUnsaved } from '../records/unsaved.ts';
import { Problem } from './messages.ts';
import { refuseWhileRunning, sendNotFound } from './problems.ts';

/** The records out and in: as JSON and as tables. */

const IdText = Type.String({ pattern: '^[0-9a-f-]{36}$' });
const ExportQuery = Type.Object(
  {
    form: Type.Optional(Type.Enum(['json', 'csv'])),
    run: Type.Optional(IdText),
    calibration: Type.Optional(IdText),
    units: Type.Optional(Type.Enum(['metric', 'us'])),
  },
  { additionalProperties: false },
);
type ExportQuery = Static<typeof ExportQuery>;

const ImportAnswer = Type.Object({
  items: Type.Integer(),
  runs: Type.Integer(),
  edits: Type.Integer(),
  known: Type.Integer(),
  conflicts: Type.Array(Type.String()),
  skipped: Type.Array(Type.String({ description: 'what a table could not bring' })),
});

/** An export of many long runs; the rest of a request is far smaller. */
const greatestUpload = 64 * 1024 * 1024;

export interface ExportSurroundings {
  store: Store;
  /** Runs that are over and in memory alone. */
  unsaved: () => UnsavedRun[];
  /** Whether a run is under way: then nothing is imported. */
  isRunning: () => boolean;
  /** Called when something was taken in: what is computed from the records may be another now. */
  imported: () => void;
}

const scopeOf = ({ run, calibration }: ExportQuery): ExportScope =>
  run !== undefined ? { run } : calibration !== undefined ? { calibration } : 'everything';

/** What is to be sent, or null where what is asked for is not on record. */
async function piecesFor(store: Store, query: ExportQuery): Promise<AsyncGenerator<string> | null> {
  const scope = scopeOf(query);
  const units: Units = query.units === 'us' ? 'us' : 'metric';
  if (typeof scope === 'object') {
    if ('run' in scope) {
      const run = await store.runs.find(scope.run);
      if (run === null) return null;
      return query.form === 'csv' ? readingsCsv(store, run, units) : exportJson(store, scope);
    }
    if ((await store.calibrations.find(scope.calibration)) === null) return null;
  }
  return query.form === 'csv' ? runsCsv(store, scope, units) : exportJson(store, scope);
}

function addExport(app: FastifyInstance, store: Store): void {
  app.get<{ Querystring: ExportQuery }>(
    '/api/export',
    {
      schema: {
        summary: 'A run, a calibration or everything, as JSON or as a table (a run as a table: its readings)',
        querystring: ExportQuery,
        response: { 404: Problem },
      },
    },
    async ({ query }, reply) => {
      const pieces = await piecesFor(store, query);
      if (pieces === null) return sendNotFound(reply, 'There is nothing with this number on record.');
      const form = query.form ?? 'json';
      const type = form === 'csv' ? 'text/csv; charset=utf-8' : 'application/json; charset=utf-8';
      return reply
        .type(type)
        .header('content-disposition', `attachment; filename="catchbench.${form}"`)
        .send(Readable.from(pieces));
    },
  );
  app.get(
    '/api/export/schema',
    { schema: { summary: 'The form of the export, as JSON Schema' } },
    async () => ExportFile,
  );
}

function addUnsaved(app: FastifyInstance, { store, unsaved }: ExportSurroundings): void {
  app.get(
    '/api/export/unsaved',
    {
      schema: {
        summary: 'Runs that could not be put on disk, to be kept elsewhere and imported once there is room',
        response: { 404: Problem },
      },
    },
    async (_request, reply) => {
      const runs = unsaved();
      if (runs.length === 0) return sendNotFound(reply, 'Every run that is over is on record.');
      return reply
        .type('application/json; charset=utf-8')
        .header('content-disposition', 'attachment; filename="catchbench-unsaved.json"')
        .send(await exportUnsaved(store, runs));
    },
  );
}

function addImport(app: FastifyInstance, { store, isRunning, imported }: ExportSurroundings): void {
  // The text is looked through by the import itself, which says what is wrong in words; so it is not parsed on the way.
  app.register(async (scope) => {
    scope.removeContentTypeParser('application/json');
    scope.addContentTypeParser(
      'application/json',
      { parseAs: 'string' },
      async (_request: unknown, body: string) => body,
    );
    scope.addContentTypeParser(
      'text/csv',
      { parseAs: 'string' },
      async (_request: unknown, body: string) => body,
    );
    scope.post<{ Body: string }>(
      '/api/import',
      {
        bodyLimit: greatestUpload,
        config: { role: 'manage' },
        schema: {
          summary:
            'Takes in an export, as JSON or as a table of runs: what is new is added, what is there stays',
          response: { 200: ImportAnswer, 400: Problem, 409: Problem },
        },
      },
      async ({ body, headers }, reply) => {
        // Every run in the file is computed again: a wheel that turns must not wait for that.
        if (isRunning()) return refuseWhileRunning(reply, 'import');
        const text = typeof body === 'string' ? body : '';
        const isTable = headers['content-type']?.startsWith('text/csv') === true;
        const report = isTable
          ? await importTable(store, text)
          : { ...(await importJson(store, text)), skipped: [] };
        imported();
        return report;
      },
    );
  });
}

export function addExportRoutes(app: FastifyInstance, surroundings: ExportSurroundings): void {
  addExport(app, surroundings.store);
  addImport(app, surroundings);
  addUnsaved(app, surroundings);
}
