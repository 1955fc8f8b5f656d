import type { BoardState, EndReason, Reading } from '../server/link/readings.ts';
import { PulseCounter } from './pulse-counter.ts';
import type { WheelEdge, World } from './world.ts';

/** The settings of the board that matter here; meanings and ranges as in hardware-notes/protocol.md. */
export interface IdealBoardSettings {
  pulsesPerTurn: number;
  debounceMicros: number;
  direction: 0 | 1 | 2;
  /** Pulses before the end at which the lamp begins to beat. */
  warnPulses: number;
}

/** The board's answer to a command: on `arm` the word is the start key, on a refusal the reason. */
export interface IdealAnswer {
  ok: boolean;
  word: string;
}

/** Bits of a reading's flags. */
const MOTOR_ON = 0x01;
const LAMP_ON = 0x02;
const STOP_OPEN = 0x04;
const CONVERTER_FAULT = 0x10;
const PULSES_MOST = 16_777_215;
const ARMED_LIMIT_SECONDS = 30;
const STALLED_SECONDS = 3;
const SILENT_CELL_SECONDS = 0.1;
const LAMP_STEADY_SECONDS = 3;
const LAMP_BEAT_SECONDS = 0.3;
const LAMP_BEAT_ON_SECONDS = 0.1;
const BEAT_SECONDS = 0.25;
const HEALTH_SECONDS = 2;
const FINE_STEP_SECONDS = 0.001;
/** So near to the preset count the board looks at the wheel in fine steps: more than any wheel gives between two readings. */
const NEAR_PULSES = 64;

/**
 * The stand's board without its wires: over a world it gives the readings that a faultless link would deliver from the real
 * one, at thousands of times the emulator's speed. It is never behind with its work and its host is never silent; the motor
 * drops within a millisecond of the pulse that completes the count. Everything else is as in hardware-notes/protocol.md.
 */
export class IdealBoard {
  private readonly world: World;
  private readonly counter: PulseCounter;
  private readonly settings: IdealBoardSettings;
  private readonly nextConversion: number[];
  private readonly values: (number | null)[];
  private seconds = 0;
  private readAt = 0;
  private state: BoardState = 'idle';
  private why: EndReason = '-';
  private byMotor = false;
  private preset = 0;
  private goneFrom = 0;
  private furthest = 0;
  private armedAt = 0;
  private movedAt = 0;
  private endedAt = Number.NEGATIVE_INFINITY;
  /** Armings since power-up. */
  armings = 0;
  private key = 0;
  /** Lines that the board has wanted to send; the readings' sequence numbers come from it. */
  private lines = 1;
  private nextBeat = BEAT_SECONDS;
  private nextHealth = HEALTH_SECONDS;

  constructor(world: World, settings: IdealBoardSettings) {
    this.world = world;
    this.settings = settings;
    this.counter = new PulseCounter(settings.debounceMicros / 1e6, settings.direction);
    this.nextConversion = Array.from({ length: world.cells }, (_, cell) => world.conversionPeriod(cell));
    this.values = this.nextConversion.map(() => null);
  }

  /** Arms for `pulses` from the coming start; the answer's word is the key for `go`. */
  arm(mode: 'motor' | 'hand', pulses: number): IdealAnswer {
    if (!Number.isInteger(pulses) || pulses < 1 || pulses > PULSES_MOST) return this.refuse('value');
    if (this.state === 'turning') return this.refuse('state');
    if (this.world.stopOpen()) return this.refuse('button');
    this.byMotor = mode === 'motor';
    this.preset = pulses;
    this.armedAt = this.seconds;
    this.armings++;
    // Boot 1, and the armings in it.
    this.key = 0x1_0000 + (this.armings & 0xffff);
    this.enter('armed');
    return this.accept(String(this.key));
  }

  go(key: string): IdealAnswer {
    if (this.state !== 'armed') return this.refuse('state');
    if (key !== String(this.key)) return this.refuse('key');
    if (this.world.stopOpen()) return this.refuse('button');
    this.goneFrom = this.counter.net;
    this.furthest = this.goneFrom;
    this.movedAt = this.seconds;
    this.enter('turning');
    return this.accept('');
  }

  stop(): IdealAnswer {
    if (this.state === 'armed' || this.state === 'turning') this.end('halted', 'host');
    return this.accept('');
  }

