import type { FastifyContextConfig, FastifyInstance, FastifyReply } from 'fastify';
import type { BeforeRunDesk } from '../before-run/desk.ts';
import { systemClock } from '../clock.ts';
import type { Outcome, SessionFace } from '../run/session-types.ts';
import { ArmBody } from './before-run-messages.ts';
import { whyNotNow } from './late.ts';
import {
  LinkChoice,
  LinkView,
  Plan,
  PortsAnswer,
  Problem,
  RunView,
  StartBody,
  StateAnswer,
} from './messages.ts';
import { sendRefusal } from './problems.ts';

const acts = {
  stop: 'Stops the wheel, at any time, as often as one likes.',
  abort: 'Stops the wheel and throws the run away.',
} as const;

/** Stop is for everyone, at any time, as often as one likes; the rest for the one who holds the wheel. */
const needs: Record<keyof typeof acts, FastifyContextConfig & { rateLimit?: false }> = {
  stop: { role: 'watch', rateLimit: false },
  abort: { wheel: 'hold' },
};

function answer<T>(reply: FastifyReply, outcome: Outcome<T>): FastifyReply {
  return outcome.ok ? reply.send(outcome.value) : sendRefusal(reply, outcome.problem);
}

export interface RunSurroundings {
  session: SessionFace;
  version: string;
  /** Keeps the list before a run; null where there is none. */
  beforeRun: BeforeRunDesk | null;
}

const refusals = { 400: Problem, 409: Problem };

/** Routes of the stand, the plan and the run in hand. */
export function addRunRoutes(app: FastifyInstance, surroundings: RunSurroundings): void {
  const { session, version } = surroundings;
  addPlanRoutes(app, session);
  addActRoutes(app, surroundings);

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
}

function addPlanRoutes(app: FastifyInstance, session: SessionFace): void {
  app.get(
    '/api/plan',
    { schema: { summary: 'The plan for the next run', response: { 200: Plan } } },
    async () => session.view().plan,
  );

  app.put<{ Body: Plan }>(
    '/api/plan',
    {
      // Whoever holds the wheel turns it by this plan: nobody changes it under their hands.
      config: { wheel: 'free' },
      schema: { summary: 'Changes the plan', body: Plan, response: { 200: Plan, ...refusals } },
    },
    async (request, reply) => answer(reply, await session.keepPlan(request.body)),
  );
}

function addActRoutes(app: FastifyInstance, { session, beforeRun }: RunSurroundings): void {
  app.post<{ Body: ArmBody }>(
    '/api/run/arm',
    {
      config: { wheel: 'hold' },
      schema: {
        summary:
          'Takes the tare and readies the stand for the run of the plan; nothing turns yet. The list before a run has to be confirmed, or passed over on purpose.',
        body: ArmBody,
        response: { 200: RunView, ...refusals },
      },
    },
    async ({ body }, reply) =>
      answer(reply, await session.arm(beforeRun?.gate(body?.list === 'passed-over'))),
  );
  app.post<{ Body: StartBody }>(
    '/api/run/start',
    {
      config: { wheel: 'hold' },
      schema: {
        summary:
          'Starts the armed run: with a motor the wheel turns. With a body, only if that is what its sender saw moments ago.',
        body: StartBody,
        response: { 200: RunView, ...refusals },
      },
    },
    async ({ body }, reply) => {
      const why = whyNotNow(body ?? null, session.view().run.id, systemClock.now());
      return answer(reply, why ?? (await session.start()));
    },
  );
  for (const [act, summary] of Object.entries(acts) as [keyof typeof acts, string][]) {
    app.post(
      `/api/run/${act}`,
      { config: needs[act], schema: { summary, response: { 200: RunView, ...refusals } } },
      async (_request, reply) => answer(reply, await session[act]()),
    );
  }
}
