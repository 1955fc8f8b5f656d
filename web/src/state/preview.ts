import { targetCatch, testArea } from '../../../server/domain/geometry.ts';
import { gramsPerSquareMetre, metres, type SquareMetres, turns } from '../../../server/domain/units.ts';
import type { Plan } from '../../../server/http/messages.ts';
import { type Band, bandAround } from './band.ts';

export interface Preview {
  area: SquareMetres;
  catch: Band;
}

/** What a plan asks of a run: the ground its turns stand for and what should lie in the bag. Null where the figures cannot be worked with. */
export function preview(plan: Plan): Preview | null {
  try {
    const geometry = {
      circumference: metres(plan.drill.circumferenceMetres),
      rowSpacing: metres(plan.drill.rowSpacingMetres),
      rowsCaught: plan.rowsCaught,
      slip: plan.drill.slip,
    };
    const count = turns(plan.turns);
    const rate = gramsPerSquareMetre(plan.target.gramsPerSquareMetre);
    const target = targetCatch(geometry, count, rate);
    return { area: testArea(geometry, count), catch: bandAround(target, plan.target.tolerance) };
  } catch {
    return null;
  }
}
