import type { FastifyContextConfig, FastifyInstance, FastifyReply } from 'fastify';
import type { Outcome, SessionFace } from '../run/session-types.ts';
import { LinkChoice, LinkView, Plan, PortsAnswer, Problem, RunView, StateAnswer } from './messages.ts';
import { sendRefusal } from './problems.ts';

const acts = {
  arm: 'Takes the tare and readies the stand for the run of the plan. Nothing turns yet.',
  start: 'Starts the armed run: with a motor the wheel turns.',
  stop: 'Stops the wheel, at any time, as often as one likes.',
  abort: 'Stops the wheel and throws the run away.',
} as const;

/** Stop is for everyone, at any time, as often as one likes; the rest for the one who holds the wheel. */
const needs: Record<keyof typeof acts, FastifyContextConfig & { rateLimit?: false }> = {
  arm: { wheel: true },
  start: { wheel: true },
  stop: { role: 'watch', rateLimit: false },
  abort: { wheel: true },
};

function answer<T>(reply: FastifyReply, outcome: Outcome<T>): FastifyReply {
  return outcome.ok ? reply.send(outcome.value) : sendRefusal(reply, outcome.problem);
}

/** Routes of the stand, the plan and the run in hand. */
export function addRunRoutes(app: FastifyInstance, session: SessionFace, version: string): void {
  const refusals = { 400: Problem, 409: Problem };

  app.get(
    '/api/state',
    { schema: { summary: 'Everything there is to show now', response: { 200: StateAnswer } } },
    async () => ({
      startId: session.startId,
      version,
      demo: session.demo,
      ...session.view(),
      trace: session.trace(),
    }),
  );

  app.get(
    '/api/plan',
    { schema: { summary: 'The plan for the next run', response: { 200: Plan } } },
    async () => session.view().plan,
  );

  app.put<{ Body: Plan }>(
    '/api/plan',
    { schema: { summary: 'Changes the plan', body: Plan, response: { 200: Plan, ...refusals } } },
    async (request, reply) => answer(reply, await session.keepPlan(request.body)),
  );

  app.get(
    '/api/ports',
    { schema: { summary: 'Serial ports of this computer', response: { 200: PortsAnswer } } },
    async () => session.ports(),
  );

  app.post<{ Body: LinkChoice }>(
    '/api/link',
    {
      config: { role: 'manage' },
      schema: { summary: 'Chooses the port', body: LinkChoice, response: { 200: LinkView, ...refusals } },
    },
    async (request, reply) => answer(reply, await session.choosePort(request.body.path)),
  );

  for (const [act, summary] of Object.entries(acts) as [keyof typeof acts, string][]) {
    app.post(
      `/api/run/${act}`,
      { config: needs[act], schema: { summary, response: { 200: RunView, ...refusals } } },
      async (_request, reply) => answer(reply, await session[act]()),
    );
  }
}
