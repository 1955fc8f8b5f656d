import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BagOnCell } from '../../firmware-sim/drill/bag.ts';

const settings = { emptyGrams: 50, hertz: 6, dampingRatio: 0.2 };

describe('a bag on its cell', () => {
  it('overshoots a laid-on load as a damped spring does, and comes to rest on it', () => {
    const bag = new BagOnCell(settings, 0);
    bag.land(1, 10);
    // Second-order step response (any textbook of control, from memory): first peak exp(-pi z / sqrt(1 - z²)) above, at
    // half a damped period.
    const damped = Math.sqrt(1 - 0.2 ** 2);
    const peak = bag.feltGrams(1 + 1 / (2 * 6 * damped));
    expect(peak - 60).toBeCloseTo(10 * Math.exp((-Math.PI * 0.2) / damped), 9);
    expect(bag.feltGrams(10)).toBeCloseTo(60, 9);
  });

  it('shows a steady stream heavier by flow x speed / g while it lasts, and right afterwards', () => {
    const bag = new BagOnCell(settings, 2);
    let last = 0;
    let landed = 0;
    for (let at = 0.001; at < 10; at += 0.001) {
      bag.land(at, 0.003);
      landed += 0.003;
      last = at;
    }
    // Momentum of 3 g/s at 2 m/s is 0.006 N, the weight of 0.612 g; the spring lags by 2 z / w x 3 g/s = 0.032 g.
    const lag = ((2 * 0.2) / (2 * Math.PI * 6)) * 3;
    expect(bag.feltGrams(last + 0.0005) - landed - 50).toBeCloseTo(0.6118 - lag, 1);
    expect(bag.feltGrams(20)).toBeCloseTo(50 + landed, 9);
  });

  it('gives the same however often it is asked on the way', () => {
    const step = fc.double({ min: 0.0001, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(step, fc.double({ min: 0, max: 1, noNaN: true })), { maxLength: 40 }),
        (seeds) => {
          const [asked, left] = [new BagOnCell(settings, 1.5), new BagOnCell(settings, 1.5)];
          let at = 0;
          for (const [gap, grams] of seeds) {
            asked.feltGrams(at + gap / 3);
            at += gap;
            asked.land(at, grams);
            left.land(at, grams);
          }
          expect(asked.feltGrams(at + 0.1)).toBeCloseTo(left.feltGrams(at + 0.1), 8);
        },
      ),
    );
  });
});
