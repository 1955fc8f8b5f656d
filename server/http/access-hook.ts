import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import type { Access } from '../access/access.ts';
import { plainAddress } from '../access/nearby.ts';
import { host, type Person, type Refusal, refusals } from '../access/person.ts';
import { mayDo, type Needed, type Role, usualNeed } from '../access/roles.ts';
import { type Caller, isThisComputer } from './guard.ts';
import type { Problem } from './messages.ts';

/** Who may do what, enforced in one place for every route, from what the route says of itself. */

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Who may call this route. Without it: GET needs `watch`, anything else `operate`. */
    role?: Needed;
    /** Where several may operate: only for the one who holds the wheel (`hold`), or for anyone while nobody else does (`free`). */
    wheel?: WheelNeed;
  }
  interface FastifyInstance {
    /** Every route there is, with what it asks. */
    routeTable(): RouteNeed[];
  }
  interface FastifyRequest {
    /** Who asks; null where nobody is known, which only `open` routes see. */
    person: Person | null;
  }
}

type WheelNeed = 'hold' | 'free';

export interface RouteNeed {
  method: string;
  url: string;
  role: Needed;
  wheel: WheelNeed | null;
}

/** Name of the cookie; the longer one binds it to https and to this host (RFC 6265bis, `__Host-`). */
export const cookieName = (secure: boolean): string => (secure ? '__Host-catchbench' : 'catchbench');

/** Tells who asks, by connection and cookie; null for a stranger. */
export type Recognise = (caller: Caller) => Person | null;

export function recogniser(app: FastifyInstance, access: Access, secure: boolean): Recognise {
  const name = cookieName(secure);
  return (caller) => {
    if (!access.shared || isThisComputer(caller)) return host;
    const { cookie } = caller.headers;
    return cookie === undefined ? null : access.personWith(app.parseCookie(cookie)[name]);
  };
}

const roleWords: Record<Role, string> = {
  watch: 'look on and press Stop',
  operate: 'make runs',
  manage: 'manage the stand',
};

const notAllowed = (role: Role): Refusal => ({
  status: 403,
  code: 'not-allowed',
  message: `This device was paired to ${roleWords[role]}, no more. Whoever let it in can pair it anew for more.`,
});

/** Keeps the table of routes; to be called before there are any. */
function addRouteTable(app: FastifyInstance): void {
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => {
    routes.push(route);
  });
  app.decorate('routeTable', () =>
    routes.flatMap(({ method: methods, url, config }) =>
      [methods].flat().map((method) => {
        const { role = usualNeed(method), wheel = null } = config ?? {};
        return { method, url, role, wheel };
      }),
    ),
  );
}

/** Why this person may not have this route now; null when they may. */
function whyNot(request: FastifyRequest, access: Access): Refusal | null {
  const { person, method } = request;
  const { role: needed = usualNeed(method), wheel } = request.routeOptions.config;
  if (!mayDo(person?.role ?? null, needed)) {
    return person === null ? refusals.notPaired : notAllowed(person.role);
  }
  if (wheel === undefined || !access.shared || person === null) return null;
  const use = wheel === 'hold' ? access.wheel.use(person.id) : access.wheel.mayUse(person.id);
  return use.ok ? null : use.refusal;
}

export function addAccess(app: FastifyInstance, access: Access, recognise: Recognise): void {
  addRouteTable(app);
  app.decorateRequest('person', null);
  app.addHook('onRequest', async (request, reply) => {
    request.person = recognise(request.raw);
    if (request.is404) return;
    const refusal = whyNot(request, access);
    if (refusal === null) return;
    const { status, code, message } = refusal;
    return reply.code(status).send({ code, message } satisfies Problem);
  });
  // Whatever changes something is noted, done or refused; strangers note nothing here, or they could fill the list.
  app.addHook('onResponse', async (request, reply) => {
    const { method, person, routeOptions } = request;
    const { url = '' } = routeOptions;
    const looks = method === 'GET' || method === 'HEAD' || method === 'OPTIONS';
    // Pairing and revoking note themselves, in more detail.
    if (looks || person === null || request.is404 || url.startsWith('/api/access/')) return;
    const act = `${method} ${url}`;
    access.note({ person, from: addressOf(request.raw), act, outcome: String(reply.statusCode) });
  });
}

export const addressOf = ({ socket }: Caller): string => plainAddress(socket.remoteAddress);
