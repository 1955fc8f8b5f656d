import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  answerMillis,
  askedBy,
  awayMillis,
  freeWheel,
  heldBy,
  kept,
  leftBy,
  type Wheel,
  waitToTake,
} from '../../server/access/wheel.ts';

const people = ['ann', 'bo', 'cy'] as const;
const person = fc.constantFrom(...people);
const act = fc.record({
  what: fc.constantFrom('hold', 'ask', 'keep', 'leave', 'take'),
  person,
  wait: fc.nat(40_000),
});

describe('the wheel', () => {
  it('has one holder at most, who never asks; nobody asks twice; whatever is done in whatever order', () => {
    fc.assert(
      fc.property(fc.array(act, { maxLength: 40 }), (acts) => {
        let wheel: Wheel = freeWheel;
        let now = 0;
        for (const { what, person: who, wait } of acts) {
          now += wait;
          const before = wheel;
          if (what === 'hold' && wheel.holder === null) wheel = heldBy(wheel, who, now);
          if (what === 'ask') wheel = askedBy(wheel, who, now);
          if (what === 'keep' && wheel.holder === who) wheel = kept(wheel);
          if (what === 'leave') wheel = leftBy(wheel, who);
          if (what === 'take' && waitToTake(wheel, who, null, now) === 0) wheel = heldBy(wheel, who, now);
          const asking = wheel.asking.map((one) => one.person);
          expect(new Set(asking).size).toBe(asking.length);
          expect(asking).not.toContain(wheel.holder);
          // Taken from another without a yes: only after it was asked for, long enough ago.
          if (what === 'take' && before.holder !== null && before.holder !== wheel.holder) {
            const asked = before.asking.find((one) => one.person === who);
            expect(asked).toBeDefined();
            expect(now - asked!.at).toBeGreaterThanOrEqual(answerMillis);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it('can be taken at once where it is free, and by whoever holds it', () => {
    expect(waitToTake(freeWheel, 'ann', null, 0)).toBe(0);
    expect(waitToTake(heldBy(freeWheel, 'ann', 0), 'ann', null, 0)).toBe(0);
  });

  it('cannot be taken from one who is here without asking first', () => {
    expect(waitToTake(heldBy(freeWheel, 'ann', 0), 'bo', null, 1e9)).toBeNull();
  });

  it('can be taken after half a minute without an answer, or ten seconds after the last page was closed', () => {
    const asked = askedBy(heldBy(freeWheel, 'ann', 0), 'bo', 1000);
    expect(waitToTake(asked, 'bo', null, 1000)).toBe(answerMillis);
    expect(waitToTake(asked, 'bo', null, 1000 + answerMillis - 1)).toBe(1);
    expect(waitToTake(asked, 'bo', null, 1000 + answerMillis)).toBe(0);
    expect(waitToTake(asked, 'bo', 2000, 2000)).toBe(awayMillis);
    expect(waitToTake(heldBy(freeWheel, 'ann', 0), 'cy', 2000, 2000 + awayMillis)).toBe(0);
  });

  it('makes those who ask wait anew once it has passed to another', () => {
    const asked = askedBy(askedBy(heldBy(freeWheel, 'ann', 0), 'bo', 0), 'cy', 0);
    expect(heldBy(asked, 'bo', 20_000)).toEqual({ holder: 'bo', asking: [{ person: 'cy', at: 20_000 }] });
  });
});
