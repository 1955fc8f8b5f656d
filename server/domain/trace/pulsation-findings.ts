import type { Finding } from './finding.ts';
import { allOrders, type Found, type Line, lineOf, type Pulsation } from './pulsation.ts';

/** What the order spectrum of the catch tells, in words. */

/** None, one, or one of each kind: once a turn, and once a flute. Never spoils a run. */
export function pulsationFindings(state: Pulsation): Finding[] {
  const { turn, flute } = state.found;
  const found: Finding[] = [];
  if (turn !== null) found.push(told(state, 'pulse-per-turn', turn, turnSentence));
  // What swells once a turn may do so steeply, and then shows at a few times a turn as well.
  const overtone = turn !== null && flute !== null && flute.order <= 3;
  if (flute !== null && !overtone) found.push(told(state, 'pulse-per-flute', flute, fluteSentence));
  return found;
}

function told(
  state: Pulsation,
  kind: 'pulse-per-turn' | 'pulse-per-flute',
  { order, at }: Found,
  sentence: (line: Line, order: number, bias: string) => string,
): Finding {
  const line = lineOf(state, order);
  const lines = allOrders.map((each) => lineOf(state, each));
  const { turns } = state.speed;
  const total = state.grams.reduce((sum, grams) => sum + grams, 0);
  const swing = 2 * line.grams * state.cells.length;
  const bias =
    `A run that begins and ends at unlucky places of the turn may so be off by up to ${swing.toPrecision(2)} g: ` +
    `${((100 * swing * turns) / total / 5).toPrecision(2)} % of a catch of 5 turns, ${((100 * swing) / total).toPrecision(2)} % of one of ${turns}.`;
  return {
    kind,
    cell: null,
    from: at,
    until: null,
    sure: Math.max(0.5, Math.min(0.9999, 1 - 100 * line.chance)),
    spoils: false,
    evidence: {
      x: 'cycles-per-turn',
      y: 'strength',
      series: [{ role: 'seen', x: allOrders, y: lines.map(({ share }) => share) }],
    },
    sentence: sentence(line, order, bias),
  };
}

const percent = (share: number) => `${(100 * share).toFixed(0)} %`;

const turnSentence = ({ share }: Line, _order: number, bias: string) =>
  `The catch swells once a turn of the wheel, as a flow by ± ${percent(share)} would: a bent shaft, a worn gear or chain, or the frame ` +
  `rocking under the scale. ${bias} Turn whole turns, and enough of them.`;

const fluteSentence = ({ share }: Line, order: number, bias: string) =>
  `The flow swells ${order} times a turn of the wheel, by something like ± ${percent(share)}: the flutes or cells of the meter, as is usual. ${bias}`;
