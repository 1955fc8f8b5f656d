import type { Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer } from 'ws';
import { whyTurnedAway } from './guard.ts';
import type { Hub } from './hub.ts';

export const socketPath = '/api/live';

/** Viewers have nothing to say; this is room for what a browser might. */
const greatestMessage = 1024;

function turnAway(socket: Duplex, status: string): void {
  socket.once('error', () => {});
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

/** Opens sockets at /api/live on this server and hands them to the hub. Returns the function that closes all. */
export function addSocket(server: Server, hub: Hub): () => void {
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: greatestMessage,
    perMessageDeflate: false,
  });
  server.on('upgrade', (request, socket, head) => {
    if (whyTurnedAway(request.headers) !== null) return turnAway(socket, '403 Forbidden');
    if (request.url?.split('?')[0] !== socketPath) return turnAway(socket, '404 Not Found');
    sockets.handleUpgrade(request, socket, head, (opened) => {
      if (!hub.admit(opened)) opened.close(1013, 'Too many pages look on already.');
    });
  });
  return () => {
    for (const socket of sockets.clients) socket.terminate();
    sockets.close();
  };
}
