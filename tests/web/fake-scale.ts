import type { FakeSession } from './fake-session.ts';

/** An invented cell behind a fake session: readings with a little noise, ten times as fast as on a stand. */
export class FakeScale {
  /** What lies on it. */
  grams = 0;
  /** What it shows for a gram, over what its settings say. */
  slope = 1;
  readonly #session: FakeSession;
  #micros = 0;
  #sequence = 0;
  #noise = 1;
  #timer: ReturnType<typeof setInterval> | null = null;

  constructor(session: FakeSession) {
    this.#session = session;
  }

  start(): void {
    this.#timer = setInterval(() => {
      for (let reading = 0; reading < 16; reading++) this.#read();
    }, 20);
  }

  stop(): void {
    if (this.#timer !== null) clearInterval(this.#timer);
  }

  /** A minimal standard generator (Park and Miller, 1988), so that every test sees the same noise. */
  #random(): number {
    this.#noise = (this.#noise * 16807) % 2147483647;
    return this.#noise / 2147483647 - 0.5;
  }

  #read(): void {
    const { gramsPerCount, zeroCount } = this.#session.stand.cells[0]!;
    this.#micros += 12_500;
    const trembling = 40 * (this.#random() + this.#random());
    this.#session.read({
      kind: 'reading',
      sequence: this.#sequence++,
      boardMicros: this.#micros,
      forwardPulses: 0,
      backwardPulses: 0,
      pulseAgeMicros: null,
      state: 'idle',
      why: '-',
      flags: 0,
      counts: [Math.round(zeroCount + (this.slope * this.grams) / gramsPerCount + trembling)],
    });
  }
}
