import type { CalibrationView } from '../../../../server/http/calibration-messages.ts';
import { decided } from '../../../../server/paper/compose/decided.ts';
import { chancePercent, date, exact, percent } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { system } from '../../state/store.ts';
import { shown } from '../../state/units.ts';
import { markWords, rateNumber, rateWords } from '../rate-words.ts';

/** What a calibration came to, by name; the same names in the same order for each, so that two can be held side by side. */
export function calibrationFacts(view: CalibrationView): [name: string, value: string][] {
  const { facts } = say.records;
  const found = decided(view);
  const { none } = say.live;
  const rate = found?.row?.rate;
  const largest = view.doubts?.[0];
  const newest = view.runs.at(-1);
  return [
    [facts.configuration, view.configuration],
    [
      facts.target,
      say.records.tolerated({
        rate: rateWords(view.targetGramsPerSquareMetre),
        tolerance: exact(view.tolerance * 100),
      }),
    ],
    [facts.setting, found === null ? none : markWords(found.setting)],
    [
      facts.rate,
      rate === undefined
        ? none
        : say.records.rateInterval({
            rate: rateNumber(rate.value),
            unit: shown[system.value].rate,
            low: rateNumber(rate.low),
            high: rateNumber(rate.high),
          }),
    ],
    [facts.chance, found === null ? none : say.records.percent({ figure: chancePercent(found.chance) })],
    [facts.runs, exact(view.runs.filter(({ counts }) => counts).length)],
    [
      facts.doubt,
      largest === undefined
        ? none
        : say.records.doubtOf({ part: say.paper.parts[largest.part], share: percent(largest.relative) }),
    ],
    [facts.when, newest === undefined ? none : date(newest.at)],
  ];
}
