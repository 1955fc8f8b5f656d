import fc from 'fast-check';
import { expect } from 'vitest';
import { DomainError } from '../../server/domain/error.ts';
import type { SeedLot } from '../../server/domain/seed-lot.ts';
import { gramsPerThousandSeeds } from '../../server/domain/seed-units.ts';

/** A lot, from percentages as a tag prints them. */
export function lotOf(
  thousandSeedWeight: number,
  purity = 100,
  germination = 100,
  hard = 0,
  dormant = 0,
): SeedLot {
  return {
    thousandSeedWeight: gramsPerThousandSeeds(thousandSeedWeight),
    purity: purity / 100,
    germination: germination / 100,
    hard: hard / 100,
    dormant: dormant / 100,
  };
}

export const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Lots with some live seed. */
export const anyLot: fc.Arbitrary<SeedLot> = fc
  .record({
    weight: between(0.05, 500),
    purity: between(30, 100),
    germination: between(20, 80),
    hard: between(0, 15),
    dormant: between(0, 5),
  })
  .map((lot) => lotOf(lot.weight, lot.purity, lot.germination, lot.hard, lot.dormant));

/** The two agree but for a rounding. */
export function near(a: number, b: number, relative = 1e-12): void {
  expect(Math.abs(a - b)).toBeLessThanOrEqual(relative * Math.abs(b));
}

/** The call is refused with a typed error that names the field, in a sentence. */
export function refused(call: () => unknown, code: string, field?: string): void {
  try {
    call();
  } catch (error) {
    expect(error).toBeInstanceOf(DomainError);
    expect(error).toMatchObject(field === undefined ? { code } : { code, field });
    expect((error as DomainError).message).toMatch(/^[A-Z0-9].{15,}\.$/);
    return;
  }
  expect.unreachable('nothing was refused');
}
