import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { markIn, startDemo } from '../../server/demo.ts';
import type { Service } from '../../server/service.ts';

/** Whoever changes the setting in the demo's plan moves the imagined drill's lever. */

const folder = mkdtempSync(join(tmpdir(), 'catchbench-demo-'));
let demo: Service;
beforeAll(async () => {
  demo = await startDemo({ folder, seed: '7', speed: 8, port: 0, say: () => {} });
});
afterAll(async () => {
  await demo.close();
  rmSync(folder, { recursive: true, force: true });
});

async function until(done: () => boolean): Promise<void> {
  while (!done()) await new Promise((resolve) => setTimeout(resolve, 20));
}

async function rateAt(setting: string): Promise<number> {
  const { session } = demo;
  const { plan } = session.view();
  await session.keepPlan({ ...plan, drill: { ...plan.drill, setting }, turns: 6 });
  expect((await session.arm()).ok).toBe(true);
  await until(() => session.view().run.figures.phase === 'ready');
  expect((await session.start()).ok).toBe(true);
  await until(() => session.view().run.figures.phase === 'finished');
  return session.view().run.figures.rate!.gramsPerSquareMetre;
}

it('twice the mark on the scale gives nearly twice the rate', { timeout: 60_000 }, async () => {
  await until(() => demo.session.view().link.board?.settings === 'ok');
  const [low, high] = [await rateAt('24'), await rateAt('48')];
  // 0.27 + 0.1 x 48 g to 0.27 + 0.1 x 24 g a turn is 1.90; six turns know each rate to some 6 %.
  expect(high / low).toBeGreaterThan(1.6);
  expect(high / low).toBeLessThan(2.2);
});

it('reads the mark as people write it', () => {
  expect(markIn('32')).toBe(32);
  expect(markIn('32,5')).toBe(32.5);
  expect(markIn('notch 7')).toBe(7);
  expect(markIn('as last year')).toBe(null);
});
