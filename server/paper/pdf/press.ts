import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { drawPdf, type PrintJob } from './draw.ts';

/** Sheets waiting to be drawn; more at once nobody prints. */
const mostWaiting = 16;

/** Nothing more can be drawn now. */
export class PressError extends Error {
  override name = 'PressError';
}

export type Drawn = { bytes: Uint8Array } | { failure: string };

interface Waiting {
  resolve: (bytes: Uint8Array) => void;
  reject: (error: Error) => void;
}

/** The built program has the drawing beside it as a file of its own; run from source there is none. */
const threadFile = fileURLToPath(new URL('paper-thread.js', import.meta.url));

/**
 * Draws papers in a thread of its own: fonts take some hundred milliseconds, and the stand wants to hear from the service four times a second. Run
 * from source it draws where it stands.
 */
export class Press {
  #worker: Worker | null = null;
  readonly #waiting: Waiting[] = [];

  /** The paper as PDF. @throws PressError where too many wait or drawing fails. */
  async print(job: PrintJob): Promise<Buffer> {
    if (!existsSync(threadFile)) return drawPdf(job);
    if (this.#waiting.length >= mostWaiting) {
      throw new PressError('Too many sheets are being made at once. Try again in a moment.');
    }
    const worker = this.#running();
    const bytes = await new Promise<Uint8Array>((resolve, reject) => {
      this.#waiting.push({ resolve, reject });
      worker.ref();
      worker.postMessage(job);
    });
    return Buffer.from(bytes);
  }

  async close(): Promise<void> {
    await this.#worker?.terminate();
  }

  #running(): Worker {
    if (this.#worker !== null) return this.#worker;
    const worker = new Worker(threadFile);
    worker.on('message', (drawn: Drawn) => {
      const first = this.#waiting.shift();
      // Idle, it keeps no program from ending.
      if (this.#waiting.length === 0) worker.unref();
      if ('bytes' in drawn) first?.resolve(drawn.bytes);
      else first?.reject(new PressError(drawn.failure));
    });
    const ended = (why: string) => {
      this.#worker = null;
      for (const each of this.#waiting.splice(0)) each.reject(new PressError(why));
    };
    worker.on('error', (error) => ended(`The sheet could not be drawn: ${error.message}`));
    worker.on('exit', () => ended('The sheet could not be drawn: the service is closing.'));
    this.#worker = worker;
    return worker;
  }
}
