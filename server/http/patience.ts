import type { Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import type { Problem } from './messages.ts';

/** Waits that end a request that is sent drop by drop; one that comes on, however slowly, has the time it needs. */
export interface Patience {
  /** How long the head of a request may take. */
  headersMillis: number;
  /** In each stretch of `progressMillis` at least `progressBytes` of a body have to arrive, or the rest of it. */
  progressMillis: number;
  progressBytes: number;
  /** How often the heads are looked at. */
  lookEveryMillis: number;
}

/** A kilobyte a second is slower than any network that a page can be used over; of small bodies nothing is left after the first stretch. */
export const usualPatience: Patience = {
  headersMillis: 10_000,
  progressMillis: 30_000,
  progressBytes: 32 * 1024,
  lookEveryMillis: 2_000,
};

const reasons = { 400: 'Bad Request', 408: 'Request Timeout', 431: 'Request Header Fields Too Large' };

const problems: Record<keyof typeof reasons, Problem> = {
  400: { code: 'bad-request', message: 'The request could not be understood.' },
  408: { code: 'too-slow', message: 'The request came too slowly and was given up. Send it again.' },
  431: {
    code: 'too-large',
    message: 'The head of the request is larger than anything Catchbench has a use for.',
  },
};

/** Time for a last answer to leave. */
const partingMillis = 1000;

/** Answers where no route can, and hangs up. */
function hangUp(socket: Socket, status: keyof typeof reasons): void {
  if (!socket.writable) {
    socket.destroy();
    return;
  }
  const body = JSON.stringify(problems[status]);
  const head = [
    `HTTP/1.1 ${status} ${reasons[status]}`,
    'Connection: close',
    'Content-Type: application/json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
  socket.destroySoon();
  // Whoever does not read the answer is not waited for.
  setTimeout(() => socket.destroy(), partingMillis).unref();
}

/** Answers to what is no request, or has not become one in time. */
export function unheard(error: NodeJS.ErrnoException, socket: Socket): void {
  if (error.code === 'ECONNRESET' || socket.destroyed) return;
  if (error.code === 'ERR_HTTP_REQUEST_TIMEOUT') hangUp(socket, 408);
  else hangUp(socket, error.code === 'HPE_HEADER_OVERFLOW' ? 431 : 400);
}

/** Ends requests whose body does not come on. */
export function addPatience(app: FastifyInstance, { progressMillis, progressBytes }: Patience): void {
  app.addHook('onRequest', async ({ raw }, reply) => {
    const { headers, socket } = raw;
    if (headers['content-length'] === undefined && headers['transfer-encoding'] === undefined) return;
    let before = socket.bytesRead;
    const looking = setInterval(() => {
      const came = socket.bytesRead - before;
      before = socket.bytesRead;
      if (raw.complete) clearInterval(looking);
      else if (came < progressBytes) {
        clearInterval(looking);
        if (reply.raw.headersSent) socket.destroy();
        else hangUp(socket, 408);
      }
    }, progressMillis);
    looking.unref();
    for (const end of ['end', 'close'] as const) raw.once(end, () => clearInterval(looking));
  });
}
