import { createDrill, type Drill } from '../../firmware-sim/drill/drill.ts';
import { drawScenario, type Scenario } from '../../firmware-sim/drill/scenario.ts';
import { type IdealBoard, idealBoard } from '../../firmware-sim/ideal-board.ts';
import type { JournalEntry } from '../records/types.ts';
import { presetPulsesOf } from '../run/plan.ts';
import { inputText, type NotedInput } from '../run/session-inputs.ts';
import { Replay, type Replayed } from '../run/session-replay.ts';
import type { RunPlan, StandFacts } from '../run/types.ts';
import { lineOf } from './board-line.ts';

/** One imagined drill on one imagined stand, for run after run, as fast as it can be computed; each run with the journal that the service would have kept. */

/** Board time for shaking out the bag and hanging it up again. */
const betweenRunsSeconds = 20;
/** No run takes longer. */
const longestSeconds = 600;

export interface BenchRun extends Replayed {
  stand: StandFacts;
  journal: JournalEntry[];
  /** Host milliseconds from its beginning to its end. */
  millis: number;
}

export class Bench {
  readonly #drill: Drill;
  readonly #board: IdealBoard;
  readonly stand: StandFacts;

  /** `drillSeed`: the same drill; `seed`: what chance does with it this time. */
  constructor(scenario: Scenario, drillSeed: string, seed: string) {
    const { pulsesPerTurn, debounceMicros, gramsPerCount, zeroCount } = scenario.stated;
    this.#drill = createDrill(drawScenario(scenario, drillSeed), seed);
    this.#board = idealBoard(this.#drill, {
      ...{ pulsesPerTurn, debounceMicros },
      ...{ direction: 1, warnPulses: 2 * pulsesPerTurn },
    });
    const cells = Array.from({ length: scenario.cells }, () => ({ gramsPerCount, zeroCount }));
    this.stand = { name: 'imagined', firmware: '1.1.0', boot: 1, pulsesPerTurn, cells };
  }

  /** A whole run of this plan, the lever newly set. */
  run(plan: RunPlan): BenchRun {
    this.#drill.emptyBags();
    this.#drill.setLever(Number(plan.drill.setting));
    this.#idle(betweenRunsSeconds);
    const note = new Notes(this.stand, plan, this.#board.next().boardMicros);
    const armed = this.#board.arm(plan.mode, presetPulsesOf(plan, this.stand));
    note.sent({ command: 'arm', mode: plan.mode, pulses: presetPulsesOf(plan, this.stand) });
    note.input({ type: 'armed', key: armed.word });
    this.#readUntil(note, 'ready');
    note.input({ type: 'command', command: 'start' });
    note.sent({ command: 'go', key: armed.word });
    this.#board.go(armed.word);
    if (plan.mode === 'hand') this.#drill.turnByHand();
    this.#readUntil(note, 'finished');
    return { ...note.result(), stand: this.stand };
  }

  #idle(seconds: number): void {
    const end = this.#board.next().boardMicros + seconds * 1e6;
    while (this.#board.next().boardMicros < end);
  }

  #readUntil(note: Notes, phase: 'ready' | 'finished'): void {
    while (note.phase !== phase && note.phase !== 'finished' && note.seconds < longestSeconds) {
      note.reading(this.#board.next());
    }
  }
}

/** The journal of one run in the making. The host's clock goes with the board's. */
class Notes {
  readonly journal: JournalEntry[] = [];
  readonly #replay = new Replay();
  readonly #fromMicros: number;
  #sequence = 0;
  #clockSeconds = 0;
  seconds = 0;

  constructor(stand: StandFacts, plan: RunPlan, fromMicros: number) {
    this.#fromMicros = fromMicros;
    const { name, boot } = stand;
    const reader = {
      ...{ board: { name, boot }, introduced: true, sequence: 0, wireSequence: 0 },
      ...{ totals: null, afterGap: false },
    };
    this.input({ type: 'begin', plan, stand, reader });
  }

  get phase() {
    return this.#replay.state.phase;
  }

  reading(reading: Parameters<typeof lineOf>[0]): void {
    this.seconds = (reading.boardMicros - this.#fromMicros) / 1e6;
    for (; this.#clockSeconds + 1 <= this.seconds; this.#clockSeconds++) {
      this.input({ type: 'clock', seconds: this.#clockSeconds + 1 });
    }
    // Answers to the host's beats take numbers on a real line; here nothing else is sent.
    this.#sequence++;
    this.#note('line', lineOf({ ...reading, sequence: this.#sequence }));
  }

  input(input: NotedInput): void {
    this.#note('input', inputText(input));
  }

  sent(command: object): void {
    this.#note('sent', JSON.stringify(command));
  }

  #note(kind: JournalEntry['kind'], text: string): void {
    // Once a run is over nothing more is written of it.
    if (this.phase === 'finished') return;
    const entry = { position: this.journal.length, hostMillis: Math.round(this.seconds * 1000), kind, text };
    this.journal.push(entry);
    this.#replay.take(entry);
  }

  result(): Omit<BenchRun, 'stand'> {
    return { ...this.#replay.result(), journal: this.journal, millis: Math.round(this.seconds * 1000) };
  }
}
