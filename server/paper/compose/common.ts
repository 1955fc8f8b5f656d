import type { Decided } from './decided.ts';
import type { PaperNumbers } from './numbers.ts';
import type { PaperFacts, PaperWish } from './types.ts';

/** What both kinds of paper say. */

/** Span of days on which the runs were made, in words; empty where there are none. */
export function daysOf({ view }: PaperFacts, { words }: PaperWish, numbers: PaperNumbers): string {
  const [first, last] = [view.runs[0], view.runs.at(-1)];
  if (first === undefined || last === undefined) return '';
  const days = { first: numbers.date(first.at), last: numbers.date(last.at) };
  return days.first === days.last ? days.first : words.measuredFromTo(days);
}

export function targetWords({ view }: PaperFacts, { words }: PaperWish, numbers: PaperNumbers): string {
  const rate = numbers.rateWithUnit(view.targetGramsPerSquareMetre);
  return words.targetValue({ rate, tolerance: numbers.exact(view.tolerance * 100) });
}

/** What must not be overlooked. */
export function warningsOf({ demo }: PaperFacts, { words }: PaperWish, found: Decided): string[] {
  const state =
    found.state === 'unfinished' ? [words.unfinished] : found.state === 'settled' ? [words.settled] : [];
  return demo ? [words.demo, ...state] : state;
}

export const madeBy = ({ version, madeAt }: PaperFacts, { words }: PaperWish, numbers: PaperNumbers) =>
  words.madeBy({ version, date: numbers.date(madeAt) });

/** The key figures as plain text, for the code: read by any phone without a network. */
export function codeText(facts: PaperFacts, wish: PaperWish, found: Decided, numbers: PaperNumbers): string {
  const { view } = facts;
  const { words } = wish;
  const target = numbers.rateWithUnit(view.targetGramsPerSquareMetre);
  const { row } = found;
  const counting = view.runs.filter(({ counts }) => counts).length;
  return [
    ...(facts.demo ? [words.demo] : []),
    view.drillName,
    view.configuration,
    view.seedName,
    targetWords(facts, wish, numbers),
    words.codeSet({ setting: numbers.mark(found.setting) }),
    ...(row === null
      ? []
      : [
          words.codeGives({
            rate: numbers.rateWithUnit(row.rate.value),
            low: numbers.rate(row.rate.low),
            high: numbers.rate(row.rate.high),
          }),
        ]),
    words.codeChance({
      chance: numbers.chance(found.chance),
      tolerance: numbers.exact(view.tolerance * 100),
      target,
    }),
    words.codeMeasured({ count: counting, date: daysOf(facts, wish, numbers) }),
  ].join('\n');
}
