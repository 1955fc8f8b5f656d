import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { purityTolerance } from '../../server/domain/purity.ts';
import { between, near, refused } from './lots.ts';

describe('how far purity may lie from the tag', () => {
  it('grows towards half and half, is wider for chaffy seed, and the same for what is missing', () => {
    fc.assert(
      fc.property(between(0, 1), between(0, 1), fc.boolean(), (a, b, chaffy) => {
        const [nearer, farther] = Math.abs(a - 0.5) < Math.abs(b - 0.5) ? [a, b] : [b, a];
        expect(purityTolerance(nearer, chaffy)).toBeGreaterThanOrEqual(purityTolerance(farther, chaffy));
        expect(purityTolerance(a, true)).toBeGreaterThan(purityTolerance(a));
        const percent = Math.round(10_000 * a) / 10_000;
        near(purityTolerance(percent, chaffy), purityTolerance(1 - percent, chaffy));
      }),
    );
  });

  it('refuses what is no share', () => {
    refused(() => purityTolerance(98), 'out-of-range', 'purity');
    refused(() => purityTolerance(-0.1), 'out-of-range', 'purity');
    refused(() => purityTolerance(Number.NaN), 'not-a-number', 'purity');
  });
});
