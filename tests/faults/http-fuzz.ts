import { Dice } from '../link/dice.ts';
import { damaged, pick, type Schema, valueFor } from './http-shapes.ts';
import { sendAll, sendBytes, type WireAnswer } from './http-wire.ts';

/** The running program under requests made from its own description, damaged ones, bare bytes, and rubbish on its socket. */

interface Parameter {
  in: string;
  name: string;
  required?: boolean;
  schema: Schema;
}

interface Route {
  method: string;
  path: string;
  parameters: Parameter[];
  body: Schema | null;
}

export interface FuzzResult {
  requests: number;
  socketMessages: number;
  /** Sockets that were opened before time was up. */
  sockets: number;
  statuses: Record<number, number>;
  /** Answers that must not be: what was sent and what came. */
  wrong: string[];
  /** Longest time that the program kept its own clock waiting, milliseconds. */
  worstStall: number;
}

export interface FuzzOptions {
  port: number;
  seed: number;
  requests: number;
  socketMessages: number;
}

/** What the campaign leaves alone: the stand is to stay connected, and the stall is read here alone. */
const spared = new Set(['/api/link', '/api/health']);
/**
 * How rarely a route has its turn, by what it costs: once in so many times. First those that take long by their nature (a PDF, a copy of everything, a
 * run), then those that add to what every later answer has to reckon with (a season's worth is plenty), then those that read or write much.
 */
const seldom: [RegExp, number][] = [
  [
    /pdf$|\/api\/backups$|\/api\/export$|run\/(arm|start)|\/metrics|stand\/check|scale\/check|scale\/zero/,
    200,
  ],
  [/hand-runs|calibration\/rows|setup\/keep|printed-chart|field\/checks/, 200],
  [
    /^\/api\/(plan|state|calibration|records|field|paper|scale|setup|before-run|access\/(audit|codes|pair))/,
    6,
  ],
];

/** Requests one behind the other on a connection, and connections at a time. */
const atOnce = 50;
const connections = 6;
export const mostFrames = 12;

async function describedRoutes(port: number): Promise<Route[]> {
  const answer = await fetch(`http://127.0.0.1:${port}/api/openapi.json`);
  const { paths } = (await answer.json()) as {
    paths: Record<string, Record<string, { parameters?: Parameter[]; requestBody?: Described }>>;
  };
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, { parameters = [], requestBody }]) => ({
      method: method.toUpperCase(),
      path,
      parameters,
      body: requestBody?.content['application/json']?.schema ?? null,
    })),
  );
}
interface Described {
  content: Record<string, { schema: Schema }>;
}

function addressFor(dice: Dice, { path, parameters }: Route): string {
  const value = ({ schema }: Parameter) => encodeURIComponent(wellFormed(String(valueFor(dice, schema))));
  const named = path.replace(/\{(\w+)\}/g, (_, name) => {
    const parameter = parameters.find((one) => one.in === 'path' && one.name === name);
    return parameter === undefined ? 'x' : value(parameter);
  });
  const query = parameters
    .filter((one) => one.in === 'query' && (one.required || dice.below(3) === 0))
    .map((one) => `${one.name}=${value(one)}`);
  return query.length === 0 ? named : `${named}?${query.join('&')}`;
}

/** encodeURIComponent refuses half a surrogate pair. */
const wellFormed = (text: string): string => text.replace(/[\ud800-\udfff]/g, '?');

function requestFor(dice: Dice, route: Route): Buffer {
  const { method, body } = route;
  const lines = [`${method} ${addressFor(dice, route)} HTTP/1.1`, 'Host: localhost'];
  // Some come as strangers from the shop network, some with a cookie that was never given.
  if (dice.below(8) === 0) lines.push('Via: 1.1 fuzz');
  if (dice.below(8) === 0)
    lines.push(`Cookie: catchbench=${pick(dice, ['', 'x', '__proto__', '%', ';;=;'])}`);
  if (method === 'GET') return Buffer.from(`${lines.join('\r\n')}\r\n\r\n`);
  const value =
    body === null
      ? dice.below(4) === 0
        ? valueFor(dice, { type: 'object' })
        : undefined
      : valueFor(dice, body);
  let text = value === undefined ? '' : JSON.stringify(value);
  if (dice.below(15) === 0) text = damaged(dice, Buffer.from(text)).toString('latin1');
  const bytes = Buffer.from(text);
  if (bytes.length > 0)
    lines.push(`Content-Type: ${dice.below(50) === 0 ? 'text/plain' : 'application/json'}`);
  lines.push(`Content-Length: ${bytes.length}`);
  return Buffer.concat([Buffer.from(`${lines.join('\r\n')}\r\n\r\n`), bytes]);
}

