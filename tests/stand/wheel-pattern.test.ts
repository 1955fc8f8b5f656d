/** Which magnet is missing, seen twice or off its place, from the times of three turns by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../server/link/readings.ts';
import { noPulses, wheelPattern, withPulses } from '../../server/stand/wheel-pattern.ts';

interface Wheel {
  magnets: number;
  missing?: number;
  /** Seen again so far behind, as a share of the spacing. */
  doubled?: { magnet: number; behind: number };
  late?: { magnet: number; by: number };
  /** Swell of the speed, once a turn. */
  uneven?: number;
}

/** Times of the pulses of three turns, microseconds, of a wheel at 30 turns a minute. */
function timesOf({ magnets, missing, doubled, late, uneven = 0 }: Wheel): number[] {
  const places = Array.from({ length: 3 * magnets }, (_, i) => i).flatMap((i) => {
    const magnet = i % magnets;
    if (magnet === missing) return [];
    const place = i + (magnet === late?.magnet ? late.by : 0);
    return magnet === doubled?.magnet ? [place, place + doubled.behind] : [place];
  });
  // Time at a place: the integral of 1 / (1 + u sin x), to first order in u.
  return places.map((place) => {
    const angle = (2 * Math.PI * place) / magnets;
    return (2e6 / (2 * Math.PI)) * (angle + uneven * Math.cos(angle));
  });
}

describe('the pattern of the pulses', () => {
  const magnets = fc.integer({ min: 8, max: 60 });
  const uneven = fc.double({ min: 0, max: 0.3, noNaN: true });
  const runs = { numRuns: 300, seed: 3 };

  it('of a whole disc turned unevenly by hand is whole', () => {
    fc.assert(
      fc.property(magnets, uneven, (count, swell) => {
        const pattern = wheelPattern(timesOf({ magnets: count, uneven: swell }), 3)!;
        expect(pattern).toMatchObject({ perTurn: count, missingAfter: [], doubledAt: [] });
        expect(pattern.worstPlace).toBeLessThan(0.2);
      }),
      runs,
    );
  });

  it('names the one magnet that is missing', () => {
    fc.assert(
      fc.property(magnets, uneven, fc.nat(1000), (count, swell, chosen) => {
        const missing = 1 + (chosen % (count - 2));
        const pattern = wheelPattern(timesOf({ magnets: count, uneven: swell, missing }), 3)!;
        expect(pattern).toMatchObject({ perTurn: count - 1, missingAfter: [missing - 1], doubledAt: [] });
      }),
      runs,
    );
  });

  it('names the one that is seen twice', () => {
    fc.assert(
      fc.property(
        magnets,
        uneven,
        fc.nat(1000),
        fc.double({ min: 0.1, max: 0.35, noNaN: true }),
        (count, swell, chosen, behind) => {
          const magnet = 1 + (chosen % (count - 2));
          const pattern = wheelPattern(
            timesOf({ magnets: count, uneven: swell, doubled: { magnet, behind } }),
            3,
          )!;
          expect(pattern).toMatchObject({ perTurn: count + 1, missingAfter: [], doubledAt: [magnet + 1] });
        },
      ),
      runs,
    );
  });

  it.each([0.05, 0.1, 0.25])('tells how far one stands off its place: %s of the spacing', (by) => {
    const pattern = wheelPattern(timesOf({ magnets: 24, late: { magnet: 5, by } }), 3)!;
    expect(pattern.worstPlace).toBeGreaterThan(0.9 * by);
    expect(pattern.worstPlace).toBeLessThan(1.2 * by);
  });

  it('is none where too few pulses came', () => {
    expect(wheelPattern([1, 2, 3], 3)).toBeNull();
    expect(wheelPattern([], 3)).toBeNull();
  });
});

it('pulses are timed by their age, and those that came together lie evenly', () => {
  const reading = (boardMicros: number, pulseAgeMicros: number | null) =>
    ({ boardMicros, pulseAgeMicros }) as Reading;
  let pulses = noPulses(10);
  pulses = withPulses(pulses, reading(1_000_000, null), 10);
  pulses = withPulses(pulses, reading(1_012_000, 2000), 11);
  pulses = withPulses(pulses, reading(1_050_000, 10_000), 14);
  expect(pulses.times).toEqual([1_010_000, 1_020_000, 1_030_000, 1_040_000]);
});
