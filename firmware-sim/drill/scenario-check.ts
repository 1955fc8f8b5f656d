import type { Scenario } from './scenario.ts';

/** What is wrong with a scenario, in sentences; empty when such a drill can exist. */
export function faultsOfScenario(scenario: Scenario): string[] {
  const { geometry, meter, mix, bag, wheel, drive, converter, fall, hopper, faults } = scenario;
  const checks: [boolean, string][] = [
    [Number.isInteger(scenario.cells) && scenario.cells >= 1 && scenario.cells <= 6, 'cells must be 1 to 6'],
    [Number.isInteger(scenario.rowsPerCell) && scenario.rowsPerCell >= 1, 'rowsPerCell must be 1 or more'],
    [geometry.rowSpacingMetres > 0 && geometry.circumferenceMetres > 0, 'lengths must be above 0'],
    [geometry.slip < 1, 'slip must be below 1'],
    [meter.packing >= 0 && meter.packing <= 1, 'packing must be 0 to 1'],
    [meter.pulsationDepth >= 0 && meter.pulsationDepth <= 1, 'pulsationDepth must be 0 to 1'],
    [mix.length > 0 && mix.every((s) => s.thousandSeedGrams > 0 && s.massShare >= 0), 'the mix needs seed'],
    [Math.abs(mix.reduce((sum, s) => sum + s.massShare, 0) - 1) < 1e-9, 'mass shares must sum to 1'],
    [bag.dampingRatio > 0 && bag.dampingRatio < 1 && bag.hertz > 0, 'dampingRatio must be between 0 and 1'],
    [wheel.duty > 0.25 && wheel.duty < 0.75, 'duty must be between 0.25 and 0.75'],
    [Number.isInteger(wheel.pulsesPerTurn) && wheel.pulsesPerTurn >= 1, 'pulsesPerTurn must be 1 or more'],
    [drive.turnsPerMinute > 0 && drive.spinUpSeconds > 0 && drive.wanderSeconds > 0, 'drive must turn'],
    [converter.hertz > 0 && converter.creepSeconds > 0, 'converter times must be above 0'],
    [hopper === null || (hopper.grams > 0 && hopper.starvesBelowGrams > 0), 'the hopper needs seed in it'],
    [
      faults.every((fault) => !('cell' in fault) || fault.cell < scenario.cells),
      'a fault names a cell not fitted',
    ],
    [
      [scenario.line?.lost ?? 0, scenario.line?.flipped ?? 0].every((share) => share >= 0 && share <= 1),
      'chances on the line must be 0 to 1',
    ],
    [fall.seconds >= 0.05, 'fall.seconds must be 0.05 or more'],
  ];
  return checks.filter(([holds]) => !holds).map(([, sentence]) => sentence);
}
