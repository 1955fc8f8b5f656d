import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { FastifyInstance } from 'fastify';
import type { SessionFace } from '../run/session-types.ts';
import { HealthAnswer, type ShareHealth } from './messages.ts';

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
  /** Folder of the records. */
  folder: string;
  /** Runs that are over and in memory alone. */
  unsaved: () => number;
  /** Condition of what is shared with other stands; null where nothing is. */
  share: () => Promise<ShareHealth | null>;
}

/** The route by which programs see whether all is well. */
export function addHealthRoute(app: FastifyInstance, sources: HealthSources): void {
  const { session, version, viewers } = sources;
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
      const store = { folder: sources.folder, unsavedRuns: sources.unsaved(), trouble: reasons[0] ?? null };
      const share = await sources.share();
      if (share !== null && ['out of touch', 'refused'].includes(share.condition))
        reasons.push(share.sentence);
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
        store,
        share,
      } satisfies HealthAnswer;
    },
  );
}
