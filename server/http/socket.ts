import type { Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import type { Access } from '../access/access.ts';
import { host, type Person } from '../access/person.ts';
import { mayDo } from '../access/roles.ts';
import type { Recognise } from './access-hook.ts';
import { type Reach, whyTurnedAway } from './guard.ts';
import type { Hub } from './hub.ts';
import type { IsTooMany } from './limits.ts';

export const socketPath = '/api/live';

/** Viewers have nothing to say; this is room for what a browser might. */
const greatestMessage = 1024;

/** Pages that one paired device may have open. */
const mostPages = 8;

/** The close code that tells a page to pair again; of the range left to programs (RFC 6455, 7.4.2). */
export const notPairedCode = 4401;

/** How often it is looked whether a session has come to its end in the meantime. */
const lookMillis = 30_000;

export interface SocketSurroundings {
  hub: Hub;
  access: Access;
  recognise: Recognise;
  reach: Reach;
  isTooMany: IsTooMany;
}

function turnAway(socket: Duplex, status: string): void {
  socket.once('error', () => {});
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

/** The open sockets of each person. */
class Pages {
  readonly #open = new Map<WebSocket, Person>();
  readonly #access: Access;

  constructor(access: Access) {
    this.#access = access;
  }

  hasRoom({ id }: Person): boolean {
    return id === host.id || this.#access.wheel.pagesOf(id) < mostPages;
  }

  add(socket: WebSocket, person: Person): void {
    this.#open.set(socket, person);
    const closed = this.#access.wheel.opened(person.id);
    socket.once('close', () => {
      this.#open.delete(socket);
      closed();
    });
  }

  /** Shows out whoever may not look on any more. */
  showOut(isOut: (person: Person) => boolean): void {
    for (const [socket, person] of this.#open) {
      if (isOut(person)) socket.close(notPairedCode, 'This device is not paired any more.');
    }
  }
}

/** Opens sockets at /api/live on this server and hands them to the hub. Returns the function that closes all. */
export function addSocket(
  server: Server,
  { hub, access, recognise, reach, isTooMany }: SocketSurroundings,
): () => void {
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: greatestMessage,
    perMessageDeflate: false,
  });
  const pages = new Pages(access);
  server.on('upgrade', (request, socket, head) => {
    if (whyTurnedAway(request, reach) !== null) return turnAway(socket, '403 Forbidden');
    if (isTooMany(request.socket)) return turnAway(socket, '429 Too Many Requests');
    if (request.url?.split('?')[0] !== socketPath) return turnAway(socket, '404 Not Found');
    const person = recognise(request);
    if (person === null) return turnAway(socket, '401 Unauthorized');
    sockets.handleUpgrade(request, socket, head, (opened) => {
      if (!pages.hasRoom(person) || !hub.admit(opened, mayDo(person.role, 'operate'))) {
        opened.close(1013, 'Too many pages look on already.');
        return;
      }
      pages.add(opened, person);
    });
  });
  const unlisten = access.listen({ ended: (id) => pages.showOut((person) => person.id === id) });
  const looking = setInterval(() => pages.showOut(({ id }) => !access.knows(id)), lookMillis);
  looking.unref();
  return () => {
    clearInterval(looking);
    unlisten();
    for (const socket of sockets.clients) socket.terminate();
    sockets.close();
  };
}
