import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import type { Scenario } from '../../firmware-sim/drill/scenario.ts';
import { type IdealBoard, idealBoard } from '../../firmware-sim/ideal-board.ts';
import { figures, initialRun, type RunState, reduce } from '../../server/run/reduce.ts';
import type { RunEffect, RunFigures, RunInput, RunPlan, StandFacts } from '../../server/run/types.ts';

/** Runs on the imagined drill over an ideal board, faster than any clock: reducer and board joined without link or server. */

export function planFor({ stated, cells, rowsPerCell, drive }: Scenario): RunPlan {
  return {
    drill: {
      name: stated.drillName,
      setting: '32',
      rowSpacingMetres: stated.rowSpacingMetres,
      rowSpacingDoubtMetres: stated.rowSpacingDoubtMetres,
      circumferenceMetres: stated.circumferenceMetres,
      circumferenceDoubtMetres: stated.circumferenceDoubtMetres,
      slip: stated.slip,
      slipDoubt: stated.slipDoubt,
    },
    rowsCaught: cells * rowsPerCell,
    seed: {
      name: stated.seedName,
      seedMassGrams: stated.seedMassGrams,
      repeatability: stated.repeatability,
    },
    target: { gramsPerSquareMetre: stated.targetGramsPerSquareMetre, tolerance: stated.tolerance },
    turns: stated.turns,
    mode: drive.hand === null ? 'motor' : 'hand',
    plannedSpeedMetresPerSecond: null,
  };
}

export function standFor({ stated, cells, name }: Scenario): StandFacts {
  const cell = { gramsPerCount: stated.gramsPerCount, zeroCount: stated.zeroCount };
  return {
    name,
    firmware: '1.0.0',
    boot: 1,
    pulsesPerTurn: stated.pulsesPerTurn,
    cells: Array.from({ length: cells }, () => cell),
  };
}

export class ImaginedRun {
  readonly drill: Drill;
  readonly board: IdealBoard;
  state: RunState = initialRun();
  /** Everything that went into the reducer, in order. */
  readonly inputs: RunInput[] = [];
  readonly effects: RunEffect[] = [];

  constructor(scenario: Scenario, seed: number | string) {
    const { pulsesPerTurn, debounceMicros } = scenario.stated;
    this.drill = createDrill(scenario, seed);
    const settings = { pulsesPerTurn, debounceMicros, direction: 1, warnPulses: 2 * pulsesPerTurn } as const;
    this.board = idealBoard(this.drill, settings);
    this.give({ type: 'begin', plan: planFor(scenario), stand: standFor(scenario) });
  }

  give(input: RunInput): void {
    this.inputs.push(input);
    const step = reduce(this.state, input);
    this.state = step.state;
    for (const effect of step.effects) this.act(effect);
  }

  /** Lets the board's next reading in. */
  read(): void {
    this.give({ type: 'reading', reading: this.board.next() });
  }

  /** Reads on until `over`, but no longer than `mostSeconds` of board time. */
  readUntil(over: () => boolean, mostSeconds = 300): void {
    const from = this.state.now?.micros ?? 0;
    while (!over() && (this.state.now?.micros ?? 0) - from < mostSeconds * 1e6) this.read();
  }

  /** Tares, starts, and reads on to the end. */
  complete(): RunFigures {
    this.start();
    this.readUntil(() => this.state.phase === 'finished');
    return figures(this.state);
  }

  start(): void {
    this.readUntil(() => this.state.phase === 'ready');
    this.give({ type: 'command', command: 'start' });
    if (this.drill.scenario.drive.hand !== null) this.drill.turnByHand();
  }

  private act(effect: RunEffect): void {
    this.effects.push(effect);
    if (effect.type === 'close') return;
    const answer = this.send(effect);
    if (!answer.ok) this.give({ type: 'refused', command: effect.command, word: answer.word });
    else if (effect.command === 'arm') this.give({ type: 'armed', key: answer.word });
  }

  private send(effect: Extract<RunEffect, { type: 'send' }>) {
    if (effect.command === 'arm') return this.board.arm(effect.mode, effect.pulses);
    return effect.command === 'go' ? this.board.go(effect.key) : this.board.stop();
  }
}
