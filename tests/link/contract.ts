import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Clock } from '../../server/clock.ts';
import type { LinkView } from '../../server/http/messages.ts';
import { Link } from '../../server/link/link.ts';
import type { PortObject } from '../../server/link/port.ts';
import type { BoardLine, Identity, Reading } from '../../server/link/readings.ts';

/** A stand on some port, real or not, and the means to let time pass and to pull the cable. */
export interface Bench {
  clock: Clock;
  path: string;
  createPort: (path: string) => PortObject;
  cells: number;
  pass(milliseconds: number): Promise<void>;
  unplug(): Promise<void> | void;
  plug(): Promise<void> | void;
  resetBoard(): void;
  done(): Promise<void> | void;
}

/** A link and all that it handed on, in order. */
export class Listener {
  readonly lines: BoardLine[] = [];
  readonly texts: string[] = [];
  readonly views: LinkView[] = [];
  readonly boots: Identity[] = [];
  readonly link: Link;

  constructor(bench: Pick<Bench, 'clock' | 'createPort'>, path: string | null, ports: string[] = []) {
    this.link = new Link({
      clock: bench.clock,
      createPort: bench.createPort,
      listPorts: async () => ports.map((port) => ({ path: port, label: port })),
      path,
      onLine: (line, text) => {
        this.lines.push(line);
        this.texts.push(text);
      },
      onStatus: (view) => this.views.push(view),
      onBoot: (identity) => this.boots.push(identity),
      random: () => 0.5,
    });
  }

  get readings(): Reading[] {
    return this.lines.filter((line) => line.kind === 'reading');
  }

  get conditions(): string[] {
    return this.views.map((view) => view.condition).filter((each, i, all) => each !== all[i - 1]);
  }
}

/** Lets time pass until `ready`, at most `limit` milliseconds. */
export async function until(
  bench: { pass: (milliseconds: number) => Promise<unknown> },
  ready: () => boolean,
  limit = 10_000,
): Promise<void> {
  for (let passed = 0; !ready(); passed += 20) {
    if (passed >= limit) throw new Error(`What was waited for did not come within ${limit} ms.`);
    await bench.pass(20);
  }
}

const steadyGrowth = (values: number[]): boolean =>
  values.every((value, i) => i === 0 || value > values[i - 1]!);

