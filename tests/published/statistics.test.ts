import { describe, expect, it } from 'vitest';
import { combineDoubts, halfWidth, normalQuantile, studentQuantile } from '../../server/domain/statistics.ts';

// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values of Student's t distribution.
// READ in a copy that names the handbook (pdfcoffee.com/student-t-distribution-table-pdf-free.html).
const upperTails = [0.1, 0.05, 0.025, 0.01, 0.005];
const critical: [number, number[]][] = [
  [1, [3.078, 6.314, 12.706, 31.821, 63.657]],
  [2, [1.886, 2.92, 4.303, 6.965, 9.925]],
  [3, [1.638, 2.353, 3.182, 4.541, 5.841]],
  [4, [1.533, 2.132, 2.776, 3.747, 4.604]],
  [5, [1.476, 2.015, 2.571, 3.365, 4.032]],
  [6, [1.44, 1.943, 2.447, 3.143, 3.707]],
  [7, [1.415, 1.895, 2.365, 2.998, 3.499]],
  [8, [1.397, 1.86, 2.306, 2.896, 3.355]],
  [9, [1.383, 1.833, 2.262, 2.821, 3.25]],
  [10, [1.372, 1.812, 2.228, 2.764, 3.169]],
  [12, [1.356, 1.782, 2.179, 2.681, 3.055]],
  [15, [1.341, 1.753, 2.131, 2.602, 2.947]],
  [19, [1.328, 1.729, 2.093, 2.539, 2.861]],
  [24, [1.318, 1.711, 2.064, 2.492, 2.797]],
  [30, [1.31, 1.697, 2.042, 2.457, 2.75]],
  [60, [1.296, 1.671, 2, 2.39, 2.66]],
  [100, [1.29, 1.66, 1.984, 2.364, 2.626]],
  [Number.POSITIVE_INFINITY, [1.282, 1.645, 1.96, 2.326, 2.576]],
];

describe('published tables of distributions', () => {
  it.each(critical)('Student’s t with %s degrees of freedom', (degreesOfFreedom, row) => {
    row.forEach((value, index) => {
      const t = studentQuantile(1 - upperTails[index]!, degreesOfFreedom);
      expect(Math.abs(t - value)).toBeLessThanOrEqual(0.000501);
    });
  });

  // J. Burkardt's table of the normal distribution (function normal_01_cdf_values, computed by him with Mathematica), READ in
  // Beliavsky/Pure-Fortran-Examples, burkardt/asa111.f90.
  it.each([
    [0.539827837277029, 0.1],
    [0.6914624612740131, 0.5],
    [0.8159398746532405, 0.9],
    [0.8413447460685429, 1],
    [0.9331927987311419, 1.5],
    [0.9772498680518208, 2],
    [0.99379033467422, 2.5],
    [0.9986501019683699, 3],
  ])('the normal deviate of %s is %s', (probability, z) => {
    expect(normalQuantile(probability)).toBeCloseTo(z, 12);
  });

  // JCGM 100:2008 (GUM), G.4.1, example: a product of three inputs from 10, 5 and 15 observations with relative standard
  // uncertainties 0.25 %, 0.57 % and 0.82 %. Figures from memory (high confidence); the sum was done again by hand.
  it('Welch-Satterthwaite: 1.03 %, 19.0 degrees of freedom, 2.2 % at 95 %', () => {
    const combined = combineDoubts([
      { standard: 0.25, degreesOfFreedom: 9 },
      { standard: 0.57, degreesOfFreedom: 4 },
      { standard: 0.82, degreesOfFreedom: 14 },
    ]);
    expect(combined.standard).toBeCloseTo(1.03, 2);
    expect(combined.degreesOfFreedom).toBeCloseTo(19.0, 1);
    expect(halfWidth(combined, 0.95)).toBeCloseTo(2.2, 1);
  });
});
