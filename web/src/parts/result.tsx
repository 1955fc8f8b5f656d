import type { RunView } from '../../../server/http/messages.ts';
import { percent } from '../state/format.ts';
import { say } from '../state/say.ts';
import { verdict } from '../state/verdict.ts';
import { Told } from './told.tsx';

type Budget = RunView['figures']['budget'];

/** The parts of the doubt, the largest first, each as a bar beside its figure. */
function BudgetList({ budget }: { budget: Budget }) {
  const parts = budget.toSorted((one, other) => other.relative - one.relative);
  const largest = parts[0]?.relative ?? 0;
  return (
    <table class="budget">
      <caption>
        <b>{say.result.doubt}</b> {say.result.doubtIntro}
      </caption>
      <tbody>
        {parts.map(({ part, relative, common }, index) => (
          <tr key={part}>
            <th scope="row">
              {(say.result.parts as Record<string, string>)[part] ?? part}
              {common && <small>{say.result.common}</small>}
            </th>
            <td class="number">{say.result.percent({ share: percent(relative) })}</td>
            <td class="bar">
              <svg height="16" aria-hidden="true">
                <rect width={`${largest > 0 ? (relative / largest) * 100 : 0}%`} height="16" />
              </svg>
              {index === 0 && relative > 0 && <small>{say.result.largest}</small>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const title = (setting: string): string =>
  setting === '' ? say.result.title : say.result.titleAt({ setting });

/** What a finished run came to: the verdict where there is one, and what the doubt is made of. */
export function Result({ run }: { run: Pick<RunView, 'figures' | 'plan'> }) {
  const { figures } = run;
  if (figures.phase !== 'finished') return null;
  const judged = verdict(run);
  return (
    <section class="panel result" aria-labelledby="result-title">
      <h2 id="result-title">{title(run.plan.drill.setting)}</h2>
      {judged !== null && <p class={`verdict verdict-${judged}`}>{say.verdicts[judged]}</p>}
      <p>
        <Told>{figures.sentence}</Told>
      </p>
      {figures.speed?.shareOnPlan != null && (
        <p class="note">{say.live.shareOnPlan({ percent: Math.round(figures.speed.shareOnPlan * 100) })}</p>
      )}
      {figures.lostReadings > 0 && <p class="note">{say.live.lost({ count: figures.lostReadings })}</p>}
      {figures.rate !== null && figures.budget.length > 0 && <BudgetList budget={figures.budget} />}
    </section>
  );
}
