import type { FastifyInstance } from 'fastify';
import type { Log } from './log.ts';

const slowMillis = 500;

/** Each request that changes something, fails or is slow becomes one line: what was asked, never what was sent along. */
export function logRequests(app: FastifyInstance, log: Log): void {
  app.addHook('onResponse', async (request, reply) => {
    const millis = Math.round(reply.elapsedTime * 10) / 10;
    const status = reply.statusCode;
    if (request.method === 'GET' && status < 400 && millis < slowMillis) return;
    const path = request.url.split('?')[0]!.slice(0, 200);
    log[status < 500 ? 'info' : 'error']({ method: request.method, path, status, millis }, 'Request.');
  });
}
