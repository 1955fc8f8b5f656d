import type { FastifyInstance } from 'fastify';
import type { BeforeRunDesk } from '../before-run/desk.ts';
import { BeforeRunView, ConfirmBody } from './before-run-messages.ts';
import { Problem } from './messages.ts';

/** Routes of the short check before a run. */
export function addBeforeRunRoutes(app: FastifyInstance, desk: BeforeRunDesk): void {
  app.get(
    '/api/before-run',
    {
      schema: {
        summary: 'What the stand sees of itself, and what a person is asked',
        response: { 200: BeforeRunView },
      },
    },
    async () => desk.view(),
  );

  app.post<{ Body: ConfirmBody }>(
    '/api/before-run',
    {
      // Whoever says that people are clear is the one who is about to turn the wheel.
      config: { wheel: 'hold' },
      schema: {
        summary: 'Confirms the list for this calibration; nothing turns yet',
        body: ConfirmBody,
        response: { 200: BeforeRunView, 409: Problem, 503: Problem },
      },
    },
    async ({ body }, reply) => {
      const missing = await desk.confirm(body);
      if (missing.length === 0) return desk.view();
      const message = 'Not everything on the list is confirmed yet.';
      return reply.code(409).send({ code: 'not-all', message, field: `/items/${missing[0]}` });
    },
  );
}
