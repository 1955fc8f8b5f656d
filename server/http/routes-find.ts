import type { FastifyInstance } from 'fastify';
import Type, { type Static } from 'typebox';
import { isKind, type Kind, kinds } from '../records/model.ts';
import type { FindQuery, Page, Store, StoredRun } from '../records/types.ts';
import { Problem } from './messages.ts';
import { sendNotFound } from './problems.ts';

/** Finding what is on record by drill, mix, date and words; its history; deleting and bringing back. */

const IdText = Type.String({ pattern: '^[0-9a-f-]{36}$' });
const Day = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}(T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,3})?Z)?$' });

const FindParams = Type.Object({ kind: Type.Enum([...kinds]) });
const ItemParams = Type.Object({ kind: Type.Enum([...kinds]), id: IdText });
const FindQueryText = Type.Object(
  {
    limit: Type.Optional(Type.String({ pattern: '^[0-9]{1,4}$' })),
    after: Type.Optional(Type.String({ maxLength: 100 })),
    text: Type.Optional(Type.String({ maxLength: 200, description: 'words that must all be in it' })),
    from: Type.Optional(Day),
    before: Type.Optional(Day),
    drill: Type.Optional(IdText),
    mix: Type.Optional(IdText),
    calibration: Type.Optional(IdText),
    stand: Type.Optional(IdText),
    about: Type.Optional(IdText),
    deleted: Type.Optional(Type.Enum(['yes'])),
  },
  { additionalProperties: false },
);
type FindQueryText = Static<typeof FindQueryText>;

/** Whatever is on record of one kind: see the schema of the export for its fields. */
const FoundAnswer = Type.Object({
  items: Type.Array(Type.Object({ id: Type.String() })),
  next: Type.Union([Type.String(), Type.Null()], { description: 'give it as `after` for the next page' }),
});
const HistoryAnswer = Type.Object({
  changes: Type.Array(
    Type.Object({
      field: Type.String(),
      before: Type.Unknown(),
      after: Type.Unknown(),
      counts: Type.Boolean({ description: 'false where a later change overruled it' }),
      by: Type.String(),
      place: Type.String(),
      at: Type.String(),
    }),
  ),
});
const DoneAnswer = Type.Object({ done: Type.Literal(true) });

function queryOf(text: FindQueryText): FindQuery {
  const { limit, after, from, before, drill, mix, calibration, stand, about, deleted } = text;
  return {
    ...(limit === undefined ? {} : { limit: Number(limit) }),
    ...(after === undefined ? {} : { after }),
    ...(text.text === undefined ? {} : { text: text.text }),
    ...(from === undefined ? {} : { from }),
    ...(before === undefined ? {} : { before }),
    ...(drill === undefined ? {} : { drillId: drill }),
    ...(mix === undefined ? {} : { mixId: mix }),
    ...(calibration === undefined ? {} : { calibrationId: calibration }),
    ...(stand === undefined ? {} : { standId: stand }),
    ...(about === undefined ? {} : { aboutId: about }),
    deleted: deleted === 'yes',
  };
}

interface AnyShelf {
  list(query: FindQuery): Promise<Page<{ id: string } | StoredRun>>;
  find(id: string): Promise<{ id: string } | null>;
  remove(id: string): Promise<void>;
  bringBack(id: string): Promise<void>;
  history(id: string): Promise<unknown[]>;
}

const shelvesOf = (store: Store): Record<Kind, AnyShelf> => ({
  drill: store.drills,
  configuration: store.configurations,
  lot: store.lots,
  mix: store.mixes,
  calibration: store.calibrations,
  run: store.runs,
  stand: store.stands,
  'stand-check': store.standChecks,
  'scale-check': store.scaleChecks,
  'field-check': store.fieldChecks,
  note: store.notes,
});

const nothing = 'There is nothing with this number on record.';

/** `changed` is called when something was deleted or brought back: what is computed from the records may be another now. */
export function addFindRoutes(app: FastifyInstance, store: Store, changed: () => void): void {
  const shelves = shelvesOf(store);
  const shelf = (kind: string): AnyShelf => shelves[isKind(kind) ? kind : 'note'];

  app.get<{ Params: Static<typeof FindParams>; Querystring: FindQueryText }>(
    '/api/records/:kind',
    {
      schema: {
        summary: 'What is on record of one kind, newest first',
        params: FindParams,
        querystring: FindQueryText,
        response: { 200: FoundAnswer, 400: Problem },
      },
    },
    async ({ params, query }) => shelf(params.kind).list(queryOf(query)),
  );

  app.get<{ Params: Static<typeof ItemParams> }>(
    '/api/records/:kind/:id',
    {
      schema: {
        summary: 'One thing on record, or deleted and not gone yet',
        params: ItemParams,
        response: { 404: Problem },
      },
    },
    async ({ params }, reply) => (await shelf(params.kind).find(params.id)) ?? sendNotFound(reply, nothing),
  );

  app.get<{ Params: Static<typeof ItemParams> }>(
    '/api/records/:kind/:id/history',
    {
      schema: {
        summary: 'Each change of each field since it was made, oldest first',
        params: ItemParams,
        response: { 200: HistoryAnswer, 404: Problem },
      },
    },
    async ({ params }, reply) => {
      const found = await shelf(params.kind).find(params.id);
      if (found === null) return sendNotFound(reply, nothing);
      return { changes: await shelf(params.kind).history(params.id) };
    },
  );

  for (const [act, summary] of [
    ['remove', 'Deletes it; undoable for 30 days'],
    ['bring-back', 'Undoes the deleting'],
  ] as const) {
    app.post<{ Params: Static<typeof ItemParams> }>(
      `/api/records/:kind/:id/${act}`,
      { schema: { summary, params: ItemParams, response: { 200: DoneAnswer, 404: Problem } } },
      async ({ params }) => {
        const { kind, id } = params;
        await (act === 'remove' ? shelf(kind).remove(id) : shelf(kind).bringBack(id));
        changed();
        return { done: true as const };
      },
    );
  }
}
