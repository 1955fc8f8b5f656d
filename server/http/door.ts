import cookie from '@fastify/cookie';
import type { FastifyInstance } from 'fastify';
import type { Access } from '../access/access.ts';
import { addAccess, type Recognise, recogniser } from './access-hook.ts';
import { type Reach, whyTurnedAway } from './guard.ts';
import { addHeaders } from './headers.ts';
import { addConnectionLimit, addRateLimit, type IsTooMany, limitConnections } from './limits.ts';
import { addPatience, type Patience } from './patience.ts';

/** What every request passes before its route sees it, in this order: is it for us, is it too much, is it coming on, who asks and may they. */

export interface DoorOptions {
  access: Access;
  reach: Reach;
  patience: Patience;
}

export interface Door {
  recognise: Recognise;
  isTooMany: IsTooMany;
}

export async function addDoor(app: FastifyInstance, { access, reach, patience }: DoorOptions): Promise<Door> {
  const isTooMany = limitConnections(app.server);
  // Only JSON is read: a form of another site cannot send that.
  app.removeContentTypeParser('text/plain');
  await app.register(cookie);
  await addHeaders(app);
  app.addHook('onRequest', async (request, reply) => {
    const message = whyTurnedAway(request.raw, reach);
    if (message !== null) return reply.code(403).send({ code: 'turned-away', message });
  });
  addConnectionLimit(app, isTooMany);
  addPatience(app, patience);
  await addRateLimit(app);
  const recognise = recogniser(app, access, reach.secure);
  addAccess(app, access, recognise);
  return { recognise, isTooMany };
}
