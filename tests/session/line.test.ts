import { describe, expect, it } from 'vitest';
import { faultScenarios } from '../../firmware-sim/drill/fault-scenarios.ts';
import { lineNoise, soundLine } from '../../firmware-sim/drill/line.ts';
import { Shop } from './shop.ts';

/** What happens on the serial line costs readings, never a turn or a gram. */

const timeout = 60_000;

async function runOf(name: string) {
  const shop = new Shop({ scenario: faultScenarios[name]!, seed: name });
  await shop.turning();
  await shop.until(() => shop.phase === 'finished');
  const { figures } = shop.session.view().run;
  const { turns, gramsCaught } = shop.drill.truth;
  const truth = { turns: turns(), grams: gramsCaught() };
  await shop.shut();
  return { figures, truth };
}

describe('a run over a bad serial line', () => {
  it('counts and weighs right though bytes are lost and turned', { timeout }, async () => {
    const { figures, truth } = await runOf('line-noisy');
    expect(figures.outcome).toBe('complete');
    expect(figures.lostReadings).toBeGreaterThan(20);
    expect(figures.turnsDone).toBeCloseTo(truth.turns, 0);
    expect(Math.abs(figures.grams! - truth.grams)).toBeLessThan(0.3);
  });

  it('goes on by itself while the cable is out for two seconds, and the totals are whole', {
    timeout,
  }, async () => {
    const { figures, truth } = await runOf('cable-out');
    // The board hears nothing from the computer for more than a second and stops the motor by its own rule.
    expect(figures.outcome).toBe('host-silent');
    expect(figures.turnsDone).toBeCloseTo(truth.turns, 0);
    expect(Math.abs(figures.grams! - truth.grams)).toBeLessThan(0.3);
  });

  it('ends as reset where the board was reset, and says so', { timeout }, async () => {
    const { figures } = await runOf('board-resets');
    expect(figures.outcome).toBe('board-reset');
    expect(figures.turnsDone).toBeLessThan(12);
    expect(figures.sentence).toMatch(/reset|started anew|began anew/i);
  });
});

describe('noise on the line', () => {
  const bytes = Uint8Array.from({ length: 20_000 }, (_, index) => index % 256);

  it('harms so many bytes as it says, the same ones for the same seed', () => {
    const noisy = { ...soundLine, lost: 0.02, flipped: 0.03 };
    const arrived = lineNoise(noisy, 1)(bytes);
    expect(arrived).toEqual(lineNoise(noisy, 1)(bytes));
    expect(arrived).not.toEqual(lineNoise(noisy, 2)(bytes));
    // 400 lost of 20 000, within four standard deviations of 20.
    expect(Math.abs(bytes.length - arrived.length - 400)).toBeLessThan(80);
    const flips = lineNoise({ ...noisy, lost: 0 }, 1)(bytes).filter((byte, index) => byte !== bytes[index]);
    expect(Math.abs(flips.length - 600)).toBeLessThan(100);
  });

  it('leaves a sound line alone', () => {
    expect(lineNoise(soundLine, 1)(bytes)).toBe(bytes);
  });
});
