import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Access } from '../access/access.ts';
import { host, type Refusal, type Result, refusals, refuse } from '../access/person.ts';
import { mayDo } from '../access/roles.ts';
import { GiveBody } from './access-messages.ts';
import { Problem } from './messages.ts';
import { answer, DoneAnswer } from './routes-access.ts';

/** The wheel from hand to hand, where several may operate. It changes hands between runs only: whoever armed a run is the one who starts it. */

const underWay: Refusal = {
  status: 409,
  code: 'run-under-way',
  message:
    'A run or a check of the stand is under way. Press Stop or let it end; then the wheel can change hands.',
};
const notOperator: Refusal = {
  status: 409,
  code: 'not-operator',
  message: 'That device was paired to look on only; it cannot hold the wheel.',
};

const acts = {
  ask: 'Asks the one who holds the wheel for it; takes hold of it where nobody does',
  take: 'Takes the wheel from one who has gone or does not answer',
  keep: 'Answers those who ask with no',
  leave: 'Lets go of the wheel, or asks for it no longer',
} as const;

export interface WheelSurroundings {
  access: Access;
  /** Whether a run or a check of the stand is under way. */
  isRunning: () => boolean;
}

export function addWheelRoutes(app: FastifyInstance, { access, isRunning }: WheelSurroundings): void {
  const response = { 200: DoneAnswer, 400: Problem, 404: Problem, 409: Problem };
  const { wheel } = access;
  const idOf = ({ person }: FastifyRequest): string => (person ?? host).id;
  /** Whether the wheel would change hands by this act now. */
  const moves = (act: keyof typeof acts, id: string): boolean =>
    act === 'take' || (act === 'leave' && wheel.view(id).holder === id);

  for (const [act, summary] of Object.entries(acts) as [keyof typeof acts, string][]) {
    app.post(`/api/wheel/${act}`, { schema: { summary, response } }, async (request, reply) => {
      const id = idOf(request);
      if (!access.shared) return answer(reply, refuse(refusals.notShared));
      if (isRunning() && moves(act, id)) return answer(reply, refuse(underWay));
      return answer(reply, wheel[act](id));
    });
  }

  const give = (from: string, to: string): Result<null> => {
    if (!access.shared) return refuse(refusals.notShared);
    if (isRunning()) return refuse(underWay);
    const taker = access.people().find(({ id }) => id === to);
    if (taker === undefined) return refuse(refusals.unknownSession);
    return mayDo(taker.role, 'operate') ? wheel.give(from, to) : refuse(notOperator);
  };
  app.post<{ Body: GiveBody }>(
    '/api/wheel/give',
    { schema: { summary: 'Gives the wheel to another', body: GiveBody, response } },
    async (request, reply) => answer(reply, give(idOf(request), request.body.to)),
  );
}
