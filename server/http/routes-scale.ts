import type { FastifyInstance, FastifyReply } from 'fastify';
import { type ScaleDesk, ScaleError } from '../scale/desk.ts';
import { Problem } from './messages.ts';
import { BeginCheckBody, KeepCheckBody, ScaleView, WeighBody, ZeroBody } from './scale-messages.ts';

const response = { 200: ScaleView, 400: Problem, 409: Problem, 503: Problem };

/** Routes of the scale. Each answers with the scale as it is then, or says why not. */
export function addScaleRoutes(app: FastifyInstance, desk: ScaleDesk): void {
  const answer = async (reply: FastifyReply, act: () => Promise<void> | void): Promise<FastifyReply> => {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ScaleError)) throw error;
      const { code, message, field } = error;
      const problem: Problem = { code, message, ...(field === undefined ? {} : { field }) };
      return reply.code(code === 'cannot-use' ? 400 : 409).send(problem);
    }
    return reply.send(await desk.view());
  };
  const schema = (summary: string) => ({ summary, response });

  app.get('/api/scale', { schema: schema('The cells as they are, and the check under way') }, async () =>
    desk.view(),
  );

  app.post<{ Body: ZeroBody }>(
    '/api/scale/zero',
    { schema: { ...schema('Shows the present load as zero'), body: ZeroBody } },
    async ({ body }, reply) => answer(reply, () => desk.zero(body.cell)),
  );

  app.post<{ Body: BeginCheckBody }>(
    '/api/scale/check',
    { schema: { ...schema('Begins a check of a cell with known masses'), body: BeginCheckBody } },
    async ({ body }, reply) => answer(reply, () => desk.begin(body)),
  );

  app.post<{ Body: WeighBody }>(
    '/api/scale/check/weigh',
    { schema: { ...schema('Weighs what lies on the cell now, once it is still'), body: WeighBody } },
    async ({ body }, reply) => answer(reply, () => desk.weigh(body)),
  );

  app.post('/api/scale/check/undo', { schema: schema('Takes back the last weighing') }, async (_, reply) =>
    answer(reply, () => desk.undo()),
  );

  app.post('/api/scale/check/drop', { schema: schema('Gives the check up') }, async (_, reply) =>
    answer(reply, () => desk.drop()),
  );

  app.post<{ Body: KeepCheckBody }>(
    '/api/scale/check/keep',
    { schema: { ...schema('Keeps the check; the line in force stays as it is'), body: KeepCheckBody } },
    async ({ body }, reply) => answer(reply, () => desk.keep(body)),
  );

  app.post<{ Body: KeepCheckBody }>(
    '/api/scale/check/write',
    {
      config: { role: 'manage' },
      schema: { ...schema('Writes the line found into the board and keeps the check'), body: KeepCheckBody },
    },
    async ({ body }, reply) => answer(reply, () => desk.keep(body, true)),
  );
}
