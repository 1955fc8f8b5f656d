import type { FastifyInstance, FastifyReply } from 'fastify';
import Type, { type Static } from 'typebox';
import { type FieldDesk, FieldDeskError } from '../field/desk.ts';
import type { SessionFace } from '../run/session-types.ts';
import { FieldCheckBody, type FieldLine, FieldView } from './field-messages.ts';
import { Problem } from './messages.ts';

const Id = Type.String({ pattern: '^[0-9a-f-]{36}$' });
/** Which calibration; that of the plan in hand where it is left out. */
const Which = Type.Object({ calibration: Type.Optional(Id) }, { additionalProperties: false });
type Which = Static<typeof Which>;
const Params = Type.Object({ id: Id });

const statusOf: Record<FieldDeskError['code'], number> = {
  'unknown-calibration': 404,
  'no-runs': 409,
  'cannot-use': 400,
};

const refusals = { 400: Problem, 404: Problem, 409: Problem, 503: Problem };

/** Routes of the field checks of a calibration. */
export function addFieldRoutes(app: FastifyInstance, desk: FieldDesk, session: SessionFace): void {
  const plan = () => session.view().plan;
  const answer = async (reply: FastifyReply, ask: () => Promise<FieldView | FieldLine>) => {
    try {
      return await reply.send(await ask());
    } catch (error) {
      if (!(error instanceof FieldDeskError)) throw error;
      const { code, message, field } = error;
      const problem: Problem = { code, message, ...(field === undefined ? {} : { field }) };
      return reply.code(statusOf[code]).send(problem);
    }
  };
  const schema = (summary: string) => ({
    summary,
    querystring: Which,
    response: { 200: FieldView, ...refusals },
  });

  app.get<{ Querystring: Which }>(
    '/api/field',
    { schema: schema('Fields sown with a calibration, against what the stand said') },
    async ({ query }, reply) => answer(reply, () => desk.view(plan(), query.calibration ?? null)),
  );

  app.post<{ Querystring: Which; Body: FieldCheckBody }>(
    '/api/field/look',
    {
      schema: {
        summary: 'What a field check would say; nothing is kept',
        querystring: Which,
        body: FieldCheckBody,
        response: refusals,
      },
    },
    async ({ query, body }, reply) => answer(reply, () => desk.look(plan(), query.calibration ?? null, body)),
  );

  app.post<{ Querystring: Which; Body: FieldCheckBody }>(
    '/api/field/checks',
    { schema: { ...schema('Keeps a field check with its calibration'), body: FieldCheckBody } },
    async ({ query, body }, reply) => answer(reply, () => desk.keep(plan(), query.calibration ?? null, body)),
  );

  app.post<{ Querystring: Which; Params: Static<typeof Params> }>(
    '/api/field/checks/:id/remove',
    { schema: { ...schema('Deletes a field check; undoable for 30 days'), params: Params } },
    async ({ query, params }, reply) =>
      answer(reply, () => desk.remove(plan(), query.calibration ?? null, params.id)),
  );
}