const upgrade = [
  'GET /api/live HTTP/1.1',
  'Host: localhost',
  'Upgrade: websocket',
  'Connection: Upgrade',
  'Sec-WebSocket-Version: 13',
  'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==',
  '\r\n',
].join('\r\n');

/** A frame as a browser would send it (RFC 6455), of any kind, with a length that need not be true. */
function frame(dice: Dice): Buffer {
  const payload = dice.below(3) === 0 ? Buffer.from('{"type":"hello"}') : dice.bytes(dice.below(120));
  const head = [dice.below(4) === 0 ? dice.below(256) : 0x80 | pick(dice, [0, 1, 2, 8, 9, 10])];
  const length = dice.below(10) === 0 ? dice.below(126) : payload.length;
  const form = dice.below(20);
  if (form === 0) head.push(0x80 | 127, ...dice.bytes(8));
  else if (form === 1) head.push(0x80 | 126, ...dice.bytes(2));
  else head.push((dice.below(10) === 0 ? 0 : 0x80) | length);
  return Buffer.concat([Buffer.from(head), dice.bytes(4), payload]);
}

/** Anything may be answered but a fault of the program's own. The state of the bench is none, and the records are there all the while. */
const isWrong = ({ status }: WireAnswer): boolean => status < 100 || status >= 500;

class Campaign {
  readonly result: FuzzResult = {
    requests: 0,
    socketMessages: 0,
    sockets: 0,
    statuses: {},
    wrong: [],
    worstStall: 0,
  };
  readonly #port: number;
  readonly #dice: Dice;
  readonly #routes: Route[];

  constructor(port: number, seed: number, routes: Route[]) {
    this.#port = port;
    this.#dice = new Dice(seed);
    this.#routes = routes.filter(({ path }) => !spared.has(path));
  }

  #route(): Route {
    for (;;) {
      const route = pick(this.#dice, this.#routes);
      const oneIn = seldom.find(([path]) => path.test(route.path))?.[1] ?? 1;
      if (this.#dice.below(oneIn) === 0) return route;
    }
  }

  async whole(): Promise<void> {
    const requests = Array.from({ length: atOnce }, () => requestFor(this.#dice, this.#route()));
    const answers = await sendAll(this.#port, requests);
    this.#judge(
      answers,
      () => `${answers.length} answers to:\n${Buffer.concat(requests).toString('latin1').slice(0, 4000)}`,
    );
    // A request that cannot be read ends the connection: those behind it were not heard.
    this.result.requests += answers.length;
  }

  async bytes(): Promise<void> {
    const dice = this.#dice;
    const good = requestFor(dice, this.#route());
    const bytes = dice.below(4) === 0 ? dice.bytes(1 + dice.below(300)) : damaged(dice, good);
    this.#judge(await sendBytes(this.#port, bytes), () => bytes.toString('latin1'));
    this.result.requests += 1;
  }

  async socket(): Promise<void> {
    const frames = Array.from({ length: 1 + this.#dice.below(mostFrames) }, () => frame(this.#dice));
    const answers = await sendBytes(this.#port, Buffer.concat([Buffer.from(upgrade), ...frames]), 300);
    const status = answers[0]?.status;
    if (status === 101) this.result.sockets += 1;
    else if (status !== undefined) this.result.wrong.push(`no socket: ${status}`);
    this.result.socketMessages += frames.length;
  }

  async stall(): Promise<void> {
    const health = await fetch(`http://127.0.0.1:${this.#port}/api/health`);
    const { loopDelayMillis } = (await health.json()) as { loopDelayMillis: { worst: number } };
    this.result.worstStall = Math.max(this.result.worstStall, loopDelayMillis.worst);
  }

  #judge(answers: WireAnswer[], sent: () => string): void {
    const { statuses, wrong } = this.result;
    for (const answer of answers) {
      statuses[answer.status] = (statuses[answer.status] ?? 0) + 1;
      if (isWrong(answer) && wrong.length < 20) wrong.push(`${answer.status} ${answer.body} <- ${sent()}`);
    }
  }
}

/** Runs a campaign against the program at this port; the same seed sends the same. */
export async function fuzz({ port, seed, requests, socketMessages }: FuzzOptions): Promise<FuzzResult> {
  const campaign = new Campaign(port, seed, await describedRoutes(port));
  const { result } = campaign;
  await campaign.stall();
  result.worstStall = 0;
  const work = async () => {
    for (let round = 0; result.requests < requests || result.socketMessages < socketMessages; round++) {
      if (result.requests < requests) await campaign.whole();
      if (round % 3 === 0 && result.requests < requests) await campaign.bytes();
      if (result.socketMessages < socketMessages) await campaign.socket();
      if (round % 20 === 0) await campaign.stall();
    }
  };
  await Promise.all(Array.from({ length: connections }, work));
  return result;
}
