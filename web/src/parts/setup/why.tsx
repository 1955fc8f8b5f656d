import { figure, wholeTurns } from '../../state/format.ts';
import { say } from '../../state/say.ts';
import { form, system } from '../../state/store.ts';
import { fromSi } from '../../state/units.ts';
import { type InputId, wordsOf } from '../field.tsx';

const words = say.setup;
type Reasoned = keyof typeof words.reasons & InputId;

/** A length as one would say it on this drill. */
export const lengthWords = (metres: number): string =>
  system.value === 'metric'
    ? metres < 1
      ? `${figure(fromSi(metres, 'length', 'cm'))} cm`
      : `${figure(metres)} m`
    : `${figure(fromSi(metres, 'length', 'in'))} in`;

/** Where the plan's figure came from, where a helper made it. */
function origin(id: Reasoned): string | null {
  const { rowSpacingFrom: ranks, circumferenceFrom: wheel } = form.value!.plan.drill;
  const { rowSpacingFrom, circumferenceFrom } = words.reasons;
  if (id === 'rowSpacing' && ranks != null)
    return rowSpacingFrom({ within: lengthWords(ranks.withinRankMetres), ranks: ranks.ranks });
  if (id !== 'circumference' || wheel == null) return null;
  switch (wheel.way) {
    case 'tape':
      return circumferenceFrom.tape({ count: wheel.readings.length });
    case 'roll-out':
      return circumferenceFrom['roll-out']({ turns: wholeTurns(wheel.turns ?? 0) });
    case 'field':
      return circumferenceFrom.field({ distance: lengthWords(wheel.distanceMetres ?? 0) });
  }
}

/** A short explanation, folded: the formula in words, and where the figure came from. */
export function Why({ id }: { id: Reasoned }) {
  const from = origin(id);
  return (
    <details class="because">
      <summary aria-label={words.whyOf({ label: wordsOf(id).label })}>{words.why}</summary>
      <p>{words.reasons[id]}</p>
      {from !== null && <p>{from}</p>}
    </details>
  );
}