  /** Lets time pass until the board's next reading, and returns that. */
  next(): Reading {
    for (;;) {
      const cell = this.firstDue();
      const due = this.nextConversion[cell]!;
      if (due > this.readAt + SILENT_CELL_SECONDS) return this.read(this.readAt + SILENT_CELL_SECONDS);
      this.passUntil(due);
      this.values[cell] = this.world.convert(cell, due);
      this.nextConversion[cell] = due + this.world.conversionPeriod(cell);
      if (!this.values.includes(null)) return this.read(due);
    }
  }

  private firstDue(): number {
    let first = 0;
    for (let cell = 1; cell < this.nextConversion.length; cell++) {
      if (this.nextConversion[cell]! < this.nextConversion[first]!) first = cell;
    }
    return first;
  }

  private read(seconds: number): Reading {
    this.passUntil(seconds);
    this.countOtherLines();
    const { forward, backward } = this.counter;
    const counts = this.values.slice();
    const age = Math.floor((seconds - this.counter.pulseSeconds) * 1e6);
    this.readAt = seconds;
    this.values.fill(null);
    return {
      kind: 'reading',
      sequence: this.lines++,
      boardMicros: Math.floor(seconds * 1e6),
      forwardPulses: forward,
      backwardPulses: backward,
      pulseAgeMicros: age < 9_999_999 ? age : null,
      state: this.state,
      why: this.why,
      flags: this.flags(counts.includes(null)),
      counts,
    };
  }

  private flags(converterFault: boolean): number {
    return (
      (this.motorOn() ? MOTOR_ON : 0) |
      (this.lampOn() ? LAMP_ON : 0) |
      (this.world.stopOpen() ? STOP_OPEN : 0) |
      (converterFault ? CONVERTER_FAULT : 0)
    );
  }

  /** The answers to the host's beats and the health lines take their sequence numbers too. */
  private countOtherLines(): void {
    for (; this.nextBeat <= this.seconds; this.nextBeat += BEAT_SECONDS) this.lines++;
    for (; this.nextHealth <= this.seconds; this.nextHealth += HEALTH_SECONDS) this.lines++;
  }

  private passUntil(seconds: number): void {
    while (this.seconds < seconds) {
      const step = this.nearTheEnd() ? Math.min(seconds, this.seconds + FINE_STEP_SECONDS) : seconds;
      const edges = this.world.advance(step, { motor: this.motorOn(), lamp: this.lampOn() });
      for (const edge of edges) this.see(edge);
      this.seconds = step;
      this.watch();
    }
  }

  private nearTheEnd(): boolean {
    return this.motorOn() && this.counter.net - this.goneFrom >= this.preset - NEAR_PULSES;
  }

  private see(edge: WheelEdge): void {
    if (!this.counter.see(edge) || this.state !== 'turning') return;
    this.movedAt = edge.seconds;
    this.furthest = Math.max(this.furthest, this.counter.net);
    this.seconds = edge.seconds;
    if (this.counter.net - this.goneFrom >= this.preset) this.end('done', 'preset');
  }

  /** What ends a run besides the preset count; the first reason that holds. */
  private watch(): void {
    if (this.state !== 'armed' && this.state !== 'turning') return;
    if (this.world.stopOpen()) this.end('halted', 'button');
    else if (this.state === 'armed') {
      if (this.seconds - this.armedAt >= ARMED_LIMIT_SECONDS) this.end('halted', 'expired');
    } else if (this.byMotor) {
      const back = this.furthest - this.counter.net;
      if (back > 0 && 2 * back >= this.settings.pulsesPerTurn) this.end('halted', 'reverse');
      else if (this.seconds - this.movedAt >= STALLED_SECONDS) this.end('halted', 'stalled');
    }
  }

  private motorOn(): boolean {
    return this.state === 'turning' && this.byMotor;
  }

  private lampOn(): boolean {
    if (this.state === 'done') return this.seconds - this.endedAt < LAMP_STEADY_SECONDS;
    if (this.state !== 'turning') return false;
    const toGo = this.preset - (this.counter.net - this.goneFrom);
    return toGo <= this.settings.warnPulses && this.seconds % LAMP_BEAT_SECONDS < LAMP_BEAT_ON_SECONDS;
  }

  private end(state: 'done' | 'halted', why: EndReason): void {
    this.why = why;
    this.endedAt = this.seconds;
    this.enter(state);
  }

  private enter(state: BoardState): void {
    this.state = state;
    this.lines++;
  }

  private accept(word: string): IdealAnswer {
    this.lines++;
    return { ok: true, word };
  }

  private refuse(word: string): IdealAnswer {
    this.lines++;
    return { ok: false, word };
  }
}

/** A board over `world`, just powered up. */
export function idealBoard(world: World, settings: IdealBoardSettings): IdealBoard {
  return new IdealBoard(world, settings);
}
