/** Seeded lists of stimuli: a host that talks, a wheel that turns, bounces and turns back, cells that change. */
import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import { wireLine } from '../board/talk.ts';
import type { Stimulus } from './stimuli.ts';

export const cyclesPerSecond = 16_000_000;

const whole = (random: RandomStream, below: number): number => Math.floor(random.uniform() * below);

/** Cells from cycle 0 on, each with its own rate within 2 % of 80 a second, its value new ten times a second. */
function cells(random: RandomStream, count: number, seconds: number): Stimulus[] {
  const list: Stimulus[] = [];
  for (let cell = 0; cell < count; cell++) {
    const period = Math.round(200_000 * (0.98 + 0.04 * random.uniform()));
    for (let tenth = 0; tenth < 10 * seconds; tenth++) {
      const value = whole(random, 0x1000000) - 0x800000;
      const cycle = tenth === 0 ? 0 : tenth * 1_600_000 + whole(random, 100_000);
      list.push({ cycle, kind: 'cell', cell, period: tenth === 0 ? period : 0, value });
    }
  }
  return list;
}

/** One pulse of the wheel at `cycle`, with up to four bounces of the contact after each of its edges. */
function pulse(random: RandomStream, cycle: number, high: number, b: 0 | 1): Stimulus[] {
  const list: Stimulus[] = [];
  for (const [at, level] of [
    [cycle, 1],
    [cycle + high, 0],
  ] as const) {
    list.push({ cycle: at, kind: 'wheel', a: level, b });
    let later = at;
    for (let bounce = whole(random, 5); bounce > 0; bounce--) {
      later += 300 + whole(random, 3000);
      list.push({ cycle: later, kind: 'wheel', a: level === 1 ? 0 : 1, b });
      later += 300 + whole(random, 3000);
      list.push({ cycle: later, kind: 'wheel', a: level, b });
    }
  }
  return list;
}

/** The wheel from second 1 on, at 20 to 200 pulses a second, in stretches of either direction. */
function wheel(random: RandomStream, seconds: number): Stimulus[] {
  const list: Stimulus[] = [];
  let cycle = cyclesPerSecond;
  while (cycle < (seconds - 0.5) * cyclesPerSecond) {
    const period = Math.round(cyclesPerSecond / (20 + 180 * random.uniform()));
    const b = random.uniform() < 0.75 ? 0 : 1;
    for (let left = 5 + whole(random, 30); left > 0; left--) {
      list.push(...pulse(random, cycle, Math.round(period / 2), b));
      cycle += period;
    }
  }
  return list;
}

/** A host that beats four times a second and asks something in between; keys are known, for the board is on its first boot. */
function host(random: RandomStream, seconds: number): Stimulus[] {
  const list: Stimulus[] = [];
  const asked = [
    'id',
    'health',
    'help',
    'get',
    'set ppt 36',
    'nonsense',
    'set cells 9',
    'go 1',
    'arm motor 0',
  ];
  let tag = 0;
  let armings = 0;
  let questions = 0;
  const say = (at: number, command: string) =>
    list.push({
      cycle: Math.round(at * cyclesPerSecond),
      kind: 'say',
      bytes: wireLine(`${++tag} ${command}`),
    });
  for (let at = 0.3; at < seconds; at += 0.25) {
    say(at, 'beat');
    if (random.uniform() < 0.5) say(at + 0.06, asked[questions++ % asked.length]!);
    if (tag % 6 !== 0) continue;
    say(at + 0.12, `arm ${random.uniform() < 0.5 ? 'motor' : 'hand'} ${5 + whole(random, 40)}`);
    armings++;
    say(at + 0.15, `go ${(1 << 16) | armings}`);
    if (random.uniform() < 0.3)
      list.push({ cycle: Math.round((at + 0.2) * cyclesPerSecond), kind: 'say', bytes: Buffer.from('!') });
  }
  return list;
}

/** The stop contact opens for a fifth of a second now and then. */
function stopButton(random: RandomStream, seconds: number): Stimulus[] {
  const list: Stimulus[] = [];
  for (let at = 3 + 2 * random.uniform(); at < seconds - 1; at += 3 + 3 * random.uniform()) {
    list.push({ cycle: Math.round(at * cyclesPerSecond), kind: 'stop', open: 1 });
    list.push({ cycle: Math.round((at + 0.2) * cyclesPerSecond), kind: 'stop', open: 0 });
  }
  return list;
}

/** Everything at once for so many seconds of the board's time: the same seed gives the same list. */
export function everything(seed: number, cellCount: number, seconds: number): Stimulus[] {
  const random = randomStreams(seed);
  const list = [
    ...cells(random('cells'), cellCount, seconds),
    ...wheel(random('wheel'), seconds),
    ...host(random('host'), seconds),
    ...stopButton(random('stop'), seconds),
    { cycle: seconds * cyclesPerSecond, kind: 'run' } as const,
  ];
  return list.sort((one, other) => one.cycle - other.cycle);
}
