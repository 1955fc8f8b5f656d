import { connect, type Socket } from 'node:net';

/** Requests sent one behind the other without waiting, and the answers taken apart: as much as one connection carries. */

export interface WireAnswer {
  status: number;
  /** Beginning of the body. */
  body: string;
}

const headEnd = Buffer.from('\r\n\r\n');
const keptOfBody = 400;

/** Takes answers off the front of what has come. */
class Answers {
  #held: Buffer = Buffer.alloc(0);

  take(data: Buffer, each: (answer: WireAnswer) => void): void {
    this.#held = this.#held.length === 0 ? data : Buffer.concat([this.#held, data]);
    for (;;) {
      const taken = this.#first();
      if (taken === null) return;
      this.#held = this.#held.subarray(taken.length);
      each(taken.answer);
    }
  }

  #first(): { answer: WireAnswer; length: number } | null {
    const end = this.#held.indexOf(headEnd);
    if (end < 0) return null;
    const head = this.#held.toString('latin1', 0, end);
    const status = Number(/^HTTP\/1\.1 (\d{3})/.exec(head)?.[1] ?? -1);
    const from = end + headEnd.length;
    if (/\r\ntransfer-encoding: chunked/i.test(head)) return this.#chunked(status, from);
    const length = Number(/\r\ncontent-length: (\d+)/i.exec(head)?.[1] ?? 0);
    if (this.#held.length < from + length) return null;
    const body = this.#held.toString('utf8', from, from + Math.min(length, keptOfBody));
    return { answer: { status, body }, length: from + length };
  }

  #chunked(status: number, from: number): { answer: WireAnswer; length: number } | null {
    for (let at = from; ; ) {
      const line = this.#held.indexOf('\r\n', at);
      if (line < 0) return null;
      const size = Number.parseInt(this.#held.toString('latin1', at, line), 16);
      at = line + 2 + size + 2;
      if (this.#held.length < at) return null;
      if (size === 0) return { answer: { status, body: '' }, length: at };
    }
  }
}

/**
 * Sends these whole requests on one connection; resolves with the answers that came until all were there or the server hung up.
 */
export function sendAll(port: number, requests: readonly Buffer[]): Promise<WireAnswer[]> {
  return new Promise((resolve) => {
    const heard: WireAnswer[] = [];
    const answers = new Answers();
    const wire = connect(port, '127.0.0.1', () => wire.write(Buffer.concat(requests)));
    wire.setNoDelay(true);
    wire.on('data', (data) => {
      answers.take(data, (answer) => heard.push(answer));
      if (heard.length >= requests.length) wire.destroy();
    });
    wire.on('error', () => {});
    wire.on('close', () => resolve(heard));
  });
}

/** Sends these bytes, ends, and resolves with the answers that came until the server hung up or this time has passed. */
export function sendBytes(port: number, bytes: Buffer, patienceMillis = 1000): Promise<WireAnswer[]> {
  return new Promise((resolve) => {
    const heard: WireAnswer[] = [];
    const answers = new Answers();
    const wire: Socket = connect(port, '127.0.0.1', () => wire.end(bytes));
    const tooLong = setTimeout(() => wire.destroy(), patienceMillis);
    wire.on('data', (data) => answers.take(data, (answer) => heard.push(answer)));
    wire.on('error', () => {});
    wire.on('close', () => {
      clearTimeout(tooLong);
      resolve(heard);
    });
  });
}
