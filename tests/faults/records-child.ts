import { appendFileSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { v7 } from 'uuid';
import { byHand } from '../../firmware-sim/drill/scenarios.ts';
import { systemClock } from '../../server/clock.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { InputReader } from '../../server/run/session-inputs.ts';
import { findUnended, type UnendedRun } from '../../server/run/session-recover.ts';
import { type RunSurroundings, SessionRun } from '../../server/run/session-run.ts';
import type { RunEffect } from '../../server/run/types.ts';
import { standFor } from '../run/imagined.ts';
import { LastingBoard } from './lasting-board.ts';
import { shortPlan } from './records-shop.ts';

/**
 * The process that is killed: run after run on an imagined drill turned by hand, put on record by the service's own code, as fast as `speed` says; a run that the
 * process before left without an end is taken up. What it has seen and what it was promised goes to a witness file first, written through to the
 * system, which outlives the process.
 */
const [folder, witnessPath, seed, speedText] = process.argv.slice(2) as [string, string, string, string];
const witness = openSync(witnessPath, 'a');
const tell = (...words: (string | number)[]): void => void writeSync(witness, `${words.join(' ')}\n`);

const speed = Number(speedText);
const boardFile = join(folder, 'board.txt');
const turnsEach = 2;
const mostAtOnce = 8;

/** What a run needs around it; the board's answers come back as the link would bring them. */
function around(store: Store, board: LastingBoard, run: () => SessionRun): RunSurroundings {
  const send = (effect: Extract<RunEffect, { type: 'send' }>): void => {
    if (effect.command === 'arm') {
      const key = board.arm(effect.mode, effect.pulses);
      queueMicrotask(() => run().enter({ type: 'armed', key }));
    } else if (effect.command === 'go') board.go(effect.key);
    else board.stop();
  };
  return { clock: systemClock, records: store, send, changed: () => {}, closed: () => {} };
}

async function makeRun(store: Store, index: number): Promise<void> {
  const id = v7();
  const board = LastingBoard.begin(boardFile, id, `${seed} ${index}`, speed);
  const reader = new InputReader();
  reader.line(board.identity());
  const plan = shortPlan(turnsEach, byHand);
  const stand = standFor(byHand);
  const run: SessionRun = new SessionRun(
    { id, startedAt: new Date().toISOString(), demo: true, plan, stand },
    around(store, board, () => run),
  );
  tell('begin', id, performance.now());
  run.enter({ type: 'begin', plan, stand, reader: reader.state() });
  await live(run, reader, board);
}

/** Goes on with a run of the process before, as the session does. */
async function takeUp(store: Store, unended: UnendedRun): Promise<void> {
  const { record, replay, entries, lastMillis } = unended;
  const board = LastingBoard.findAgain(boardFile, record.id, speed);
  // The board's time goes by faster than the computer's, and lags behind it where the machine is busy.
  const awaySeconds = board.seconds - replay.state.raw!.boardMicros / 1e6;
  const { reader, ...rest } = replay.handOver();
  const kept = { entries, hostMillis: lastMillis + unended.awaySeconds * 1000 };
  const run: SessionRun = new SessionRun(
    record,
    around(store, board, () => run),
    { ...rest, kept },
  );
  tell('resume', record.id, performance.now());
  reader.disconnected();
  run.enter({ type: 'resumed', awaySeconds, clockSeconds: systemClock.now() / 1000 });
  hear(run, reader, board.identity());
  await live(run, reader, board);
}

function hear(run: SessionRun, reader: InputReader, line: string): void {
  tell('line', performance.now());
  run.noteLine(line);
  for (const input of reader.line(line)) run.apply(input);
}

async function live(run: SessionRun, reader: InputReader, board: LastingBoard): Promise<void> {
  let started = false;
  while (run.underWay) {
    // No more at once than a port hands over, whatever there is to catch up with.
    for (let read = 0; read < mostAtOnce && board.due && run.underWay; read++)
      hear(run, reader, board.line());
    if (!started && run.state.phase === 'ready') {
      started = true;
      run.enter({ type: 'command', command: 'start' });
    }
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  await run.closed();
  const { turns, gramsCaught } = board.truth;
  tell('truth', run.id, turns(), gramsCaught());
  if (run.trouble === null) tell('final', run.id, JSON.stringify(run.view().figures));
  else appendFileSync(witnessPath, `trouble ${run.trouble}\n`);
}

const store = await openRecords(folder);
const append = store.append.bind(store);
store.append = async (...batch) => {
  tell('commit', performance.now());
  await append(...batch);
  tell('committed');
};
for (const notice of store.notices) tell('notice', notice);
const { sentences, unended } = await findUnended(store);
for (const sentence of sentences) tell('recovered', sentence);
tell('ready', performance.now());
if (unended !== null) await takeUp(store, unended);
for (let index = 0; ; index++) {
  await makeRun(store, index);
  const note = await store.lots.create({
    name: `Bag ${index}`,
    species: 'oats',
    thousandSeedWeightGrams: 35,
    purity: 0.99,
    germination: 0.95,
    hard: 0,
    dormant: 0,
    bulkDensityKilogramsPerCubicMetre: null,
    note: '',
  });
  tell('item', note.id);
}
