import { type Figure, judged } from '../figures.ts';
import { programOf } from './processes.ts';
import { buildPrograms, play, type Seen } from './scene.ts';
import { startService } from './stands.ts';
import { Watchers } from './watchers.ts';

const wait = (millis: number) => new Promise((resolve) => setTimeout(resolve, millis));

/** Readings to watchers with one stand and one watcher, and with four stands and two hundred. */
export async function load(seconds = 15): Promise<Figure[]> {
  const programs = await buildPrograms();
  const idle = await play(programs, { stands: 1, watchersOfEach: 1, seconds });
  const full = await play(programs, { stands: 4, watchersOfEach: 50, seconds });
  programs.remove();
  const how = ({ count, messagesASecond, processors, secondsLost }: Seen) =>
    `last byte of a reading, written to the pseudo-terminal by the emulated board's process, to a page; ${count} of them, ${messagesASecond.toFixed(0)} messages a second; services took ${processors.services.toFixed(2)} processors, boards ${processors.boards.toFixed(2)}, pages ${processors.watchers.toFixed(2)}; boards gave up ${secondsLost.toFixed(2)} s`;
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
      how: 'the largest of the four services',
    }),
  ];
}

/** Resident memory over an hour of the stand's time, compressed: run after run with ten pages looking on. */
export async function memoryOverAnHour(): Promise<Figure[]> {
  const program = await programOf(new URL('./service.ts', import.meta.url));
  const samples: [standSeconds: number, bytes: number][] = [];
  const stand = await startService(program, {
    speed: 16,
    turns: 25,
    heard: ({ standSeconds, bytesResident }) => samples.push([standSeconds, bytesResident]),
  });
  const watchers = await Watchers.open(stand.last().address, 10);
  const from = stand.last().standSeconds;
  while (stand.last().standSeconds - from < 3600) await wait(1000);
  const { runsEnded } = stand.last();
  await stand.stop();
  watchers.close();
  program.remove();
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