/** What a link does on any stand: the same suite for a port on paper, a pseudo-terminal and the emulated stand. */
export function describeLinkOn(name: string, makeBench: () => Promise<Bench>): void {
  describe(`a link to ${name}`, () => {
    let bench: Bench;
    let heard: Listener;

    beforeEach(async () => {
      bench = await makeBench();
      heard = new Listener(bench, bench.path);
    });
    afterEach(async () => {
      await heard.link.stop();
      await bench.done();
    });

    const connect = async () => {
      heard.link.start();
      await until(bench, () => heard.link.standFacts() !== null);
    };

    it('knows the stand by its answer and reads its settings', async () => {
      await connect();
      const view = heard.link.view();
      expect(view).toMatchObject({ condition: 'connected', path: bench.path, board: { cells: bench.cells } });
      const facts = heard.link.standFacts()!;
      expect(facts.cells).toHaveLength(bench.cells);
      const settings = heard.link.settings()!;
      expect(facts.cells[0]).toEqual({
        gramsPerCount: Number(settings.get('slope1')) / 1e9,
        zeroCount: Number(settings.get('zero1')),
      });
      expect(facts.pulsesPerTurn).toBe(Number(settings.get('ppt')));
      expect(heard.conditions).toEqual(['opening', 'asking', 'connected']);
    });

    it('hands on readings in order, none missing', async () => {
      await connect();
      const before = heard.readings.length;
      await until(bench, () => heard.readings.length >= before + 40);
      expect(steadyGrowth(heard.readings.map((reading) => reading.boardMicros))).toBe(true);
      expect(steadyGrowth(heard.lines.map((line) => line.sequence))).toBe(true);
      expect(heard.link.figures()).toMatchObject({ missed: 0, connections: 1, boots: 0 });
      expect(heard.link.view().ageMillis).toBeLessThan(500);
    });

    it('keeps the board sure of its host by heartbeats alone', async () => {
      await connect();
      const from = heard.readings.length + 20;
      await bench.pass(2500);
      await until(bench, () => heard.readings.length > from + 80);
      expect(heard.readings.slice(from).every((reading) => (reading.flags & 0x08) === 0)).toBe(true);
      expect(heard.link.view().condition).toBe('connected');
    });

    it('arms with a key, refuses a wrong key in words, and stops', async () => {
      await connect();
      const armed = heard.link.send({ command: 'arm', mode: 'hand', pulses: 500 });
      await until(bench, () => heard.readings.at(-1)?.state === 'armed');
      const answer = await armed;
      expect(answer).toMatchObject({ ok: true, word: expect.stringMatching(/./) });
      const wrong = heard.link.send({ command: 'go', key: answer.word === '1' ? '2' : '1' });
      await bench.pass(100);
      expect(await wrong).toMatchObject({ ok: false, failure: 'refused', word: 'key' });
      const stopped = heard.link.stopNow();
      await until(bench, () => heard.readings.at(-1)?.state === 'halted');
      await bench.pass(100);
      expect(await stopped).toEqual({ ok: true, word: '' });
      expect(heard.readings.at(-1)).toMatchObject({ state: 'halted', why: 'host' });
    });

    it('says so when the cable comes out, sends nothing meanwhile, and goes on in the same boot when it is back', async () => {
      await connect();
      await until(bench, () => heard.readings.length > 0);
      const last = () => heard.readings.at(-1)!;
      const before = last();
      await bench.unplug();
      await until(bench, () => heard.link.view().condition === 'lost');
      expect(heard.link.view().board).toBeNull();
      expect(heard.link.standFacts()).toBeNull();
      expect(await heard.link.send({ command: 'arm', mode: 'motor', pulses: 100 })).toMatchObject({
        failure: 'not-connected',
      });
      expect(await heard.link.stopNow()).toMatchObject({ failure: 'not-connected' });
      await bench.plug();
      await until(bench, () => heard.link.standFacts() !== null);
      await until(bench, () => last() !== before);
      expect(heard.boots).toEqual([]);
      expect(last().state).toBe('idle');
      expect(last().boardMicros).toBeGreaterThan(before.boardMicros);
      expect(heard.link.figures().connections).toBe(2);
    });

    it('notices a reset of the board and reads its settings anew', async () => {
      await connect();
      await until(bench, () => heard.readings.length > 40);
      const { boot } = heard.link.view().board!;
      bench.resetBoard();
      await until(bench, () => heard.boots.length > 0);
      await until(bench, () => heard.link.standFacts() !== null);
      expect(heard.boots.map((identity) => identity.boot)).toEqual([boot + 1]);
      expect(heard.link.standFacts()!.boot).toBe(boot + 1);
      await bench.pass(200);
      const place = heard.lines.findIndex((line) => line.kind === 'identity' && line.boot === boot + 1);
      const after = heard.lines.slice(place).filter((line) => line.kind === 'reading');
      expect(after.length).toBeGreaterThan(0);
      expect(after[0]!.boardMicros).toBeLessThan(2e6);
      expect(heard.link.figures()).toMatchObject({
        missed: 0,
        boots: 1,
        refused: { restarted: 0, malformed: 0 },
      });
      expect(steadyGrowth(heard.lines.map((line) => line.sequence))).toBe(true);
    });

    it('lets go of the port when stopped, so that the next link can have it', async () => {
      await connect();
      await heard.link.stop();
      expect(heard.link.view().condition).toBe('searching');
      const next = new Listener(bench, bench.path);
      next.link.start();
      await until(bench, () => next.link.view().condition === 'connected');
      await next.link.stop();
    });
  });
}
