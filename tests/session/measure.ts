import { TestServer } from '../http/server.ts';

/** From a reading's last byte reaching the computer to the message that shows it reaching a page; the wait for the message's turn included. */
export interface FrameLatency {
  medianMillis: number;
  p99Millis: number;
  /** Live messages and readings that the figures are of. */
  messages: number;
  readings: number;
}

function quantile(values: number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

const readingPattern = /^R \d+ (\d+) /;

/**
 * Measures over `seconds` of a turning wheel: emulated stand in real time, session, hub, socket and page in one process, so the emulator's own slices
 * of up to 5 ms are in the figures.
 */
export async function measureLatency(seconds = 10): Promise<FrameLatency> {
  const server = await TestServer.start({ plan: { turns: 200 }, speed: 1 });
  const { session, stand } = server.shop;
  /** When each reading came, by the run's own seconds; filled while the session takes it in. */
  const cameAt = new Map<number, number>();
  let newestByteAt = 0;
  let rest = '';
  stand.onBytes((bytes) => {
    rest = (rest + Buffer.from(bytes).toString('latin1')).split('\n').at(-1)!;
    if (rest === '' || readingPattern.test(rest)) newestByteAt = performance.now();
  });
  await server.connected();
  const page = await server.page();
  let messages = 0;
  const waits: number[] = [];
  await session.arm();
  await session.start();
  session.listen({
    changed: () => {
      const { figures } = session.view().run;
      if (figures.phase === 'turning' && !cameAt.has(figures.seconds))
        cameAt.set(figures.seconds, newestByteAt);
    },
    began: () => {},
    planned: () => {},
  });
  page.socket.on('message', () => {
    const message = page.messages.at(-1)!;
    if (message.type !== 'live') return;
    const now = performance.now();
    const shown = message.run.figures.seconds;
    messages++;
    for (const [runSeconds, came] of cameAt) {
      if (runSeconds > shown) break;
      waits.push(now - came);
      cameAt.delete(runSeconds);
    }
  });
  const end = stand.seconds + seconds;
  while (stand.seconds < end) await new Promise((resolve) => setTimeout(resolve, 20));
  await server.stop();
  return {
    medianMillis: quantile(waits, 0.5),
    p99Millis: quantile(waits, 0.99),
    messages,
    readings: waits.length,
  };
}
