import type { WheelEdge } from '../world.ts';
import type { RandomStream, Streams } from './random.ts';
import type { WheelSensor } from './scenario.ts';
import type { Stretch } from './turning.ts';

interface LineChange {
  seconds: number;
  line: 'a' | 'b';
  level: 0 | 1;
}

/** What the lines do within one pulse, forwards: A rises, B a quarter later, A falls, B falls. Positions in pulses. */
interface Mark {
  at: number;
  line: 'a' | 'b';
  level: 0 | 1;
}

const MOST_BOUNCES = 3;

/** The wheel sensor: turns positions of the wheel into changes of its two lines, chatter included. */
export class PulseSensor {
  /** Chance that a pulse of line A is missed or followed by a false one, which comes within `doubledSeconds`. */
  missedShare = 0;
  doubledShare = 0;
  doubledSeconds = 0;
  /** Numbers of magnets that give no pulse, and of cracked ones that give a second pulse so far (in pulses) behind their own. */
  readonly missingMagnets = new Set<number>();
  readonly doubledMagnets = new Map<number, number>();
  private readonly sensor: WheelSensor;
  private readonly random: RandomStream;
  private readonly slips: RandomStream;
  private missing = false;
  /** Number of the magnet that is passing. */
  private magnet = 0;
  private readonly marks: Mark[];
  /** How far each magnet sits from where it should, in pulses, and how late it is seen. */
  private readonly placement: number[];
  private readonly lateness: number[];
  /** Marks passed since position 0: the next one forwards is number `passed`, the next backwards `passed - 1`. */
  private passed = 0;
  /** Positions in turns of the mark that comes next and of the one passed last. */
  private nextTurns = 0;
  private lastTurns = 0;
  private waiting: LineChange[] = [];
  private a: 0 | 1 = 0;
  private b: 0 | 1 = 0;

  constructor(sensor: WheelSensor, streams: Streams, startTurns: number) {
    this.sensor = sensor;
    this.random = streams('bounce');
    this.slips = streams('false pulses');
    const { duty, directionSensor } = sensor;
    this.marks = [
      { at: 0, line: 'a', level: 1 },
      ...(directionSensor ? [{ at: 0.25, line: 'b', level: 1 } as const] : []),
      { at: duty, line: 'a', level: 0 },
      ...(directionSensor ? [{ at: 0.75, line: 'b', level: 0 } as const] : []),
    ];
    const { pulsesPerTurn, placementSpread = 0 } = sensor;
    const placed = streams('magnets');
    this.placement = Array.from({ length: pulsesPerTurn }, () => placementSpread * placed.normal());
    this.lateness = this.placement.map(() => 0);
    while (this.position(this.passed) <= startTurns) this.settleOn(this.markOf(this.passed++));
    this.standAfter(this.passed);
    if (this.a || this.b) this.waiting.push({ seconds: 0, line: 'a', level: this.a });
  }

  /** Has `magnet` be seen late by so much of a pulse (0: in time), less than a quarter. */
  delay(magnet: number, pulses: number): void {
    this.lateness[magnet] = pulses;
    this.standAfter(this.passed);
  }

  /** Notes every change of the lines while the wheel moves along `stretch` until it stands at `turnsAfter`. */
  follow(stretch: Stretch, turnsAfter: number): void {
    while (turnsAfter >= this.nextTurns) {
      const mark = this.markOf(this.passed);
      this.magnet = this.magnetOf(this.passed);
      const seconds = timeAt(stretch, this.nextTurns);
      this.change(seconds, mark.line, mark.level);
      if (mark.line === 'a' && mark.level === 1 && !this.missing) this.crack(seconds, stretch);
      this.standAfter(this.passed + 1);
    }
    while (turnsAfter < this.lastTurns) {
      const mark = this.markOf(this.passed - 1);
      this.magnet = this.magnetOf(this.passed - 1);
      this.change(timeAt(stretch, this.lastTurns), mark.line, mark.level === 1 ? 0 : 1);
      this.standAfter(this.passed - 1);
    }
  }

  /** Takes out the changes up to `seconds`, in order. */
  take(seconds: number): WheelEdge[] {
    const edges: WheelEdge[] = [];
    if (this.waiting.length === 0) return edges;
    let count = 0;
    while (count < this.waiting.length && this.waiting[count]!.seconds <= seconds) {
      const change = this.waiting[count++]!;
      this.settleOn(change);
      edges.push({ seconds: change.seconds, a: this.a, b: this.b });
    }
    this.waiting.splice(0, count);
    return edges;
  }

