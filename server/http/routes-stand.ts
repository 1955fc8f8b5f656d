import type { FastifyInstance, FastifyReply } from 'fastify';
import { systemClock } from '../clock.ts';
import { grams } from '../domain/units.ts';
import type { SettingKey } from '../link/settings.ts';
import type { Item } from '../records/types.ts';
import type { Outcome, SessionFace } from '../run/session-types.ts';
import type { CheckView, StandDesk } from '../stand/desk.ts';
import { firmwareStanding, shippedFirmware } from '../stand/firmware-version.ts';
import { reportText } from '../stand/report.ts';
import type { CheckAct } from '../stand/types.ts';
import { askSentence, remarkSentence } from '../stand/words.ts';
import { whyNoAnswerNow } from './late.ts';
import { Problem } from './messages.ts';
import { sendNotFound, sendRefusal } from './problems.ts';
import { CheckActBody, type CheckNow, type KeptCheck, StandCheckAnswer } from './stand-messages.ts';

/** An act from what came in; a part that is missing is empty. */
function actOf({ do: name, values = {}, masses = [], on = [] }: CheckActBody): CheckAct {
  switch (name) {
    case 'settings': {
      const pairs = Object.entries(values).map(([key, value]) => [key, String(value)] as const);
      return { do: name, values: Object.fromEntries(pairs) as Partial<Record<SettingKey, string>> };
    }
    case 'masses':
      return {
        do: name,
        masses: masses.map((mass) => ({
          name: mass.name,
          grams: grams(mass.grams),
          standardDoubt: grams(mass.standardDoubt),
        })),
      };
    case 'weigh':
      return { do: name, masses: on };
    default:
      return { do: name };
  }
}

function nowOf(view: CheckView): CheckNow {
  return {
    ...view,
    sentAt: systemClock.now(),
    steps: [...view.steps],
    ask: { ...view.ask, acts: [...view.ask.acts], sentence: askSentence(view.ask) },
    live: [...view.live],
    results: view.results.map(({ step, outcome, figures, remarks }) => ({
      step,
      outcome,
      figures: [...figures],
      remarks: remarks.map((each) => ({
        ...each,
        values: { ...each.values },
        sentence: remarkSentence(each),
      })),
    })),
    masses: [...view.masses],
    weighed: [...view.weighed],
    settings: { ...view.settings },
  };
}

function keptOf({ id, fields }: Item<'stand-check'>): KeptCheck {
  const { at, stand, firmware, by, passed, dueAt } = fields;
  return { id, at, stand, firmware, by, passed, dueAt, due: new Date(dueAt).getTime() <= Date.now() };
}

/** Routes of the check of the stand, new or once a year. */
export function addStandRoutes(
  app: FastifyInstance,
  desk: StandDesk,
  session: Pick<SessionFace, 'view'>,
  find: (id: string) => Promise<Item<'stand-check'> | null>,
): void {
  const response = { 200: StandCheckAnswer, 400: Problem, 409: Problem, 503: Problem };
  const manage = { config: { role: 'manage', wheel: 'hold' } } as const;

  async function answer(): Promise<StandCheckAnswer> {
    const { board } = session.view().link;
    const view = desk.view();
    const newest = board === null ? null : await desk.newest(board.name);
    return {
      check: view === null ? null : nowOf(view),
      newest: newest === null ? null : keptOf(newest),
      firmware:
        board === null
          ? null
          : { board: board.firmware, shipped: shippedFirmware, standing: firmwareStanding(board.firmware) },
    };
  }
  const send = async (reply: FastifyReply, outcome: Outcome<unknown>): Promise<FastifyReply> =>
    outcome.ok ? reply.send(await answer()) : sendRefusal(reply, outcome.problem);

  app.get(
    '/api/stand/check',
    {
      schema: {
        summary: 'The check of the stand: under way, and the newest on record',
        response: { 200: StandCheckAnswer },
      },
    },
    answer,
  );

  app.post(
    '/api/stand/check',
    {
      ...manage,
      schema: { summary: 'Begins a check of the stand; no run can be armed meanwhile', response },
    },
    async (request, reply) => send(reply, await desk.begin(request.person?.name ?? '')),
  );

  app.post<{ Body: CheckActBody }>(
    '/api/stand/check/act',
    {
      ...manage,
      schema: {
        summary: 'Does what the check asks for. With yes in its last step the motor turns.',
        body: CheckActBody,
        response,
      },
    },
    async ({ body }, reply) =>
      send(reply, whyNoAnswerNow(body, systemClock.now()) ?? desk.act(actOf(body), body.question)),
  );

  app.post(
    '/api/stand/check/drop',
    {
      config: { role: 'operate' },
      schema: { summary: 'Gives the check up; what it had set going is stopped', response },
    },
    async (_request, reply) => {
      await desk.drop();
      return reply.send(await answer());
    },
  );

  app.get<{ Params: { id: string } }>(
    '/api/stand/checks/:id/text',
    { schema: { summary: 'A check on record as plain text, to be printed', response: { 404: Problem } } },
    async ({ params }, reply) => {
      const item = await find(params.id);
      if (item === null) return sendNotFound(reply, 'There is no such check of a stand.');
      return reply.type('text/plain; charset=utf-8').serializer(String).send(reportText(item.fields));
    },
  );
}
