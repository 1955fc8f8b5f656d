import { faultScenarios } from './fault-scenarios.ts';
import type { Scenario } from './scenario.ts';
import { byHand, oneRow, sixRows } from './scenarios.ts';

/** Every scenario by the name that a command line gives. */
export const presets: Readonly<Record<string, Scenario>> = {
  'one-row': oneRow,
  'six-rows': sixRows,
  'by-hand': byHand,
  ...faultScenarios,
};
