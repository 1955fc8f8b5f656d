import type { Plan } from '../../../server/http/messages.ts';
import { exact, figure, turns } from '../state/format.ts';
import { address } from '../state/route.ts';
import { system, texts } from '../state/store.ts';
import { fromSi, shown } from '../state/units.ts';

/** The plan in a line, and the way to change it. */
export function PlanStrip({ plan }: { plan: Plan }) {
  const unit = shown[system.value].rate;
  const target = `${figure(fromSi(plan.target.gramsPerSquareMetre, 'rate', unit))} ${unit}`;
  const facts = [
    plan.drill.name,
    plan.drill.setting === '' ? texts.strip.noSetting : texts.strip.setting(plan.drill.setting),
    plan.seed.name,
    texts.strip.target(target, exact(plan.target.tolerance * 100)),
    texts.strip.turns(Number.isInteger(plan.turns) ? String(plan.turns) : turns(plan.turns), plan.mode),
  ];
  return (
    <section class="strip" aria-label={texts.strip.title}>
      <ul>
        {facts.map((fact) => (
          <li key={fact}>{fact}</li>
        ))}
      </ul>
      <a href={address('plan', 'setting')}>{texts.strip.change}</a>
    </section>
  );
}
