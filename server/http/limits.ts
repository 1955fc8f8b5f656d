import type { Server } from 'node:http';
import type { Socket } from 'node:net';
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import { isLoopback, isNearby, plainAddress } from '../access/nearby.ts';
import { isThisComputer } from './guard.ts';

/** How much one device may ask of the service. A page at its busiest makes a few requests a second; this computer itself is never limited. */

const requestsAMinute = 1200;

export async function addRateLimit(app: FastifyInstance): Promise<void> {
  await app.register(rateLimit, {
    max: requestsAMinute,
    timeWindow: 60_000,
    allowList: (request) => isThisComputer(request.raw),
    keyGenerator: (request) => plainAddress(request.ip),
    addHeaders: { 'x-ratelimit-limit': false, 'x-ratelimit-remaining': false, 'x-ratelimit-reset': false },
    addHeadersOnExceeding: {
      'x-ratelimit-limit': false,
      'x-ratelimit-remaining': false,
      'x-ratelimit-reset': false,
    },
  });
}

/** Waits that end a request that is sent drop by drop. The greatest one, an import of 64 MB, takes 30 s on a slow shop network. */
export interface Patience {
  headersMillis: number;
  requestMillis: number;
  lookEveryMillis: number;
}

export const usualPatience: Patience = {
  headersMillis: 10_000,
  requestMillis: 60_000,
  lookEveryMillis: 2_000,
};

/** Connections in all, and of one other device: pages, sockets and some. */
const mostConnections = 1024;
const mostOfOneDevice = 48;

/** Hangs up on callers from the internet, and on a device that opens too many connections. */
export function limitConnections(server: Server): void {
  const open = new Map<string, number>();
  server.maxConnections = mostConnections;
  server.on('connection', (socket: Socket) => {
    const address = plainAddress(socket.remoteAddress);
    const before = open.get(address) ?? 0;
    if (!isNearby(address) || (before >= mostOfOneDevice && !isLoopback(address))) {
      socket.destroy();
      return;
    }
    open.set(address, before + 1);
    socket.once('close', () => {
      const left = (open.get(address) ?? 1) - 1;
      if (left > 0) open.set(address, left);
      else open.delete(address);
    });
  });
}
