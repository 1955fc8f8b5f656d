import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { drawScenario } from '../../firmware-sim/drill/scenario.ts';
import { byHand, oneRow } from '../../firmware-sim/drill/scenarios.ts';
import { figures } from '../../server/run/reduce.ts';
import type { RunFigures } from '../../server/run/types.ts';
import { ImaginedRun } from './imagined.ts';

/** The same imagined run twice: with all its readings, and with a time without any. */

export interface GapRun {
  seconds: number;
  truth: number;
  /** Turns and grams that the drill itself knows. */
  turns: number;
  grams: number;
  whole: RunFigures;
  gapped: RunFigures;
}

const scenarios = { 'by motor': oneRow, 'by hand': byHand } as const;

/** Lets the board go on for so long while nobody reads it. */
function unread(run: ImaginedRun, seconds: number): void {
  run.give({ type: 'link-lost' });
  const until = run.state.raw!.boardMicros + seconds * 1e6;
  while (run.board.next().boardMicros < until);
  run.give({ type: 'link-back' });
}

function oneOf(name: keyof typeof scenarios, seed: number, withTrace: boolean): GapRun {
  const scenario = scenarios[name];
  const chance = randomStreams(`gap ${seed}`)('gap');
  const seconds = 0.6 * 30 ** chance.uniform();
  const share = chance.uniform();
  const start = () => {
    const run = new ImaginedRun(drawScenario(scenario, `drill ${seed}`), `run ${seed}`);
    if (!withTrace) run.state = { ...run.state, trace: null };
    return run;
  };
  const whole = start().complete();
  const run = start();
  run.start();
  const pulses = share * scenario.stated.turns * scenario.stated.pulsesPerTurn;
  run.readUntil(() => run.state.start !== null && run.state.now!.net - run.state.start.net >= pulses);
  unread(run, seconds);
  run.readUntil(() => run.state.phase === 'finished');
  const { rateGramsPerSquareMetre: truth, turns, gramsCaught } = run.drill.truth;
  return { seconds, truth, turns: turns(), grams: gramsCaught(), whole, gapped: figures(run.state) };
}

/** `runs` runs, each with one gap of 0.6 to 18 s at a moment drawn over the whole turning. The same ones every time. */
export function gapCampaign(name: keyof typeof scenarios, runs: number, withTrace: boolean): GapRun[] {
  return Array.from({ length: runs }, (_, index) => oneOf(name, index + 1, withTrace));
}
