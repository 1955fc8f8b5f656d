import { beforeAll, describe, expect, it } from 'vitest';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import {
  addPoint,
  addTurn,
  chanceOf,
  mostOrders,
  noMeans,
  noSums,
  type OrderMeans,
  orderFigure,
} from '../../server/domain/trace/order-spectrum.ts';
import { bundled, whole } from './bundled.ts';
import type { Swelling } from './wheel-campaign.ts';

/** Amplitude orders of `turns` turns of `flow(angle)`, sampled `samples` times a turn. */
function meansOf(flow: (angle: number) => number, turns: number, samples = 128): OrderMeans {
  let means = noMeans;
  for (let turn = 0; turn < turns; turn++) {
    const sums = { re: noSums.re.slice(), im: noSums.im.slice() };
    for (let n = 0; n < samples; n++) {
      const angle = turn + (n + 0.5) / samples;
      addPoint([sums], angle, [flow(angle)], 1 / samples);
    }
    means = addTurn(means, sums, 0);
  }
  return means;
}

describe('the order spectrum', () => {
  it('gives back the amplitude of each order, whatever its phase', () => {
    const flow = (angle: number) =>
      3 * Math.cos(2 * Math.PI * 5 * angle + 1) + 0.5 * Math.sin(2 * Math.PI * angle);
    const means = meansOf(flow, 4);
    for (let order = 1; order <= mostOrders; order++) {
      const expected = order === 5 ? 3 : order === 1 ? 0.5 : 0;
      expect(orderFigure(means, order).amplitude).toBeCloseTo(expected, 9);
    }
  });

  it('takes off a straight line', () => {
    const sums = { re: noSums.re.slice(), im: noSums.im.slice() };
    const samples = 512;
    for (let n = 0; n < samples; n++) {
      const angle = (n + 0.5) / samples;
      addPoint([sums], angle, [7 * angle], 1 / samples);
    }
    const means = addTurn(noMeans, sums, 7);
    for (let order = 1; order <= mostOrders; order++)
      expect(orderFigure(means, order).amplitude).toBeLessThan(0.003);
  });

  it('the chance for one figure is the F distribution with 2 and 2 m degrees of freedom: (1 + f / m)^-m', () => {
    // Closed form of the F distribution's tail for 2 degrees of freedom above: any textbook, from memory.
    for (const turns of [6, 11, 40]) {
      for (const f of [0.5, 3, 12, 40]) {
        const m = turns - 1;
        expect(chanceOf([{ amplitude: Math.sqrt(f), variance: 1 }], turns) / (1 + f / m) ** -m).toBeCloseTo(
          1,
          9,
        );
      }
    }
  });

  it('noise alone falls below a chance as often as that chance says, or more seldom', () => {
    const random = randomStreams('order noise')('noise');
    const draws = 4000;
    let below = 0;
    for (let draw = 0; draw < draws; draw++) {
      let means = noMeans;
      for (let turn = 0; turn < 10; turn++) {
        const re = Array.from({ length: mostOrders }, () => random.normal());
        means = addTurn(means, { re, im: re.map(() => random.normal()) }, 0);
      }
      if (chanceOf([orderFigure(means, 3)], 10) < 0.05) below++;
    }
    // Some draws have neighbours alike by chance, which counts against them.
    expect(below / draws).toBeLessThan(0.058);
    expect(below / draws).toBeGreaterThan(0.03);
  });
});

const swellings: (Swelling & { within: number })[] = [
  { order: 1, depth: 0.4, turnsPerMinute: 45, packing: 1, within: 20 },
  { order: 4, depth: 0.8, turnsPerMinute: 30, packing: 1, within: 15 },
  { order: 6, depth: 0.8, turnsPerMinute: 30, packing: 1, within: 15 },
  { order: 8, depth: 0.8, turnsPerMinute: 45, packing: 0.4, within: 35 },
];
const runs = whole ? 100 : 8;

describe('pulsation of the flow, on the imagined drill', () => {
  let campaign: typeof import('./wheel-campaign.ts');
  beforeAll(async () => {
    campaign = await bundled(new URL('wheel-campaign.ts', import.meta.url));
  });

  it.each(swellings)(
    'order $order, ± $depth, at $turnsPerMinute turns a minute: found within $within turns, its order told right',
    { timeout: 600_000 },
    ({ within, ...swelling }) => {
      const found = campaign.pulsationCampaign(swelling, runs);
      const turns = found.map((one) => one?.turns ?? Infinity).sort((one, other) => one - other);
      const late = turns[Math.ceil(0.95 * runs) - 1]!;
      console.info(
        `order ${swelling.order}, depth ${swelling.depth}: median after ${turns[runs >> 1]!.toFixed(0)} turns, 95 of 100 after ${late.toFixed(0)}`,
      );
      expect(late).toBeLessThanOrEqual(within);
      expect(found.filter((one) => one?.right).length).toBeGreaterThanOrEqual(0.95 * runs);
    },
  );

  it('an even flow gives none', { timeout: 600_000 }, () => {
    const even = { order: 8, depth: 0, turnsPerMinute: 45, packing: 1 };
    expect(campaign.pulsationCampaign(even, 2 * runs).every((one) => one === null)).toBe(true);
  });
});
