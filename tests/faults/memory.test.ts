import { afterEach, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import type { HealthAnswer, StateAnswer } from '../../server/http/messages.ts';
import { getReady, type Program, startProgram } from '../http/program.ts';
import { pause } from '../http/server.ts';
import { temporaryFolders } from '../records/folders.ts';

const folder = temporaryFolders();
let program: Program;
const sockets: WebSocket[] = [];
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.terminate();
  program.child.kill('SIGKILL');
  await program.ended;
});

async function get<T>(path: string): Promise<T> {
  return (await fetch(program.address + path)).json() as Promise<T>;
}

async function residentMegabytes(): Promise<number> {
  const metrics = await (await fetch(`${program.address}/metrics`)).text();
  return Number(/^process_resident_memory_bytes (\d+)/m.exec(metrics)![1]) / 1e6;
}

/** A page that opens, says it is there, and never reads again: what it is sent piles up wherever it can. */
async function stalledPage(): Promise<void> {
  const socket = new WebSocket(`${program.address.replace('http', 'ws')}/api/live`);
  sockets.push(socket);
  await new Promise((resolve, reject) => {
    socket.once('message', resolve);
    socket.once('error', reject);
  });
  (socket as unknown as { _socket: { pause(): void } })._socket.pause();
}

describe('a service with little memory', () => {
  it('brings a run to its end before sixty pages that never read, within a heap of 96 MB', {
    timeout: 120_000,
  }, async () => {
    program = await startProgram(['demo', '--seed', '5', '--speed', '8'], {
      CATCHBENCH_DATA: folder(),
      NODE_OPTIONS: '--max-old-space-size=96',
    });
    for (let page = 0; page < 60; page += 1) await stalledPage();
    const post = (act: string) => fetch(`${program.address}/api/run/${act}`, { method: 'POST' });
    while (!(await getReady(program.address))) await pause(100);
    expect((await post('start')).status).toBe(200);
    let state = await get<StateAnswer>('/api/state');
    while (state.run.figures.phase !== 'finished') {
      await pause(200);
      state = await get<StateAnswer>('/api/state');
    }
    expect(state.run.figures.outcome).toBe('complete');
    expect((await get<HealthAnswer>('/api/health')).reasons).toEqual([]);
    // Heap, code, buffers and the emulated board; a queue that grew with every page would pass this many times over.
    expect(await residentMegabytes()).toBeLessThan(320);
  });
});
