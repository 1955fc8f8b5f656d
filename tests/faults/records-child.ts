import { appendFileSync, openSync, writeSync } from 'node:fs';
import { v7 } from 'uuid';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { systemClock } from '../../server/clock.ts';
import { openRecords } from '../../server/records/open.ts';
import type { Store } from '../../server/records/types.ts';
import { InputReader } from '../../server/run/session-inputs.ts';
import { recoverRuns } from '../../server/run/session-recover.ts';
import { SessionRun } from '../../server/run/session-run.ts';
import type { RunEffect } from '../../server/run/types.ts';
import { standFor } from '../run/imagined.ts';
import { SpeakingBoard, shortPlan } from './records-shop.ts';

/**
 * The process that is killed: run after run on an imagined drill, put on record by the service's own code, as fast as `speed` says. What it has seen
 * and what it was promised goes to a witness file first, written through to the system, which outlives the process.
 */
const [folder, witnessPath, seed, speed] = process.argv.slice(2) as [string, string, string, string];
const witness = openSync(witnessPath, 'a');
const tell = (...words: (string | number)[]): void => void writeSync(witness, `${words.join(' ')}\n`);

const turnsEach = 2;
const mostAtOnce = 8;

async function makeRun(store: Store, index: number): Promise<void> {
  const speaking = new SpeakingBoard(`${seed} ${index}`);
  const reader = new InputReader();
  reader.line(speaking.identity());
  const id = v7();
  const plan = shortPlan(turnsEach);
  const stand = standFor(oneRow);
  const send = (effect: Extract<RunEffect, { type: 'send' }>): void => {
    const { board } = speaking;
    if (effect.command === 'arm') {
      const answer = board.arm(effect.mode, effect.pulses);
      queueMicrotask(() => run.enter({ type: 'armed', key: answer.word }));
    } else if (effect.command === 'go') board.go(effect.key);
    else board.stop();
  };
  const run: SessionRun = new SessionRun(
    { id, startedAt: new Date().toISOString(), demo: true, plan, stand },
    { clock: systemClock, records: store, send, changed: () => {}, closed: () => {} },
  );
  tell('begin', id, performance.now());
  run.enter({ type: 'begin', plan, stand, reader: reader.state() });
  let started = false;
  const beganAt = performance.now();
  while (run.underWay) {
    const due = ((performance.now() - beganAt) / 1000) * Number(speed);
    // No more at once than a port hands over, whatever there is to catch up with.
    for (let read = 0; read < mostAtOnce && speaking.seconds < due && run.underWay; read++) {
      const line = speaking.line();
      tell('line', performance.now());
      run.noteLine(line);
      for (const input of reader.line(line)) run.apply(input);
    }
    if (!started && run.state.phase === 'ready') {
      started = true;
      run.enter({ type: 'command', command: 'start' });
    }
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  await run.closed();
  if (run.trouble === null) tell('final', id, JSON.stringify(run.view().figures));
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
for (const sentence of await recoverRuns(store)) tell('recovered', sentence);
tell('ready', performance.now());
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
