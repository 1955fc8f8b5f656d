import type { Plan } from '../../../server/http/messages.ts';
import { exact, figure, wholeTurns } from '../state/format.ts';
import { address } from '../state/route.ts';
import { system, texts } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

/** A plan in a line, under its title; where it is the next run's, with the way to change it. */
export function PlanStrip({ plan, title }: { plan: Plan; title: 'next' | 'now' | 'was' }) {
  const unit = shown[system.value].rate;
  const target = `${figure(fromSi(plan.target.gramsPerSquareMetre, 'rate', unit))} ${unit}`;
  const facts = [
    plan.drill.name,
    plan.drill.setting === '' ? texts.strip.noSetting : texts.strip.setting(plan.drill.setting),
    plan.seed.name,
    texts.strip.target(target, exact(plan.target.tolerance * 100)),
    texts.strip.turns(wholeTurns(plan.turns), plan.mode),
  ];
  return (
    <section class={`strip strip-${title}`} aria-label={texts.strip.title}>
      <h2>{texts.strip[title]}</h2>
      <ul>
        {facts.map((fact) => (
          <li key={fact}>{fact}</li>
        ))}
      </ul>
      {title === 'next' && <a href={address('plan', 'setting')}>{texts.strip.change}</a>}
    </section>
  );
}
