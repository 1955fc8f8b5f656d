import { type ChildProcess, fork } from 'node:child_process';
import { WebSocket } from 'ws';
import { type Figure, judged } from '../figures.ts';
import type { FanOutAsked, FanOutTold } from './fan-out-server.ts';
import { programOf } from './processes.ts';

const watchers = 200;
const framesARound = 150;
const rounds = 5;

const told = (child: ChildProcess): Promise<FanOutTold> =>
  new Promise((resolve) => child.once('message', (message) => resolve(message as FanOutTold)));

function ask(child: ChildProcess, asked: FanOutAsked): Promise<FanOutTold> {
  child.send(asked);
  return told(child);
}

/** Sockets that read all they are sent and count it. */
async function open(url: string, received: { frames: number }): Promise<WebSocket[]> {
  const sockets: WebSocket[] = [];
  for (let count = 0; count < watchers; count += 1) {
    const socket = new WebSocket(url, { perMessageDeflate: false });
    socket.on('message', () => {
      received.frames += 1;
    });
    await new Promise((resolve) => socket.once('open', resolve));
    sockets.push(socket);
  }
  return sockets;
}

/** What it costs the service to bring one frame to one page, against a bare broadcast of the same bytes in the same process. */
export async function fanOut(): Promise<Figure[]> {
  const program = await programOf(new URL('./fan-out-server.ts', import.meta.url));
  const child = fork(program.path, { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const { port } = await told(child);
  const received = { hub: { frames: 0 }, bare: { frames: 0 } };
  const sockets = [
    ...(await open(`ws://127.0.0.1:${port}/hub`, received.hub)),
    ...(await open(`ws://127.0.0.1:${port}/bare`, received.bare)),
  ];
  const microsEach = { hub: [] as number[], bare: [] as number[] };
  let bytesOfFrame = 0;
  for (let round = 0; round < rounds; round += 1) {
    for (const way of ['bare', 'hub'] as const) {
      const before = received[way].frames;
      const { processorMillis = 0, bytesOfFrame: bytes = 0 } = await ask(child, {
        way,
        frames: framesARound,
      });
      bytesOfFrame = bytes;
      await new Promise((resolve) => setTimeout(resolve, 200));
      const delivered = received[way].frames - before;
      if (delivered < framesARound * watchers * 0.99)
        throw new Error(`${way}: only ${delivered} frames arrived`);
      microsEach[way].push((processorMillis * 1000) / delivered);
    }
  }
  for (const socket of sockets) socket.terminate();
  child.disconnect();
  program.remove();
  const best = (values: number[]) => Math.min(...values);
  return [
    judged({
      id: 'fan-out',
      value: best(microsEach.hub),
      unit: 'µs a frame and page',
      reference: best(microsEach.bare),
      aim: '<= 1.5',
      how: `processor time of the service's process, ${watchers} pages, frames of ${bytesOfFrame} bytes, best of ${rounds} rounds of ${framesARound}; reference: the same bytes sent by bare ws to as many sockets`,
    }),
  ];
}
