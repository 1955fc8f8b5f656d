import type { FastifyInstance, FastifyReply } from 'fastify';
import Type, { type Static } from 'typebox';
import { type Desk, DeskError } from '../calibration/desk.ts';
import type { SessionFace } from '../run/session-types.ts';
import {
  CalibrationView,
  HandRunBody,
  PrintedChartBody,
  RowsBody,
  SetAsideBody,
} from './calibration-messages.ts';
import { Problem } from './messages.ts';

const Params = Type.Object({ id: Type.String({ maxLength: 64 }) });
type Params = Static<typeof Params>;

const statusOf: Record<DeskError['code'], number> = {
  'unknown-run': 404,
  'unknown-calibration': 404,
  'no-scale': 409,
  'cannot-use': 400,
};

/** Answers with what was asked, or with why not. Faults of ours go on to the error handler. */
async function answer(reply: FastifyReply, ask: () => Promise<CalibrationView>): Promise<FastifyReply> {
  try {
    return await reply.send(await ask());
  } catch (error) {
    if (!(error instanceof DeskError)) throw error;
    const { code, message } = error;
    return reply.code(statusOf[code]).send({ code, message } satisfies Problem);
  }
}

/** Routes of the calibration in hand: the one that the plan belongs to. */
export function addCalibrationRoutes(app: FastifyInstance, desk: Desk, session: SessionFace): void {
  const plan = () => session.view().plan;
  const response = { 200: CalibrationView, 400: Problem, 404: Problem, 409: Problem, 503: Problem };
  const schema = (summary: string) => ({ summary, response });

  app.get(
    '/api/calibration',
    { schema: schema('The calibration of the plan, with the next setting') },
    async (_, reply) => answer(reply, () => desk.view(plan())),
  );

  app.get(
    '/api/calibration/early',
    { schema: schema('The same, as if the run in hand ended now with the rate it has') },
    async (_, reply) =>
      answer(reply, async () => {
        const { id, figures } = session.view().run;
        return id === null ? desk.view(plan()) : desk.early(plan(), { id, figures });
      }),
  );

  app.get<{ Params: Params }>(
    '/api/calibrations/:id',
    { schema: { ...schema('A calibration of the records'), params: Params } },
    async ({ params }, reply) => answer(reply, () => desk.look(params.id)),
  );

  app.post(
    '/api/calibration/anew',
    { schema: schema('Ends the calibration: the next run begins another') },
    async (_, reply) => answer(reply, () => desk.startAnew(plan())),
  );

  app.post<{ Body: HandRunBody }>(
    '/api/calibration/hand-runs',
    { schema: { ...schema('Adds a catch weighed by hand'), body: HandRunBody } },
    async ({ body }, reply) => answer(reply, () => desk.addHandRun(plan(), body)),
  );

  app.post<{ Body: RowsBody }>(
    '/api/calibration/rows',
    { schema: { ...schema('Compares the catches of several rows'), body: RowsBody } },
    async ({ body }, reply) => answer(reply, () => desk.compareRows(plan(), body)),
  );

  app.put<{ Body: PrintedChartBody }>(
    '/api/calibration/printed-chart',
    { schema: { ...schema('Keeps rows of the chart on the drill’s lid'), body: PrintedChartBody } },
    async ({ body }, reply) => answer(reply, () => desk.keepPrintedChart(plan(), body)),
  );

  app.post<{ Params: Params; Body: SetAsideBody }>(
    '/api/runs/:id/set-aside',
    { schema: { ...schema('Takes a run out of the computation'), params: Params, body: SetAsideBody } },
    async ({ params, body }, reply) =>
      answer(reply, async () => {
        await desk.setAside(params.id, body.why);
        return desk.view(plan());
      }),
  );

  app.post<{ Params: Params }>(
    '/api/runs/:id/bring-back',
    { schema: { ...schema('Lets a run count again'), params: Params } },
    async ({ params }, reply) =>
      answer(reply, async () => {
        await desk.bringBack(params.id);
        return desk.view(plan());
      }),
  );
}
