import type { BoardState, EndReason, Reading } from '../../server/link/readings.ts';
import { figures, initialRun, type RunState, reduce } from '../../server/run/reduce.ts';
import type { RunEffect, RunFigures, RunInput, RunPlan, StandFacts } from '../../server/run/types.ts';

/** A board that does what the test says, reading by reading: for what an imagined drill does not do by itself. */

export const plan: RunPlan = {
  drill: {
    name: 'Yard drill',
    setting: '30',
    rowSpacingMetres: 0.2,
    rowSpacingDoubtMetres: 0.001,
    circumferenceMetres: 2.5,
    circumferenceDoubtMetres: 0.01,
    slip: 0,
    slipDoubt: 0.01,
  },
  rowsCaught: 1,
  seed: { name: 'Spring mix', seedMassGrams: 0.02, repeatability: 0.01 },
  target: { gramsPerSquareMetre: 6, tolerance: 0.05 },
  turns: 10,
  mode: 'motor',
  plannedSpeedMetresPerSecond: null,
};

/** Two cells under one bag, unlike in slope and turned the other way. */
export const stand: StandFacts = {
  name: 'shed',
  firmware: '1.0.0',
  boot: 3,
  pulsesPerTurn: 24,
  cells: [
    { gramsPerCount: 0.001, zeroCount: 5000 },
    { gramsPerCount: -0.002, zeroCount: -700 },
  ],
};

const readingMicros = 12_500;

export class ScriptedRun {
  state: RunState = initialRun();
  readonly inputs: RunInput[] = [];
  readonly effects: RunEffect[] = [];
  grams = 62;
  boardState: BoardState = 'idle';
  why: EndReason = '-';
  flags = 0;
  /** Grams that one turn drops into the bag. */
  gramsPerTurn = 3;
  /** What shakes the scale at each second of board time. */
  shake = (_seconds: number) => 0;
  /** A cell that gives nothing. */
  silentCell: number | null = null;
  private micros = 7_000_000;
  private turnsForward = 3.01;
  private turnsBackward = 0;
  private pulseMicros = Number.NEGATIVE_INFINITY;
  private sequence = 100;

  constructor(change: Partial<RunPlan> = {}) {
    this.give({ type: 'begin', plan: { ...plan, ...change }, stand });
  }

  get shown(): RunFigures {
    return figures(this.state);
  }

  give(...inputs: RunInput[]): void {
    for (const input of inputs) {
      this.inputs.push(input);
      const step = reduce(this.state, input);
      this.state = step.state;
      this.effects.push(...step.effects);
    }
  }

  /** Readings for so many seconds while the wheel makes `turns` (backwards when negative). */
  read(seconds: number, turns = 0): void {
    const steps = Math.round((seconds * 1e6) / readingMicros);
    for (let step = 0; step < steps; step += 1) this.step(turns / steps);
  }

  /** The same without readings: nobody hears the board. */
  pass(seconds: number, turns: number): void {
    this.micros += Math.round(seconds * 1e6);
    this.turnsForward += turns;
    this.grams += turns * this.gramsPerTurn;
    this.pulseMicros = this.micros;
  }

  private step(turns: number): void {
    this.micros += readingMicros;
    const before = this.pulses();
    if (turns >= 0) this.turnsForward += turns;
    else this.turnsBackward -= turns;
    this.grams += Math.max(0, turns) * this.gramsPerTurn;
    if (this.pulses() !== before) this.pulseMicros = this.micros;
    this.give({ type: 'reading', reading: this.reading() });
  }

  private pulses(): number {
    return Math.floor(this.turnsForward * 24) + Math.floor(this.turnsBackward * 24);
  }

  reading(): Reading {
    const age = this.micros - this.pulseMicros;
    const felt = this.grams + this.shake(this.micros / 1e6);
    this.sequence += 1;
    return {
      kind: 'reading',
      sequence: this.sequence,
      boardMicros: this.micros,
      forwardPulses: Math.floor(this.turnsForward * 24),
      backwardPulses: Math.floor(this.turnsBackward * 24),
      pulseAgeMicros: age < 9_999_999 ? age : null,
      state: this.boardState,
      why: this.why,
      flags: this.flags,
      counts: [5000 + 600 * felt, -700 - 200 * felt].map((count, cell) =>
        cell === this.silentCell ? null : Math.round(count),
      ),
    };
  }

  /** Armed, tared and waiting for Start. */
  ready(): this {
    this.boardState = 'armed';
    this.give({ type: 'armed', key: '77' });
    this.read(3);
    return this;
  }

  /** Start pressed and the board gone. */
  started(): this {
    this.ready();
    this.give({ type: 'command', command: 'start' });
    this.boardState = 'turning';
    this.flags = 1;
    this.read(0.1);
    return this;
  }

  /** The board has ended the turning. */
  ended(state: 'done' | 'halted', why: EndReason): this {
    this.boardState = state;
    this.why = why;
    this.flags = 0;
    return this;
  }

  sent(command: 'arm' | 'go' | 'stop'): number {
    return this.effects.filter((effect) => effect.type === 'send' && effect.command === command).length;
  }

  get closed(): boolean {
    return this.effects.some((effect) => effect.type === 'close');
  }
}
