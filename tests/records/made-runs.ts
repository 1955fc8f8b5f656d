import { v7 } from 'uuid';
import { oneRow } from '../../firmware-sim/drill/scenarios.ts';
import type { JournalEntry, NewRun, RunEnd, Store } from '../../server/records/types.ts';
import { InputReader } from '../../server/run/session-inputs.ts';
import { SessionRun } from '../../server/run/session-run.ts';
import type { RunEffect } from '../../server/run/types.ts';
import { SpeakingBoard, shortPlan } from '../faults/records-shop.ts';
import { standFor } from '../run/imagined.ts';
import { MemoryRecords } from '../session/memory-records.ts';

export interface MadeRun {
  run: NewRun;
  journal: JournalEntry[];
  end: RunEnd;
}

/** A whole run on the imagined drill, made by the service's own code as fast as it goes. */
export async function madeRun(seed: number | string, turns = 2, scenario = oneRow): Promise<MadeRun> {
  const speaking = new SpeakingBoard(seed, scenario);
  const reader = new InputReader();
  reader.line(speaking.identity());
  const records = new MemoryRecords();
  const run: NewRun = {
    id: v7(),
    startedAt: '2026-03-02T08:00:00.000Z',
    demo: false,
    plan: shortPlan(turns, scenario),
    stand: standFor(scenario),
  };
  let key = '';
  const send = (effect: Extract<RunEffect, { type: 'send' }>): void => {
    const { board } = speaking;
    if (effect.command === 'arm') key = board.arm(effect.mode, effect.pulses).word;
    else if (effect.command === 'go') board.go(effect.key);
    else board.stop();
  };
  const clock = { now: () => speaking.seconds * 1000, after: () => () => {} };
  const session = new SessionRun(run, { clock, records, send, changed: () => {}, closed: () => {} });
  session.enter({ type: 'begin', plan: run.plan, stand: run.stand, reader: reader.state() });
  let started = false;
  while (session.underWay) {
    const line = speaking.line();
    session.noteLine(line);
    for (const input of reader.line(line)) session.apply(input);
    if (key !== '') session.enter({ type: 'armed', key });
    key = '';
    if (!started && session.state.phase === 'ready') {
      started = true;
      session.enter({ type: 'command', command: 'start' });
    }
  }
  await session.closed();
  const { endedAt, outcome, figures, trace, formulaVersion } = records.runs.get(run.id)!;
  const journal = records.journals.get(run.id)!;
  return {
    run,
    journal,
    end: {
      endedAt: endedAt!,
      outcome: outcome!,
      figures: figures!,
      trace: trace!,
      formulaVersion: formulaVersion!,
      entries: journal.length,
    },
  };
}

/** Puts it on record the way a session does, in batches. */
export async function keep(
  store: Store,
  { run, journal, end }: MadeRun,
  change: Partial<NewRun> = {},
): Promise<string> {
  await store.begin({ ...run, ...change });
  const { id } = { ...run, ...change };
  for (let at = 0; at < journal.length; at += 13) await store.append(id, journal.slice(at, at + 13));
  await store.close(id, end);
  return id;
}
