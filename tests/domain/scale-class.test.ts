import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkMassOfClass, massTolerance } from '../../server/domain/check-masses.ts';
import { creepLimits, loadCellError } from '../../server/domain/load-cell-class.ts';
import {
  accuracyClasses,
  behavesAs,
  handbook44Tolerance,
  maximumPermissibleError,
  type ScaleError,
} from '../../server/domain/scale-class.ts';
import { grams } from '../../server/domain/units.ts';
import { between, refused } from './lots.ts';

const errorAt = (load: number, error: number, standardDoubt = 0): ScaleError => ({
  load: grams(load),
  error: grams(error),
  standardDoubt: grams(standardDoubt),
});

describe('behaving as a scale of a class', () => {
  it('names the finest interval whose limits all errors keep', () => {
    const verdict = behavesAs('III', [errorAt(50, 0.04), errorAt(200, -0.08), errorAt(500, 0.12)]);
    expect(verdict).toMatchObject({ fits: true, interval: 0.1, divisions: 5000, leastLoad: 2 });
    expect(verdict.sentence).toMatch(
      /class III scale with e = 0\.1 g, which would weigh from 2 g\..*no verification/,
    );
    const worse = behavesAs('III', [errorAt(50, 0.06), errorAt(200, -0.08), errorAt(500, 0.12)]);
    expect(worse).toMatchObject({ fits: true, interval: 0.2 });
  });

  it('twice the doubt of an error counts too', () => {
    expect(behavesAs('III', [errorAt(500, 0.12)])).toMatchObject({ interval: 0.1 });
    expect(behavesAs('III', [errorAt(500, 0.12, 0.02)])).toMatchObject({ interval: 0.2 });
  });

  it('in service twice as much is allowed', () => {
    const errors = [errorAt(50, 0.09), errorAt(500, 0.25)];
    expect(behavesAs('III', errors)).toMatchObject({ interval: 0.2 });
    expect(behavesAs('III', errors, 'service')).toMatchObject({ interval: 0.1 });
  });

  it('a perfect scale stays within what the class allows: no e below 0.1 g, no more than 10 000 of them', () => {
    expect(behavesAs('III', [errorAt(200, 0)])).toMatchObject({ interval: 0.1 });
    expect(behavesAs('III', [errorAt(200, 0)], 'verification', grams(5000))).toMatchObject({ interval: 0.5 });
    expect(behavesAs('II', [errorAt(200, 0)])).toMatchObject({ interval: 0.002 });
    expect(behavesAs('IIII', [errorAt(2000, 0)])).toMatchObject({ interval: 5, leastLoad: 50 });
  });

  it('says so when no interval will do', () => {
    const verdict = behavesAs('III', [errorAt(200, 20)]);
    expect(verdict.fits).toBe(false);
    expect(verdict.sentence).toMatch(/^No class III scale for loads to 200 g may be so far off/);
  });

  it('larger errors never give a finer scale, and the limits of the verdict hold all errors', () => {
    const list = fc.array(fc.tuple(between(0.1, 5000), between(-5, 5)), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(list, fc.constantFrom(...accuracyClasses), between(1, 10), (pairs, name, factor) => {
        const errors = pairs.map(([load, error]) => errorAt(load, error));
        const verdict = behavesAs(name, errors);
        const larger = behavesAs(
          name,
          pairs.map(([load, error]) => errorAt(load, error * factor)),
        );
        if (!verdict.fits) {
          expect(larger.fits).toBe(false);
          return;
        }
        for (const { load, error } of errors) {
          const limit = maximumPermissibleError(name, verdict.interval, load);
          expect(Math.abs(error)).toBeLessThanOrEqual(limit * (1 + 1e-9));
        }
        if (larger.fits) expect(larger.interval).toBeGreaterThanOrEqual(verdict.interval);
      }),
    );
  });

  it('refuses what is no load, no error or no capacity', () => {
    refused(() => behavesAs('III', []), 'too-few', 'errors');
    refused(() => behavesAs('III', [errorAt(-1, 0)]), 'out-of-range', 'load');
    refused(
      () => behavesAs('III', [{ ...errorAt(1, 0), error: Number.NaN as ReturnType<typeof grams> }]),
      'not-a-number',
      'error',
    );
    refused(() => behavesAs('III', [errorAt(1, 0, -1)]), 'out-of-range', 'standardDoubt');
    refused(() => behavesAs('III', [errorAt(100, 0)], 'service', grams(50)), 'out-of-range', 'capacity');
    refused(() => behavesAs('III', [errorAt(0, 0)]), 'out-of-range', 'capacity');
    refused(() => maximumPermissibleError('III', grams(0.1), grams(1001)), 'out-of-range', 'load');
    refused(() => maximumPermissibleError('III', grams(0), grams(1)), 'out-of-range', 'interval');
    refused(() => handbook44Tolerance(10_001, 'acceptance'), 'out-of-range', 'divisions');
    refused(() => loadCellError(-1), 'out-of-range', 'load');
    refused(() => creepLimits(10, 0.9), 'out-of-range', 'share');
  });
});

describe('check masses', () => {
  it('carry their name and a doubt that fits their tolerance', () => {
    expect(checkMassOfClass('M1', grams(2000))).toMatchObject({ name: '2 kg', grams: 2000 });
    const mass = checkMassOfClass('M2', grams(100));
    expect(mass.name).toBe('100 g');
    expect(mass.standardDoubt * Math.sqrt(3)).toBeCloseTo(0.016, 12);
  });

  it('no class vouches for an odd mass', () => {
    refused(() => massTolerance('M1', grams(150)), 'out-of-range', 'nominal');
    refused(() => massTolerance('M1', grams(0)), 'out-of-range', 'nominal');
  });
});
