import type { RunState } from './state.ts';
import type { GapCause, GapFigure, StandFacts } from './types.ts';

/** Times without readings as the page and the records show them. */
export function gapFigures({ gaps, away, now, start }: RunState, { pulsesPerTurn }: StandFacts): GapFigure[] {
  if (start === null || now === null) return [];
  const seconds = (micros: number) => (micros - start.micros) / 1e6;
  const turns = (net: number) => (net - start.net) / pulsesPerTurn;
  const over = gaps.map(({ cause, fromMicros, toMicros, fromNet, toNet }) => ({
    cause,
    fromSeconds: seconds(fromMicros),
    toSeconds: seconds(toMicros),
    fromTurns: turns(fromNet),
    toTurns: turns(toNet),
  }));
  if (away === null) return over;
  const lasting = {
    fromSeconds: seconds(now.micros),
    toSeconds: null,
    fromTurns: turns(now.net),
    toTurns: null,
  };
  return [...over, { cause: away.cause, ...lasting }];
}

const causes: Record<GapCause, string> = {
  cable: 'the stand was not connected',
  service: 'Catchbench was not running',
  computer: 'this computer stood still',
  line: 'nothing came over the cable',
};

/** What is to be said of them in a sentence; empty where there are none. */
export function gapSentence(gaps: readonly GapFigure[]): string {
  const [first] = gaps;
  if (first === undefined) return '';
  const from = first.fromSeconds.toFixed(1);
  const span =
    first.toSeconds === null ? `from ${from} s on` : `from ${from} to ${first.toSeconds.toFixed(1)} s`;
  const more =
    gaps.length === 1 ? '' : `, and ${gaps.length - 1} more ${gaps.length === 2 ? 'time' : 'times'}`;
  const whole = gaps.some(({ toSeconds }) => toSeconds === null)
    ? ''
    : ' Turns and grams are whole: the stand counts and weighs on by itself.';
  return ` Readings are missing ${span} (${causes[first.cause]})${more}.${whole}`;
}
