import { describe, expect, it } from 'vitest';
import type { DrillGeometry } from '../../server/domain/geometry.ts';
import { planTest, turnsForTest, usualTestLengths } from '../../server/domain/test-length.ts';
import {
  acresFromSquareMetres,
  feetFromMetres,
  gramsPerSquareMetreFromKilogramsPerHectare,
  gramsPerSquareMetreFromPoundsPerAcre,
  inches,
  kilogramsPerHectare,
  metres,
  metresFromInches,
  poundsFromGrams,
  poundsPerAcre,
  squareFeetFromSquareMetres,
} from '../../server/domain/units.ts';

/** The lengths that tests are given in use, each with the source that uses it. READ: seen there; MEMORY: recalled. */

const drill = (rowsCaught: number, spacing: number, circumference: number): DrillGeometry => ({
  rowsCaught,
  rowSpacing: metresFromInches(inches(spacing)),
  circumference: metresFromInches(inches(circumference)),
  slip: 0,
});
const sixtyPounds = gramsPerSquareMetreFromPoundsPerAcre(poundsPerAcre(60));

// University of Kentucky, wheat seeding rate and drill calibration (uky.edu/Ag/Wheat/seedrate.html). READ: a wheel of 60 in, 50 ft are
// 600 in. Computed: 10 turns.
it('50 ft on a wheel of 60 in: 10 turns', () => {
  expect(turnsForTest(drill(1, 7, 60), usualTestLengths['50 ft'])).toBeCloseTo(10, 10);
});

// University of Maryland Extension (M. Morris 2019) and UC Santa Cruz CASFS, Teaching Organic Farming & Gardening, unit 1.6. READ: 100 ft.
// University of Kentucky factors in No-Till Farmer. READ: 150 ft.
it.each([
  ['100 ft', 100],
  ['150 ft', 150],
] as const)('%s', (length, feet) => {
  const plan = planTest(drill(1, 7.5, 96), usualTestLengths[length], sixtyPounds, false);
  expect(feetFromMetres(plan.distance)).toBeCloseTo(feet, 9);
});

// 50 m: common practice, no source.
it('50 m', () => {
  expect(planTest(drill(1, 7.5, 96), usualTestLengths['50 m'], sixtyPounds, false).distance).toBeCloseTo(
    50,
    10,
  );
});

// 1/100 and 1/10 ac: US bulletins, lb x 100 and x 10 are lb/ac. MEMORY (high). 1/20 ac: Southeast Farm Press, lb x 20. READ: 2 178 ft².
describe('parts of an acre', () => {
  it.each([
    ['1/100 ac', 100],
    ['1/20 ac', 20],
    ['1/10 ac', 10],
    ['1/25 ac', 25],
  ] as const)('%s: the catch in pounds times %s is the rate', (length, parts) => {
    const plan = planTest(drill(16, 7.5, 96), usualTestLengths[length], sixtyPounds, false);
    expect(acresFromSquareMetres(plan.area) * parts).toBeCloseTo(1, 12);
    expect(poundsFromGrams(plan.targetCatch) * parts).toBeCloseTo(60, 9);
  });

  it('1/20 ac is 2 178 ft²', () => {
    const plan = planTest(drill(24, 7.5, 96), usualTestLengths['1/20 ac'], sixtyPounds, false);
    expect(squareFeetFromSquareMetres(plan.area)).toBeCloseTo(2178, 8);
  });
});

// 1/25 ha: Indian lecture 22/29 and a paper citing Sahay 1990. READ: 400 m². 1/40 ha, kg x 40, and 1/10 ha for small seeds: European
// practice. MEMORY (high). 1/100 ha: common practice, no source.
describe('parts of a hectare', () => {
  const rate = gramsPerSquareMetreFromKilogramsPerHectare(kilogramsPerHectare(160));

  it.each([
    ['1/100 ha', 100, 100],
    ['1/40 ha', 40, 250],
    ['1/25 ha', 25, 400],
    ['1/10 ha', 10, 1000],
  ] as const)('%s: kilograms times %s are the rate, %s m²', (length, parts, area) => {
    const geometry = { ...drill(20, 6, 96), rowSpacing: metres(0.15) };
    const plan = planTest(geometry, usualTestLengths[length], rate, false);
    expect(plan.area).toBeCloseTo(area, 9);
    expect((plan.targetCatch / 1000) * parts).toBeCloseTo(160, 9);
  });
});
