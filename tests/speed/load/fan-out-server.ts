import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type WebSocket, WebSocketServer } from 'ws';
import type { Clock } from '../../../server/clock.ts';
import { Hub } from '../../../server/http/hub.ts';
import { FakeSession } from '../../web/fake-session.ts';
import { figuresOf, plan } from '../../web/invented.ts';

/**
 * The hub of the service against a bare broadcast of the same bytes, in one process: sockets opened at /hub look on at a hub, those at /bare are sent
 * the bytes and nothing else. The parent says which, and how many frames.
 */

export interface FanOutAsked {
  way: 'hub' | 'bare';
  frames: number;
}

export interface FanOutTold {
  port?: number;
  /** Processor time of the frames, milliseconds. */
  processorMillis?: number;
  bytesOfFrame?: number;
}

const millisBetweenFrames = 10;

/** Time goes on by as much as the hub wants between frames, each time a frame is wanted. */
let now = 0;
const clock: Clock = { now: () => now, after: () => () => {} };

const session = new FakeSession();
const figures = figuresOf(plan, 'turning', 12);
session.run = { id: 'fan-out', plan, figures };
const hub = new Hub(session, clock, 'bench');
const bare = new Set<WebSocket>();
const server = createServer();
const sockets = new WebSocketServer({ server, perMessageDeflate: false });
sockets.on('connection', (socket, request) => {
  if (request.url === '/hub') hub.admit(socket);
  else bare.add(socket);
});

let frameBytes = 0;
function sendBare(): void {
  const { link, run } = session.view();
  const frame = Buffer.from(JSON.stringify({ type: 'live', link, run, trace: [] }));
  frameBytes = frame.length;
  for (const socket of bare) socket.send(frame, { binary: false });
}

function sendByHub(): void {
  now += 1000;
  session.show(figures);
}

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));

async function measure({ way, frames }: FanOutAsked): Promise<number> {
  const send = way === 'hub' ? sendByHub : sendBare;
  const from = process.cpuUsage();
  for (let frame = 0; frame < frames; frame += 1) {
    send();
    await wait(millisBetweenFrames);
  }
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}

server.listen(0, '127.0.0.1', () =>
  process.send?.({ port: (server.address() as AddressInfo).port } satisfies FanOutTold),
);
process.on('message', async (asked: FanOutAsked) => {
  const processorMillis = await measure(asked);
  process.send?.({ processorMillis, bytesOfFrame: frameBytes } satisfies FanOutTold);
});
process.once('disconnect', () => process.exit(0));
