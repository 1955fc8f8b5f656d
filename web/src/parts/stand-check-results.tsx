import type { Figure, StepResult } from '../../../server/http/stand-messages.ts';
import { figure } from '../state/format.ts';
import { say } from '../state/say.ts';
import { nameAndCell } from '../state/stand-check.ts';
import { Sign } from './sign.tsx';
import { Told } from './told.tsx';

const words = say.standCheck;

type FigureName = keyof typeof words.figures;

function figureName(full: string): string {
  const { name, cell } = nameAndCell(full);
  const own = Object.hasOwn(words.figures, name) ? words.figures[name as FigureName] : name;
  return cell === 0 ? own : words.ofCell({ what: own, cell: String(cell) });
}

/** Figures of a step, each with its name and unit. */
export function CheckFigures({ figures }: { figures: readonly Figure[] }) {
  if (figures.length === 0) return null;
  return (
    <dl class="facts">
      {figures.map(({ name, value, unit }) => (
        <div key={name}>
          <dt>{figureName(name)}</dt>
          <dd>
            {Number.isInteger(value) ? String(value) : figure(value)} {unit}
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** What came of a step: in words and by a sign, then its figures and what to do. */
export function CheckResult({ result, open }: { result: StepResult; open: boolean }) {
  const tone = { passed: 'right', failed: 'wrong', skipped: 'open' } as const;
  return (
    <details open={open} class="check-step">
      <summary>
        <Sign tone={tone[result.outcome]} /> {words.steps[result.step]}:{' '}
        <b>{words.outcomes[result.outcome]}</b>
      </summary>
      {result.remarks.length > 0 && (
        <ul class="remarks">
          {result.remarks.map(({ code, sentence, grave }, index) => (
            <li key={`${code} ${index}`} class={grave ? 'grave' : undefined}>
              <Told>{sentence}</Told>
            </li>
          ))}
        </ul>
      )}
      <CheckFigures figures={result.figures} />
    </details>
  );
}
