import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SendResult } from '../../server/link/commands.ts';
import { PaperBench } from './bench.ts';
import { FakeBoard } from './fake-board.ts';
import type { FakeCable } from './fake-cable.ts';

/** What the user, the cable and the board may do, in any order, against a tiny model of what must then be true. */

interface Model {
  chosen: '/dev/ttyA' | '/dev/ttyB';
  running: boolean;
}

interface Real {
  bench: PaperBench;
  boards: Map<string, FakeBoard>;
  results: Promise<SendResult>[];
  /** Commands that may start something, and the number of the port's openings when they were given. */
  given: { words: string; openings: number }[];
}

const cableOf = (real: Real, path: string): FakeCable => real.bench.cables.get(path)!;

type Move = fc.AsyncCommand<Model, Real>;

function move(name: string, run: (model: Model, real: Real) => Promise<void> | void): Move {
  return {
    check: () => true,
    run: async (model, real) => {
      await run(model, real);
      checkPromises(model, real);
    },
    toString: () => name,
  };
}

/** True after every move. */
function checkPromises(model: Model, { bench, boards }: Real): void {
  const { view } = bench;
  for (const cable of bench.cables.values()) expect(cable.openMost).toBeLessThanOrEqual(1);
  if (view.condition === 'connected') {
    expect(view.path).toBe(model.chosen);
    expect(view.board).toMatchObject({ name: boards.get(model.chosen)!.name });
  } else if (view.condition !== 'silent') expect(bench.link.standFacts()).toBeNull();
  if (!model.running) expect(['searching', 'lost', 'opening']).toContain(view.condition);
}

const paths = fc.constantFrom('/dev/ttyA' as const, '/dev/ttyB' as const);

const moves = [
  fc
    .integer({ min: 1, max: 3000 })
    .map((milliseconds) => move(`pass ${milliseconds}`, (_, real) => real.bench.pass(milliseconds))),
  // A few turns of promises, so that the next move falls between two steps of an opening or a closing.
  fc.integer({ min: 1, max: 30 }).map((turns) =>
    move(`${turns} turns`, async () => {
      for (let i = 0; i < turns; i++) await Promise.resolve();
    }),
  ),
  paths.map((path) =>
    move(`choose ${path}`, (model, real) => {
      model.chosen = path;
      real.bench.link.choose(path);
    }),
  ),
  paths.map((path) => move(`unplug ${path}`, (_, real) => cableOf(real, path).unplug())),
  paths.map((path) =>
    move(`plug ${path}`, (_, real) => {
      cableOf(real, path).plugged = true;
    }),
  ),
  paths.map((path) => move(`reset ${path}`, (_, real) => real.boards.get(path)!.reset())),
  fc.tuple(paths, fc.boolean()).map(([path, mute]) =>
    move(`${mute ? 'mute' : 'unmute'} ${path}`, (_, real) => {
      real.boards.get(path)!.mute = mute;
    }),
  ),
  fc.tuple(paths, fc.constantFrom(null, 'Error, cannot write')).map(([path, fault]) =>
    move(`write fault ${fault} on ${path}`, (_, real) => {
      cableOf(real, path).writeFault = fault;
    }),
  ),
  fc.tuple(paths, fc.boolean()).map(([path, deaf]) =>
    move(`${deaf ? 'deaf' : 'not deaf'} ${path}`, (_, real) => {
      real.boards.get(path)!.deafTo = new Set(deaf ? ['arm', 'go', 'stop', 'get'] : []);
    }),
  ),
  fc.integer({ min: 1, max: 999 }).map((pulses) =>
    move(`arm ${pulses}`, (model, real) => {
      const openings = cableOf(real, model.chosen).opened;
      real.given.push({ words: `arm motor ${pulses}`, openings });
      real.results.push(real.bench.link.send({ command: 'arm', mode: 'motor', pulses }));
    }),
  ),
  fc.constant(move('stop the run', (_, real) => void real.results.push(real.bench.link.stopNow()))),
  fc.constant(
    move('stop the link', (model, real) => {
      model.running = false;
      real.results.push(real.bench.link.stop().then(() => ({ ok: true, word: '' })));
    }),
  ),
  fc.constant(
    move('start the link', (model, real) => {
      model.running = true;
      real.bench.link.start();
    }),
  ),
  fc
    .uint8Array({ maxLength: 60 })
    .map((bytes) =>
      move(`noise of ${bytes.length}`, (model, real) => cableOf(real, model.chosen).deliver(bytes)),
    ),
];

async function setUp(): Promise<{ model: Model; real: Real }> {
  const bench = new PaperBench();
  const second = new FakeBoard({ clock: bench.clock, name: 'second', cells: 1 });
  bench.lay('/dev/ttyB', second);
  const boards = new Map([
    ['/dev/ttyA', bench.board],
    ['/dev/ttyB', second],
  ]);
  bench.link.start();
  return { model: { chosen: '/dev/ttyA', running: true }, real: { bench, boards, results: [], given: [] } };
}

describe('plugging, choosing, sending, in any order', () => {
  it('keeps the promises, and all is well again once everything is put right', async () => {
    await fc.assert(
      fc.asyncProperty(fc.commands(moves, { maxCommands: 40 }), async (commands) => {
        const { model, real } = await setUp();
        await fc.asyncModelRun(async () => ({ model, real }), commands);
        await putRight(model, real);
        await real.bench.until(() => real.bench.link.standFacts() !== null, 8000);
        checkPromises(model, real);
        await real.bench.pass(2000);
        // Every command given has come to an outcome.
        await Promise.all(real.results);
        for (const board of real.boards.values()) board.off();
        expect(await real.bench.end()).toBe(0);
      }),
      { numRuns: 150 },
    );
  });

  it('a command that was given on one opening of a port is never heard on a later one', async () => {
    await fc.assert(
      fc.asyncProperty(fc.commands(moves, { maxCommands: 40 }), async (commands) => {
        const { model, real } = await setUp();
        const heard: { words: string; openings: number }[] = [];
        for (const [path, board] of real.boards) {
          const cable = cableOf(real, path);
          board.onTaken = (words) => heard.push({ words, openings: cable.opened });
        }
        await fc.asyncModelRun(async () => ({ model, real }), commands);
        await putRight(model, real);
        await real.bench.pass(3000);
        for (const arm of heard.filter(({ words }) => words.startsWith('arm')))
          expect(real.given).toContainEqual(arm);
        for (const board of real.boards.values()) board.off();
        await real.bench.end();
      }),
      { numRuns: 100 },
    );
  });
});

async function putRight(model: Model, real: Real): Promise<void> {
  for (const cable of real.bench.cables.values()) {
    cable.plugged = true;
    cable.writeFault = null;
  }
  for (const board of real.boards.values()) {
    board.mute = false;
    board.deafTo.clear();
  }
  real.bench.link.start();
  model.running = true;
  await real.bench.pass(100);
}
