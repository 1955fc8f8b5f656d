import type { Plan } from '../../../server/http/messages.ts';
import type { Faults } from './form.ts';

type Scale = NonNullable<Plan['drill']['scale']>;

/** How far from its mark a lever may stand when nobody has looked into it, in steps of the scale. Common practice, no source. */
const usualPlaySteps = 0.2;

const withScale = (plan: Plan, scale: Plan['drill']['scale']): Plan => {
  const { scale: _, ...drill } = plan.drill;
  return { ...plan, drill: scale === undefined ? drill : { ...drill, scale } };
};

/**
 * Makes the optional setting scale of a form whole: nothing filled in is no scale; lowest mark, highest mark and step make one, and what else is
 * empty takes its usual value. Anything between is a fault beside the fields at fault, and the plan keeps the base's scale. `faults`: those found in
 * single fields.
 */
export function completeScale(base: Plan, plan: Plan, faults: Faults): { plan: Plan; faults: Faults } {
  if (plan.drill.scale === base.drill.scale) return { plan, faults: {} };
  const typed = named(plan.drill.scale ?? {});
  if (typed === null) {
    return { plan: withScale(plan, base.drill.scale), faults: { scaleMarks: { kind: 'too-few-marks' } } };
  }
  const { low, high, step, closedAt, leverPlay, configuration = '', otherConfigurations = [], marks } = typed;
  const missing: Faults = {};
  if (low == null && faults.scaleLow === undefined) missing.scaleLow = { kind: 'scale-incomplete' };
  if (high == null && faults.scaleHigh === undefined) missing.scaleHigh = { kind: 'scale-incomplete' };
  if (step == null && faults.scaleStep === undefined) missing.scaleStep = { kind: 'scale-incomplete' };
  const others =
    closedAt != null || leverPlay != null || configuration !== '' || otherConfigurations.length > 0;
  if (Object.keys(missing).length === 3 && !others) {
    return { plan: withScale(plan, base.drill.scale == null ? base.drill.scale : null), faults: {} };
  }
  if (low == null || high == null || step == null) {
    return { plan: withScale(plan, base.drill.scale), faults: missing };
  }
  const scale: Scale = {
    low,
    high,
    step,
    closedAt: closedAt ?? 0,
    leverPlay: leverPlay ?? usualPlaySteps * step,
    configuration,
    otherConfigurations,
    ...(marks === undefined ? {} : { marks }),
  };
  const crossed = misfits(scale);
  return Object.keys(crossed).length > 0
    ? { plan: withScale(plan, base.drill.scale), faults: crossed }
    : { plan: withScale(plan, scale), faults: {} };
}

/** A scale whose marks have names counts them: first, second, third. Null where they are too few; no names at all are none. */
function named(scale: Partial<Scale>): Partial<Scale> | null {
  const { marks, ...rest } = scale;
  if (marks === undefined || marks.length === 0) return rest;
  return marks.length < 2 ? null : { ...rest, low: 1, high: marks.length, step: 1, marks };
}

/** Figures of a scale that do not go together. */
function misfits({ low, high, step, closedAt }: Scale): Faults {
  if (high <= low) return { scaleHigh: { kind: 'below-low' } };
  if (step > high - low) return { scaleStep: { kind: 'step-too-wide' } };
  return closedAt >= high ? { closedAt: { kind: 'closed-too-high' } } : {};
}
