import type { Clock } from '../clock.ts';
import { type BoardCommand, CommandError, encodeCommand, greatestTag, stopCharacter } from './encode.ts';
import type { Answer } from './readings.ts';

export type SendFailure =
  | 'not-connected'
  | 'no-answer' // it may have arrived or not
  | 'refused' // by the board; `word` says why
  | 'invalid' // never sent: the board could only refuse it
  | 'overtaken' // by Stop
  | 'too-many'; // never sent: others are waiting already

export type SendResult =
  | { ok: true /** What the board added: for `arm` the start key. */; word: string }
  | {
      ok: false;
      failure: SendFailure /** The board's word where it refused, or empty. */;
      word: string;
      sentence: string;
    };

const failureSentences: Record<Exclude<SendFailure, 'invalid' | 'refused'>, string> = {
  'not-connected': 'The stand is not connected, so nothing was sent. Connect it and try again.',
  'no-answer':
    'The stand did not answer. Check its power and cable, and look at the stand before you try again.',
  overtaken: 'Stop was pressed before the stand had done this.',
  'too-many': 'The stand is still busy with earlier commands. Try again in a moment.',
};

const refusalSentences: Record<string, string> = {
  unknown: 'The stand does not know this command. Its firmware may be older than this program.',
  value: 'The stand does not accept this value.',
  state: 'The stand cannot do this in its present state.',
  button: 'The stop button is pressed or its wire is off. Release it first.',
  settings: "The stand's settings are missing or damaged. Set it up before a run.",
  key: 'The stand was armed anew since. Arm it again and then start.',
};

interface Patience {
  /** Times the command is written at most, each with a new tag. */
  tries: number;
  /** Milliseconds to wait for each answer. */
  wait: number;
}

/** `go` is never written twice: the first may have started the wheel. `save` keeps the board busy for about 0.3 s. */
const patience: Record<BoardCommand['command'], Patience> = {
  id: { tries: 2, wait: 250 },
  beat: { tries: 2, wait: 250 },
  arm: { tries: 2, wait: 250 },
  go: { tries: 1, wait: 250 },
  stop: { tries: 4, wait: 250 },
  get: { tries: 2, wait: 1000 },
  set: { tries: 2, wait: 250 },
  save: { tries: 1, wait: 1500 },
  health: { tries: 2, wait: 250 },
  help: { tries: 2, wait: 250 },
  lamp: { tries: 2, wait: 250 },
};

const mostWaiting = 16;

interface Order {
  command: BoardCommand;
  resolve: (result: SendResult) => void;
}

interface Flight extends Order {
  tag: number;
  triesLeft: number;
  cancel: () => void;
}

/**
 * Commands on their way: one at a time, each with its tag, its wait and its outcome. Stop waits for none of them and throws out those
 * that wait; nothing outlives the connection it was meant for.
 */
export class CommandDesk {
  readonly #clock: Clock;
  /** Writes to the open port now or returns false. */
  readonly #write: (text: string) => boolean;
  readonly #waiting: Order[] = [];
  #flight: Flight | null = null;
  #stopFlight: Flight | null = null;
  #stopResult: Promise<SendResult> | null = null;
  #tag = 0;

  constructor(clock: Clock, write: (text: string) => boolean) {
    this.#clock = clock;
    this.#write = write;
  }

