import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { startDemo } from '../../server/demo.ts';
import type { Service } from '../../server/service.ts';

let folder: string;
let service: Service;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'catchbench-observe-'));
  service = await startDemo({ folder, port: 0, seed: '7', speed: 8, say: () => {} });
});
afterEach(async () => {
  await service.close();
  rmSync(folder, { recursive: true, force: true });
});

const logged = () =>
  readdirSync(join(folder, 'demo', 'logs'))
    .flatMap((file) =>
      readFileSync(join(folder, 'demo', 'logs', file), 'utf8')
        .trim()
        .split('\n'),
    )
    .map((line) => JSON.parse(line) as Record<string, unknown>);

const post = (path: string) => fetch(service.address + path, { method: 'POST' });
const arm = () =>
  fetch(`${service.address}/api/run/arm`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ list: 'passed-over' }),
  });

/** One sample of the text format of Prometheus: name, labels, value. */
async function scrape(): Promise<Map<string, number>> {
  const answer = await fetch(`${service.address}/metrics`);
  expect(answer.headers.get('content-type')).toMatch(/^text\/plain; version=0\.0\.4/);
  const samples = (await answer.text()).split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  return new Map(
    samples.map((line) => {
      const [, name, value] = /^(\S+(?:\{.*\})?) (\S+)$/.exec(line)!;
      return [name!, Number(value)];
    }),
  );
}

async function connected(): Promise<void> {
  while (service.session.view().link.condition !== 'connected') await pause(20);
  await pause(200);
}

describe('a service that is watched', () => {
  it('counts for Prometheus what it hears and what becomes of runs', async () => {
    await connected();
    const before = await scrape();
    expect(before.get('catchbench_stand_connected')).toBe(1);
    expect(before.get('catchbench_runs_begun_total')).toBe(0);
    expect((await arm()).status).toBe(200);
    expect((await post('/api/run/abort')).status).toBe(200);
    const after = await scrape();
    expect(after.get('catchbench_runs_begun_total')).toBe(1);
    expect(after.get('catchbench_runs_ended_total{outcome="aborted"}')).toBe(1);
    expect(after.get('catchbench_lines_total')!).toBeGreaterThan(before.get('catchbench_lines_total')! + 40);
    expect(after.get('catchbench_lines_refused_total{reason="wrong-check"}')).toBe(0);
    expect(after.get('process_resident_memory_bytes')!).toBeGreaterThan(1e7);
    // Asked twice, a counter does not grow by the asking.
    expect((await scrape()).get('catchbench_runs_begun_total')).toBe(1);
  });

  it('writes into the log who came, what was asked and how a run went, each once', async () => {
    await connected();
    await arm();
    await post('/api/run/abort');
    await fetch(`${service.address}/api/nothing?token=hush`);
    await pause(300);
    const events = logged();
    expect(events.filter(({ condition }) => condition === 'connected')).toHaveLength(1);
    expect(events.filter(({ outcome }) => outcome === 'aborted')).toHaveLength(1);
    expect(events).toContainEqual(
      expect.objectContaining({ method: 'POST', path: '/api/run/arm', status: 200 }),
    );
    expect(events).toContainEqual(expect.objectContaining({ path: '/api/nothing', status: 404 }));
    expect(JSON.stringify(events)).not.toContain('hush');
    expect(events.length).toBeLessThan(30);
  });
});
