import type { Server } from 'node:http';
import type { Socket } from 'node:net';
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import { isLoopback, isNearby, plainAddress } from '../access/nearby.ts';
import { isThisComputer } from './guard.ts';
import type { Problem } from './messages.ts';

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

/** Connections in all, and of one other device: pages, sockets and some. */
const mostConnections = 1024;
const mostOfOneDevice = 48;
/** So many more of one device are told that they are too many; beyond them it is hung up on. */
const mostTold = 8;

/** One end of a connection tells it from all others that are open. */
const farEnd = ({ remoteAddress, remotePort }: Socket): string => `${remoteAddress} ${remotePort}`;

/** Whether a connection is one too many of its device. */
export type IsTooMany = (socket: Socket) => boolean;

/** Hangs up on callers from the internet, and on a device that opens far too many connections. */
export function limitConnections(server: Server): IsTooMany {
  const open = new Map<string, number>();
  const tooMany = new Set<string>();
  server.maxConnections = mostConnections;
  server.on('connection', (socket: Socket) => {
    const address = plainAddress(socket.remoteAddress);
    const before = open.get(address) ?? 0;
    const limited = !isLoopback(address);
    if (!isNearby(address, socket.localAddress) || (limited && before >= mostOfOneDevice + mostTold)) {
      socket.destroy();
      return;
    }
    const end = farEnd(socket);
    if (limited && before >= mostOfOneDevice) tooMany.add(end);
    open.set(address, before + 1);
    socket.once('close', () => {
      tooMany.delete(end);
      const left = (open.get(address) ?? 1) - 1;
      if (left > 0) open.set(address, left);
      else open.delete(address);
    });
  });
  return (socket) => tooMany.has(farEnd(socket));
}

const tooManyOpen: Problem = {
  code: 'wait',
  message: 'This device has too many connections open. Close some of its pages, then try again.',
};

/** Whoever comes on one connection too many is told so; what knows no limit, Stop, is done all the same. */
export function addConnectionLimit(app: FastifyInstance, isTooMany: IsTooMany): void {
  app.addHook('onRequest', async (request, reply) => {
    if (!isTooMany(request.raw.socket) || request.routeOptions.config.rateLimit === false) return;
    return reply.code(429).header('connection', 'close').send(tooManyOpen);
  });
}
