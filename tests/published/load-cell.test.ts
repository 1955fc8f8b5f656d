import { expect, it } from 'vitest';
import { polynomialFit } from '../../server/domain/regression.ts';
import { bendOf, straightLine } from '../../server/domain/straight-line.ts';
import data from './data/nist-strd.json' with { type: 'json' };

// NIST StRD, Pontius: a load cell under 20 loads of 150 000 to 3 000 000 lb, each twice. READ: data and the certified parabola, s =
// 0.205177424076185E-03. The straight line is computed: slope 7.22102581e-7, intercept 0.00614968421, s = 0.00217127, ten times as much.
const pontius = data.datasets.find(({ name }) => name === 'Pontius') as unknown as {
  x: number[];
  y: number[];
};

it('a load cell that bends: the line leaves ten times what the parabola leaves, though R² hides it', () => {
  const line = straightLine(pontius.x, pontius.y);
  expect(line.slope / 7.22102581e-7).toBeCloseTo(1, 8);
  expect(line.intercept).toBeCloseTo(0.00614968421, 10);
  expect(line.spread).toBeCloseTo(0.00217127, 7);
  const parabola = polynomialFit(pontius.x, pontius.y, 2);
  expect(parabola.spread).toBeCloseTo(0.000205177424076185, 12);
  expect(line.spread / parabola.spread).toBeCloseTo(10.58, 2);
  expect(line.rSquared).toBeGreaterThan(0.9999);
  expect(bendOf(pontius.x, pontius.y).probability).toBeLessThan(1e-20);
});
