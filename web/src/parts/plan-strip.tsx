import type { Plan } from '../../../server/http/messages.ts';
import { exact, figure, wholeTurns } from '../state/format.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { system } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

/** A plan in a line, under its title; where it is the next run's, with the way to change it. */
export function PlanStrip({ plan, title }: { plan: Plan; title: 'next' | 'now' | 'was' }) {
  const unit = shown[system.value].rate;
  const target = `${figure(fromSi(plan.target.gramsPerSquareMetre, 'rate', unit))} ${unit}`;
  const facts = [
    plan.drill.name,
    plan.drill.setting === '' ? say.strip.noSetting : say.strip.setting({ setting: plan.drill.setting }),
    plan.seed.name,
    say.strip.target({ rate: target, tolerance: exact(plan.target.tolerance * 100) }),
    say.strip.turns[plan.mode]({ turns: wholeTurns(plan.turns) }),
  ];
  return (
    <section class={`strip strip-${title}`} aria-label={say.strip.title}>
      <h2>{say.strip[title]}</h2>
      <ul>
        {facts.map((fact) => (
          <li key={fact}>{fact}</li>
        ))}
      </ul>
      {title === 'next' && <a href={address('plan', 'setting')}>{say.strip.change}</a>}
    </section>
  );
}
