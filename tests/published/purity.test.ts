import { describe, expect, it } from 'vitest';
import { purityTolerance } from '../../server/domain/purity.ts';

// 7 CFR 201.60(b), Table 3 (2015; github.com/18F/allregs html/sections/7CFR201.60.html). READ, whole table: lowest and highest average
// purity of each band in percent, tolerance of plain and of chaffy seed.
const table: [number, number, number, number][] = [
  [99.95, 100, 0.13, 0.16],
  [99.9, 99.94, 0.2, 0.23],
  [99.85, 99.89, 0.24, 0.29],
  [99.8, 99.84, 0.28, 0.34],
  [99.75, 99.79, 0.32, 0.37],
  [99.7, 99.74, 0.35, 0.41],
  [99.65, 99.69, 0.37, 0.45],
  [99.6, 99.64, 0.4, 0.48],
  [99.55, 99.59, 0.42, 0.5],
  [99.5, 99.54, 0.44, 0.53],
  [99.4, 99.49, 0.47, 0.57],
  [99.3, 99.39, 0.51, 0.6],
  [99.2, 99.29, 0.54, 0.64],
  [99.1, 99.19, 0.57, 0.66],
  [99, 99.09, 0.59, 0.7],
  [98.75, 98.99, 0.64, 0.75],
  [98.5, 98.74, 0.71, 0.82],
  [98.25, 98.49, 0.76, 0.89],
  [98, 98.24, 0.82, 0.95],
  [97.75, 97.99, 0.87, 1.01],
  [97.5, 97.74, 0.92, 1.07],
  [97.25, 97.49, 0.96, 1.12],
  [97, 97.24, 1, 1.17],
  [96.5, 96.99, 1.06, 1.24],
  [96, 96.49, 1.14, 1.34],
  [95.5, 95.99, 1.21, 1.41],
  [95, 95.49, 1.27, 1.49],
  [94, 94.99, 1.36, 1.6],
  [93, 93.99, 1.47, 1.73],
  [92, 92.99, 1.58, 1.85],
  [91, 91.99, 1.67, 1.96],
  [90, 90.99, 1.75, 2.06],
  [88, 89.99, 1.87, 2.19],
  [86, 87.99, 2.01, 2.36],
  [84, 85.99, 2.14, 2.51],
  [82, 83.99, 2.24, 2.64],
  [80, 81.99, 2.35, 2.76],
  [78, 79.99, 2.44, 2.86],
  [76, 77.99, 2.52, 2.96],
  [74, 75.99, 2.59, 3.04],
  [72, 73.99, 2.65, 3.12],
  [70, 71.99, 2.71, 3.19],
  [65, 69.99, 2.8, 3.29],
  [60, 64.99, 2.89, 3.4],
  [50, 59.99, 2.96, 3.48],
];

describe('purity tolerances of the Federal Seed Act', () => {
  it('the bands join without a gap', () => {
    table.slice(1).forEach(([, high], index) => {
      expect(high + 0.01).toBeCloseTo(table[index]![0], 10);
    });
  });

  it.each(table)('%s to %s %%: %s, chaffy %s', (low, high, plain, chaffy) => {
    for (const percent of [low, high, 100 - low, 100 - high]) {
      expect(purityTolerance(percent / 100)).toBeCloseTo(plain / 100, 12);
      expect(purityTolerance(percent / 100, true)).toBeCloseTo(chaffy / 100, 12);
    }
  });
});
