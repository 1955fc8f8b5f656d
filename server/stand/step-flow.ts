import type { Health, Reading } from '../link/readings.ts';
import { readingFlags } from '../link/readings.ts';
import {
  converterFaults,
  flowSeconds,
  loopWorstMicros,
  readingsPerSecond,
  stackLeastBytes,
} from './limits.ts';
import { type Figure, figure, grave, judged, type Remark, remark, type StepLogic } from './types.ts';

/** Lines and the board's own health, watched for a while: do readings come evenly, whole and without a gap? */

export interface FlowWork {
  watching: boolean;
  first: Reading | null;
  last: Reading | null;
  readings: number;
  /** Values that a converter did not give. */
  missing: number;
  dropped: number;
  firstHealth: Readonly<Record<string, number>> | null;
  lastHealth: Readonly<Record<string, number>> | null;
}

const idle: FlowWork = {
  watching: false,
  first: null,
  last: null,
  readings: 0,
  missing: 0,
  dropped: 0,
  firstHealth: null,
  lastHealth: null,
};

function withReading(work: FlowWork, reading: Reading): FlowWork {
  return {
    ...work,
    first: work.first ?? reading,
    last: reading,
    readings: work.readings + 1,
    missing: work.missing + reading.counts.filter((count) => count === null).length,
    dropped: work.dropped + (reading.flags & readingFlags.readingsDropped ? 1 : 0),
  };
}

const withHealth = (work: FlowWork, { figures }: Health): FlowWork => ({
  ...work,
  firstHealth: work.firstHealth ?? figures,
  lastHealth: figures,
});

const secondsOf = ({ first, last }: FlowWork): number =>
  first === null || last === null ? 0 : (last.boardMicros - first.boardMicros) / 1e6;

const rateOf = (work: FlowWork): number => {
  const seconds = secondsOf(work);
  return seconds > 0 ? (work.readings - 1) / seconds : 0;
};

/** By how much a counter of the board's health has grown while it was watched; counters wrap. */
function grown({ firstHealth, lastHealth }: FlowWork, name: string): number {
  return ((lastHealth?.[name] ?? 0) - (firstHealth?.[name] ?? 0) + 0x10000) % 0x10000;
}

function figuresOf(work: FlowWork): Figure[] {
  const health = work.lastHealth;
  const own =
    health === null
      ? []
      : [
          figure('late', grown(work, 'late')),
          figure('desync', grown(work, 'desync')),
          figure('rxlost', grown(work, 'rxlost')),
          figure('txlost', grown(work, 'txlost')),
          figure('loop-worst', health.worst ?? 0, 'µs'),
          figure('stack-free', health.stack ?? 0, 'bytes'),
        ];
  return [figure('readings-per-second', rateOf(work), '/s'), figure('missing-values', work.missing), ...own];
}

function remarksOf(work: FlowWork): Remark[] {
  const { firstHealth, lastHealth } = work;
  const rate = rateOf(work);
  const remarks: Remark[] = [];
  const say = (bad: boolean, each: Remark) => bad && remarks.push(each);
  const { least, most } = readingsPerSecond;
  say(rate < least || rate > most, grave('rate-off', { rate: Math.round(10 * rate) / 10, least, most }));
  say(work.missing > converterFaults, grave('values-missing', { missing: work.missing }));
  say(firstHealth === null || firstHealth === lastHealth, remark('health-not-heard'));
  say(grown(work, 'late') > converterFaults, grave('converter-late', { late: grown(work, 'late') }));
  say(grown(work, 'desync') > converterFaults, grave('converter-desync', { desync: grown(work, 'desync') }));
  say(grown(work, 'rxlost') > 0, grave('received-lost', { lost: grown(work, 'rxlost') }));
  say(grown(work, 'txlost') > 0 || work.dropped > 0, grave('readings-lost', { lost: grown(work, 'txlost') }));
  say((lastHealth?.worst ?? 0) > loopWorstMicros, grave('loop-slow', { worst: lastHealth?.worst ?? 0 }));
  say((lastHealth?.stack ?? 2048) < stackLeastBytes, grave('stack-short', { stack: lastHealth?.stack ?? 0 }));
  return remarks;
}

export const flowStep: StepLogic<FlowWork> = {
  begin: () => idle,
  take(work, input) {
    if (input.type === 'act' && input.act.do === 'go' && !work.watching)
      return { work: { ...idle, watching: true }, send: [{ command: 'health' }] };
    if (!work.watching) return { work };
    if (input.type === 'health') return { work: withHealth(work, input.health) };
    if (input.type !== 'reading') return { work };
    const next = withReading(work, input.reading);
    return secondsOf(next) < flowSeconds
      ? { work: next }
      : { work: next, result: judged(figuresOf(next), remarksOf(next)) };
  },
  ask: (work) => ({
    code: work.watching ? 'flow-watching' : 'flow',
    values: { seconds: flowSeconds },
    acts: work.watching ? [] : ['go'],
  }),
  live: (work) =>
    work.watching
      ? [figure('seconds', secondsOf(work), 's'), figure('readings-per-second', rateOf(work), '/s')]
      : [],
};