  /** Writes the command as soon as those before it are answered. Never rejects. */
  send(command: BoardCommand): Promise<SendResult> {
    if (command.command === 'stop') return this.stop();
    const fault = faultOf(command);
    if (fault !== null) return Promise.resolve({ ok: false, failure: 'invalid', word: '', sentence: fault });
    if (this.#waiting.length >= mostWaiting) return Promise.resolve(failed('too-many'));
    return new Promise((resolve) => {
      this.#waiting.push({ command, resolve });
      this.#next();
    });
  }

  /** Writes Stop at once, ahead of everything; what waits or is in the air is overtaken. */
  stop(): Promise<SendResult> {
    if (!this.#write(stopCharacter)) return Promise.resolve(failed('not-connected'));
    this.#failOrders('overtaken');
    if (this.#stopResult !== null) return this.#stopResult;
    const result = new Promise<SendResult>((resolve) => {
      this.#stopFlight = this.#takeOff({ command: { command: 'stop' }, resolve }, patience.stop.tries);
    });
    if (this.#stopFlight !== null) this.#stopResult = result;
    return result;
  }

  /** Writes a command whose answer nobody waits for. False when the port takes nothing. */
  tell(command: BoardCommand): boolean {
    return this.#write(encodeCommand(this.#nextTag(), command));
  }

  /** An answer came. Those to older tags are passed over. */
  answered(answer: Answer): void {
    const flight = [this.#stopFlight, this.#flight].find((each) => each?.tag === answer.tag);
    if (!flight) return;
    this.#land(flight, answer.ok ? { ok: true, word: answer.word } : refused(answer.word));
  }

  /** The board is gone or another: everything that waits or is in the air has failed. */
  hangUp(): void {
    this.#failOrders('not-connected');
    if (this.#stopFlight) this.#land(this.#stopFlight, failed('not-connected'));
  }

  #failOrders(failure: 'overtaken' | 'not-connected'): void {
    for (const order of this.#waiting.splice(0)) order.resolve(failed(failure));
    if (this.#flight) this.#land(this.#flight, failed(failure));
  }

  #next(): void {
    if (this.#flight !== null) return;
    const order = this.#waiting.shift();
    if (order) this.#flight = this.#takeOff(order, patience[order.command.command].tries);
    if (order && this.#flight === null) this.#next();
  }

  /** Writes the order under a new tag; null when the port takes nothing, and then the order has failed. */
  #takeOff(order: Order, tries: number): Flight | null {
    const tag = this.#nextTag();
    if (!this.#write(encodeCommand(tag, order.command))) {
      this.#settle(order, failed('not-connected'));
      return null;
    }
    const { wait } = patience[order.command.command];
    const flight: Flight = { ...order, tag, triesLeft: tries - 1, cancel: () => {} };
    flight.cancel = this.#clock.after(wait, () => this.#unanswered(flight));
    return flight;
  }

  #unanswered(flight: Flight): void {
    if (flight.triesLeft === 0) {
      this.#land(flight, failed('no-answer'));
    } else if (flight === this.#stopFlight) {
      this.#write(stopCharacter);
      this.#stopFlight = this.#takeOff(flight, flight.triesLeft);
    } else {
      this.#flight = this.#takeOff(flight, flight.triesLeft);
      if (this.#flight === null) this.#next();
    }
  }

  #land(flight: Flight, result: SendResult): void {
    flight.cancel();
    const ordinary = flight === this.#flight;
    if (ordinary) this.#flight = null;
    else this.#stopFlight = null;
    this.#settle(flight, result);
    if (ordinary) this.#next();
  }

  #settle(order: Order, result: SendResult): void {
    if (order.command.command === 'stop') this.#stopResult = null;
    order.resolve(result);
  }

  #nextTag(): number {
    this.#tag = this.#tag >= greatestTag ? 1 : this.#tag + 1;
    return this.#tag;
  }
}

/** The sentence that says why a command can never be right, or null. */
function faultOf(command: BoardCommand): string | null {
  try {
    encodeCommand(1, command);
    return null;
  } catch (error) {
    if (error instanceof CommandError) return error.message;
    throw error;
  }
}

export function failed(failure: Exclude<SendFailure, 'invalid' | 'refused'>): SendResult {
  return { ok: false, failure, word: '', sentence: failureSentences[failure] };
}

function refused(word: string): SendResult {
  const sentence = refusalSentences[word] ?? `The stand refused: ${word}.`;
  return { ok: false, failure: 'refused', word, sentence };
}
