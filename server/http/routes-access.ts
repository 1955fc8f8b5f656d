import type { FastifyInstance, FastifyReply } from 'fastify';
import Type, { type Static } from 'typebox';
import type { Access } from '../access/access.ts';
import { host, type Result } from '../access/person.ts';
import { sessionMillis } from '../access/sessions.ts';
import { addressOf, cookieName } from './access-hook.ts';
import {
  AuditAnswer,
  CodeAnswer,
  CodeBody,
  HereAnswer,
  MeAnswer,
  PairBody,
  PersonView,
  SessionsAnswer,
} from './access-messages.ts';
import { Problem } from './messages.ts';

/** Pairing, and who is in. Who holds the wheel is in routes-wheel. */

const SessionParams = Type.Object({ id: Type.String({ maxLength: 40 }) });
export const DoneAnswer = Type.Object({ done: Type.Literal(true) });
const refusals = { 400: Problem, 403: Problem, 404: Problem, 409: Problem, 429: Problem };

/** Far more than a person types, far fewer than a machine would like. */
const pairingLimit = { max: 12, timeWindow: 60_000 };
const knockLimit = { max: 6, timeWindow: 60_000 };

/** Answers with `value`, or with the refusal. */
export function answer<T>(
  reply: FastifyReply,
  result: Result<T>,
  value: (of: T) => unknown = () => ({ done: true }),
) {
  if (result.ok) return reply.send(value(result.value));
  const { status, code, message } = result.refusal;
  return reply.code(status).send({ code, message } satisfies Problem);
}

const isoOf = (millis: number): string => new Date(millis).toISOString();

export interface AccessSurroundings {
  access: Access;
  /** Whether Catchbench speaks https. */
  secure: boolean;
}

function addPairing(app: FastifyInstance, { access, secure }: AccessSurroundings): void {
  const cookie = { httpOnly: true, sameSite: 'strict', path: '/', secure } as const;

  app.get(
    '/api/access',
    {
      config: { role: 'open' },
      schema: { summary: 'Whether pairing is needed, and who you are', response: { 200: MeAnswer } },
    },
    async ({ person }) => ({ shared: access.shared, you: person }),
  );
  app.post(
    '/api/access/knock',
    {
      config: { role: 'open', rateLimit: knockLimit },
      schema: { summary: 'Asks for a code at the host', response: { 200: DoneAnswer, ...refusals } },
    },
    async ({ raw }, reply) => answer(reply, await access.knock(addressOf(raw))),
  );
  app.post<{ Body: PairBody }>(
    '/api/access/pair',
    {
      config: { role: 'open', rateLimit: pairingLimit },
      schema: { summary: 'Comes in by a code', body: PairBody, response: { 200: PersonView, ...refusals } },
    },
    async ({ body, raw, person }, reply) => {
      const result = await access.pair(body, addressOf(raw), person);
      if (result.ok) {
        reply.setCookie(cookieName(secure), result.value.token, { ...cookie, maxAge: sessionMillis / 1000 });
      }
      return answer(reply, result, (paired) => paired.person);
    },
  );
  app.post(
    '/api/access/leave',
    {
      config: { role: 'watch' },
      schema: { summary: 'Ends the session of this device', response: { 200: DoneAnswer } },
    },
    async ({ person, raw }, reply) => {
      if (person !== null && person.id !== host.id) {
        await access.revoke(person.id);
        access.note({ person, from: addressOf(raw), act: 'left', outcome: 'done' });
      }
      return reply.clearCookie(cookieName(secure), cookie).send({ done: true });
    },
  );
}

function addManaging(app: FastifyInstance, { access }: AccessSurroundings): void {
  app.post<{ Body: CodeBody }>(
    '/api/access/codes',
    {
      config: { role: 'manage' },
      schema: {
        summary: 'A code that lets one device in',
        body: CodeBody,
        response: { 200: CodeAnswer, ...refusals },
      },
    },
    async ({ body, person, raw }, reply) => {
      const result = await access.offerCode(body.role);
      if (result.ok) {
        access.note({ person, from: addressOf(raw), act: 'offered a code', outcome: body.role });
      }
      return answer(reply, result, (code) => code);
    },
  );
  app.get(
    '/api/access/sessions',
    {
      config: { role: 'manage' },
      schema: { summary: 'Devices that are paired', response: { 200: SessionsAnswer } },
    },
    async () => ({
      sessions: access.sessions().map(({ id, name, role, from, pairedAt, seenAt }) => ({
        id,
        name,
        role,
        from,
        pairedAt: isoOf(pairedAt),
        seenAt: isoOf(seenAt),
        until: isoOf(pairedAt + sessionMillis),
      })),
    }),
  );
  app.post<{ Params: Static<typeof SessionParams> }>(
    '/api/access/sessions/:id/revoke',
    {
      config: { role: 'manage' },
      schema: {
        summary: 'Ends the session of a device, at once',
        params: SessionParams,
        response: { 200: DoneAnswer, ...refusals },
      },
    },
    async ({ params, person, raw }, reply) => {
      const name = access.sessions().find(({ id }) => id === params.id)?.name ?? '';
      const result = await access.revoke(params.id);
      if (result.ok) access.note({ person, from: addressOf(raw), act: 'revoked', outcome: name });
      return answer(reply, result);
    },
  );
  app.get(
    '/api/access/audit',
    { config: { role: 'manage' }, schema: { summary: 'Who did what', response: { 200: AuditAnswer } } },
    async () => ({ entries: access.entries().toReversed() }),
  );
}

function addHere(app: FastifyInstance, { access }: AccessSurroundings): void {
  app.get(
    '/api/access/here',
    { schema: { summary: 'Who is here and who holds the wheel', response: { 200: HereAnswer } } },
    async ({ person }): Promise<HereAnswer> => {
      const you = person ?? host;
      const { holder, asking, takeIn } = access.wheel.view(you.id);
      const people = access.people().map((one) => ({ ...one, pages: access.wheel.pagesOf(one.id) }));
      return { shared: access.shared, you, people, wheel: { holder, asking, takeInMillis: takeIn } };
    },
  );
}

export function addAccessRoutes(app: FastifyInstance, surroundings: AccessSurroundings): void {
  addPairing(app, surroundings);
  addHere(app, surroundings);
  addManaging(app, surroundings);
}
