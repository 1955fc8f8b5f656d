import type { FastifyInstance } from 'fastify';
import Type, { type Static } from 'typebox';
import type { Records, RunRecord } from '../records/types.ts';
import { Problem, ReadingsAnswer, RunDetail, type RunSummary, RunsAnswer } from './messages.ts';
import { sendNotFound } from './problems.ts';

/** A whole number as it stands in an address. */
const Digits = Type.String({ pattern: '^[0-9]{1,9}$' });

const PageQuery = Type.Object(
  { limit: Type.Optional(Digits), before: Type.Optional(Type.String({ maxLength: 64 })) },
  { additionalProperties: false },
);
const JournalQuery = Type.Object(
  { limit: Type.Optional(Digits), from: Type.Optional(Digits) },
  { additionalProperties: false },
);
const RunParams = Type.Object({ id: Type.String({ maxLength: 64 }) });

const runsAtOnce = { usual: 50, most: 200 };
const entriesAtOnce = { usual: 1000, most: 10_000 };

const atMost = (text: string | undefined, { usual, most }: typeof runsAtOnce): number =>
  text === undefined ? usual : Math.min(most, Math.max(1, Number(text)));

const summaryOf = ({ id, startedAt, endedAt, demo, plan, figures }: RunRecord): RunSummary => ({
  id,
  startedAt,
  endedAt,
  demo,
  plan,
  figures,
});

const noSuchRun = 'There is no run with this number on record.';

/** Routes of the runs on record. */
export function addRecordRoutes(app: FastifyInstance, records: Records): void {
  app.get<{ Querystring: Static<typeof PageQuery> }>(
    '/api/runs',
    {
      schema: {
        summary: 'Runs on record, newest first',
        querystring: PageQuery,
        response: { 200: RunsAnswer },
      },
    },
    async ({ query }) => {
      const page = await records.page(atMost(query.limit, runsAtOnce), query.before ?? null);
      return { runs: page.runs.map(summaryOf), next: page.next } satisfies RunsAnswer;
    },
  );

  app.get<{ Params: Static<typeof RunParams> }>(
    '/api/runs/:id',
    {
      schema: {
        summary: 'One run, with its chart',
        params: RunParams,
        response: { 200: RunDetail, 404: Problem },
      },
    },
    async ({ params }, reply) => {
      const run = await records.find(params.id);
      if (run === null) return sendNotFound(reply, noSuchRun);
      const { stand, formulaVersion, trace } = run;
      return { ...summaryOf(run), stand, formulaVersion, trace: trace ?? [] } satisfies RunDetail;
    },
  );

  app.get<{ Params: Static<typeof RunParams>; Querystring: Static<typeof JournalQuery> }>(
    '/api/runs/:id/readings',
    {
      schema: {
        summary: 'What a run was computed from, as it came',
        params: RunParams,
        querystring: JournalQuery,
        response: { 200: ReadingsAnswer, 404: Problem },
      },
    },
    async ({ params, query }, reply) => {
      if ((await records.find(params.id)) === null) return sendNotFound(reply, noSuchRun);
      const limit = atMost(query.limit, entriesAtOnce);
      const entries = await records.journal(params.id, Number(query.from ?? 0), limit);
      const next = entries.length === limit ? entries.at(-1)!.position + 1 : null;
      return { entries, next } satisfies ReadingsAnswer;
    },
  );
}
