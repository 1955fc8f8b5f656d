import type { RunView } from '../../../server/http/messages.ts';
import { type Point, thin } from './trace.ts';

/** A point of the drawing: turns across, grams up. */
export interface Dot {
  x: number;
  y: number;
}

/** What the chart shows: the catch, and the wedge that a drill on target would stay in. */
export interface Curve {
  dots: Dot[];
  target: Dot[];
  low: Dot[];
  high: Dot[];
  /** Ends of the axes. */
  turnsEnd: number;
  gramsEnd: number;
}

/** The drawing of a run. The wedge begins at nothing and is as wide as the tolerance at the last turn. */
export function curve(figures: RunView['figures'], trace: readonly Point[]): Curve {
  const { turnsPreset, targetCatchGrams, targetCatchLowGrams, targetCatchHighGrams } = figures;
  const dots = thin(trace).map(([, x, y]) => ({ x, y }));
  const wedge = (grams: number): Dot[] => [
    { x: 0, y: 0 },
    { x: turnsPreset, y: grams },
  ];
  return {
    dots,
    target: wedge(targetCatchGrams),
    low: wedge(targetCatchLowGrams),
    high: wedge(targetCatchHighGrams),
    turnsEnd: dots.reduce((most, { x }) => Math.max(most, x), turnsPreset),
    gramsEnd: dots.reduce((most, { y }) => Math.max(most, y), targetCatchHighGrams * 1.1),
  };
}