  private change(seconds: number, line: 'a' | 'b', level: 0 | 1): void {
    if (line === 'b') {
      this.note({ seconds, line, level });
      return;
    }
    // Chatter of the change before is over once the next change comes.
    while (this.waiting.length > 0 && this.waiting[this.waiting.length - 1]!.seconds > seconds)
      this.waiting.pop();
    if (level === 1) this.missing = this.missingMagnets.has(this.magnet) || this.happens(this.missedShare);
    if (this.missing) return;
    this.note({ seconds, line, level });
    this.bounce(seconds, level);
    if (level === 1 && this.happens(this.doubledShare)) this.double(seconds, this.doubledSeconds);
  }

  private happens(share: number): boolean {
    return share > 0 && this.slips.uniform() < share;
  }

  /** The line drops out and comes back in the middle of a pulse, long enough to be taken for two. */
  private double(seconds: number, half: number): void {
    this.note({ seconds: seconds + half, line: 'a', level: 0 });
    this.note({ seconds: seconds + 2 * half, line: 'a', level: 1 });
  }

  /** The second pulse of a cracked magnet stands still on the wheel: it follows sooner the faster that turns. */
  private crack(seconds: number, { speed, acceleration, seconds: from }: Stretch): void {
    const behind = this.doubledMagnets.get(this.magnet);
    const now = Math.abs(speed + acceleration * (seconds - from));
    if (behind !== undefined && now > 0) this.double(seconds, behind / 2 / this.sensor.pulsesPerTurn / now);
  }

  /** Up to three times the line falls back and returns, within a time drawn for this change. */
  private bounce(seconds: number, level: 0 | 1): void {
    const { bounceSeconds } = this.sensor;
    if (bounceSeconds <= 0) return;
    const within = bounceSeconds * this.random.uniform();
    const changes = 2 * Math.floor((MOST_BOUNCES + 1) * this.random.uniform());
    const times = Array.from({ length: changes }, () => seconds + within * this.random.uniform());
    times.sort((x, y) => x - y);
    times.forEach((time, i) => {
      this.note({ seconds: time, line: 'a', level: i % 2 === 0 ? (level === 1 ? 0 : 1) : level });
    });
  }

  private note(change: LineChange): void {
    let at = this.waiting.length;
    while (at > 0 && this.waiting[at - 1]!.seconds > change.seconds) at--;
    this.waiting.splice(at, 0, change);
  }

  private settleOn(change: { line: 'a' | 'b'; level: 0 | 1 }): void {
    if (change.line === 'a') this.a = change.level;
    else this.b = change.level;
  }

  private standAfter(passed: number): void {
    this.passed = passed;
    this.nextTurns = this.position(passed);
    this.lastTurns = this.position(passed - 1);
  }

  private markOf(number: number): Mark {
    const count = this.marks.length;
    return this.marks[((number % count) + count) % count]!;
  }

  /** Number of the magnet that mark `number` belongs to. */
  private magnetOf(number: number): number {
    const { pulsesPerTurn } = this.sensor;
    const pulse = Math.floor(number / this.marks.length);
    return ((pulse % pulsesPerTurn) + pulsesPerTurn) % pulsesPerTurn;
  }

  /** Where mark `number` stands, in turns. */
  private position(number: number): number {
    const pulse = Math.floor(number / this.marks.length);
    const { at, line } = this.markOf(number);
    const magnet = this.magnetOf(number);
    const late = line === 'a' ? this.lateness[magnet]! : 0;
    return (pulse + at + this.placement[magnet]! + late) / this.sensor.pulsesPerTurn;
  }
}

/** When the wheel comes to `turns` on a stretch of even acceleration (its speed keeps its sign there). */
function timeAt(stretch: Stretch, turns: number): number {
  const way = turns - stretch.turns;
  if (way === 0) return stretch.seconds;
  const { speed, acceleration } = stretch;
  const root = Math.sqrt(Math.max(0, speed * speed + 2 * acceleration * way));
  return stretch.seconds + (2 * way) / (speed + Math.sign(way) * root);
}
