import { type Figure, judged } from '../figures.ts';
import type { ServiceReport } from './service.ts';
import { programOf, type StandProcess, startStand } from './stands.ts';
import { type Waits, Watchers, waitsOf } from './watchers.ts';

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));

/** Stands and watchers, and how long they are looked at once all are there. */
interface Scene {
  stands: number;
  watchersOfEach: number;
  seconds: number;
}

interface Seen extends Waits {
  messagesASecond: number;
  /** Share of one processor that the services took, emulated stands and all. */
  processors: number;
  bytesResident: number;
}

/** Plays one scene in real time, each stand a process with service, link, records and an emulated stand of six cells; the watchers live in this one. */
async function play(program: string, { stands, watchersOfEach, seconds }: Scene): Promise<Seen> {
  const groups: Watchers[] = [];
  const heard = (stand: number) => (report: ServiceReport) => groups[stand]?.heard(report);
  const running: StandProcess[] = [];
  for (let stand = 0; stand < stands; stand += 1) {
    running.push(await startStand(program, { turns: 200, heard: heard(stand) }));
  }
  for (const { address } of running) groups.push(await Watchers.open(address, watchersOfEach));
  await wait(5000); // each weighs its bags and begins to turn
  for (const group of groups) group.count();
  const before = running.map((stand) => stand.last().processorMillis);
  const messagesBefore = groups.reduce((sum, { messages }) => sum + messages, 0);
  await wait(seconds * 1000);
  const messages = groups.reduce((sum, group) => sum + group.messages, 0) - messagesBefore;
  const processorMillis = running.reduce(
    (sum, stand, index) => sum + stand.last().processorMillis - before[index]!,
    0,
  );
  const bytesResident = Math.max(...running.map((stand) => stand.last().bytesResident));
  for (const stand of running) await stand.stop();
  const waits = groups.flatMap((group) => group.settle());
  for (const group of groups) group.close();
  return {
    ...waitsOf(waits),
    messagesASecond: messages / seconds,
    processors: processorMillis / 1000 / seconds,
    bytesResident,
  };
}

/** Readings to watchers with one stand and one watcher, and with four stands and two hundred. */
export async function load(seconds = 15): Promise<Figure[]> {
  const { path, remove } = await programOf(new URL('./service.ts', import.meta.url));
  const idle = await play(path, { stands: 1, watchersOfEach: 1, seconds });
  const full = await play(path, { stands: 4, watchersOfEach: 50, seconds });
  remove();
  const how = ({ count, messagesASecond, processors }: Seen) =>
    `last byte of a reading to a page, ${count} of them, ${messagesASecond.toFixed(0)} messages a second, services and their emulated stands took ${processors.toFixed(2)} processors`;
  const four = 'four stands of six cells, fifty pages on each, all on this machine';
  return [
    judged({
      id: 'reading-to-watcher-idle-p99',
      value: idle.p99Millis,
      unit: 'ms',
      how: `one stand of six cells, one page; ${how(idle)}`,
    }),
    judged({
      id: 'reading-to-watcher-full',
      value: full.medianMillis,
      unit: 'ms',
      how: `median; ${four}; ${how(full)}`,
    }),
    judged({
      id: 'reading-to-watcher-full-p99',
      value: full.p99Millis,
      unit: 'ms',
      aim: '<= 100',
      how: `${four}; ${how(full)}`,
    }),
    judged({
      id: 'resident-at-full-load',
      value: full.bytesResident / 1e6,
      unit: 'MB',
      how: 'the largest of the four services, emulated stand and all',
    }),
  ];
}

/** Resident memory over an hour of the stand's time, compressed: run after run with ten pages looking on. */
export async function memoryOverAnHour(): Promise<Figure[]> {
  const { path, remove } = await programOf(new URL('./service.ts', import.meta.url));
  const samples: [standSeconds: number, bytes: number][] = [];
  const stand = await startStand(path, {
    speed: 16,
    turns: 25,
    heard: ({ standSeconds, bytesResident }) => samples.push([standSeconds, bytesResident]),
  });
  const watchers = await Watchers.open(stand.address, 10);
  const from = stand.last().standSeconds;
  while (stand.last().standSeconds - from < 3600) await wait(1000);
  const { runsEnded } = stand.last();
  await stand.stop();
  watchers.close();
  remove();
  // The collector makes a saw of it: medians of two quarters of an hour are held against each other.
  const medianOf = (low: number, high: number) => {
    const bytes = samples.filter(([at]) => at - from >= low && at - from < high).map(([, value]) => value);
    return bytes.toSorted((a, b) => a - b)[Math.floor(bytes.length / 2)]!;
  };
  return [
    judged({
      id: 'resident-over-an-hour',
      value: medianOf(2700, 3600) / 1e6,
      unit: 'MB',
      reference: medianOf(900, 1800) / 1e6,
      aim: '<= 1.05',
      how: `median resident memory in the last quarter of an hour of the stand's time, up to 16 times real time, ${runsEnded} runs of six cells, ten pages; reference: the second quarter`,
    }),
  ];
}
