import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { FastifyInstance } from 'fastify';
import type { SessionFace } from '../run/session-types.ts';
import { HealthAnswer } from './messages.ts';

const nanosPerMilli = 1e6;
/** The delay is looked at every so many milliseconds; what is reported is the excess over it. */
const resolutionMillis = 20;

const excess = (nanos: number): number =>
  Number.isFinite(nanos) ? Math.max(0, nanos / nanosPerMilli - resolutionMillis) : 0;

export interface HealthSources {
  session: SessionFace;
  version: string;
  /** Pages that look on now. */
  viewers: () => number;
}

/** The route by which programs see whether all is well. */
export function addHealthRoute(app: FastifyInstance, { session, version, viewers }: HealthSources): void {
  const startedAt = performance.now();
  const delay = monitorEventLoopDelay({ resolution: resolutionMillis });
  delay.enable();
  app.addHook('onClose', async () => {
    delay.disable();
  });

  app.get(
    '/api/health',
    { schema: { summary: 'Whether all is well', response: { 200: HealthAnswer } } },
    async () => {
      const { link } = session.view();
      const reasons = session.troubles();
      if (link.condition !== 'connected') reasons.push(link.sentence);
      const loopDelayMillis = { worst: excess(delay.max), mean: excess(delay.mean) };
      delay.reset();
      return {
        status: reasons.length === 0 ? 'ok' : 'attention',
        reasons,
        version,
        startId: session.startId,
        upSeconds: (performance.now() - startedAt) / 1000,
        loopDelayMillis,
        viewers: viewers(),
      } satisfies HealthAnswer;
    },
  );
}
