import type { Clock } from '../clock.ts';
import type { LinkView } from '../http/messages.ts';
import { CommandDesk, failed, type SendResult } from './commands.ts';
import {
  type Connection,
  type ConnectionEffect,
  type ConnectionEvent,
  isOpen,
  newConnection,
  timing,
  wakeAt,
} from './connection.ts';
import type { Refusal } from './decoded.ts';
import { type Accepted, type DecoderState, LineDecoder } from './decoder.ts';
import { type BoardCommand, stopCharacter } from './encode.ts';
import { type LinkFigures, newLinkFigures } from './figures.ts';
import { Hearing } from './hearing.ts';
import { LineAssembler } from './lines.ts';
import { OpenedPort, type PortObject } from './port.ts';
import type { PortChoice } from './ports.ts';
import type { BoardLine, Identity } from './readings.ts';
import { conditionOf, linkSentence } from './sentences.ts';
import type { SettingKey, StandFacts } from './settings.ts';
import { SettingsReader } from './settings-reader.ts';
import { step } from './step.ts';
import { type Trouble, troubleOf } from './trouble.ts';

export interface LinkOptions {
  clock: Clock;
  /** Makes a port object that is not open yet (`autoOpen: false`); called for every attempt. May throw. */
  createPort: (path: string) => PortObject;
  listPorts: () => Promise<PortChoice[]>;
  /** The port to use, or null to take the only one there is. */
  path: string | null;
  /** Every line taken from our board, in order, and its text as it came (check included, line end not). */
  onLine: (line: BoardLine, text: string) => void;
  /** Called when anything in `view()` but the age has changed, and when the settings have been read. */
  onStatus: (view: LinkView) => void;
  /** The board was reset, or another one is there: called before that identity's `onLine`. Not for the first board. */
  onBoot?: (identity: Identity) => void;
  /** 0 to below 1; spreads the waits between attempts. */
  random?: () => number;
}

/** The link to the stand: finds it, loses it, finds it again; hands on its lines and takes commands to it. */
export class Link {
  readonly #options: LinkOptions;
  readonly #desk: CommandDesk;
  readonly #reader: SettingsReader;
  readonly #decoder = new LineDecoder();
  readonly #figures = newLinkFigures();
  #connection: Connection;
  #port: OpenedPort | null = null;
  /** Ports being opened or closed, so that `stop` can wait for the driver. */
  readonly #unsettled = new Set<Promise<void>>();
  readonly #events: ConnectionEvent[] = [];
  #stepping = false;
  #wake: { at: number; cancel: () => void } | null = null;
  #heardAt: number | null = null;
  readonly #hearing = new Hearing();
  #shown = '';
  #stopped: (() => void)[] = [];

  constructor(options: LinkOptions) {
    this.#options = options;
    this.#connection = newConnection(options.path);
    this.#desk = new CommandDesk(options.clock, (text) => this.#write(text));
    this.#reader = new SettingsReader(this.#desk);
  }

  /** Begins to look for the stand, and goes on until `stop`. */
  start(): void {
    this.#dispatch({ type: 'start' });
  }

  /** Takes another port, any path, or null for the only one there is; tries at once. */
  choose(path: string | null): void {
    this.#dispatch({ type: 'choose', path });
  }

  /** Closes the port; resolves when the driver has let go of it. */
  async stop(): Promise<void> {
    const stopped = new Promise<void>((resolve) => this.#stopped.push(resolve));
    this.#dispatch({ type: 'stop' });
    await stopped;
    // A driver that never lets go must not keep the service from ending.
    await new Promise<void>((resolve) => {
      const cancel = this.#options.clock.after(timing.closeAtMost, resolve);
      void Promise.all(this.#unsettled).then(() => {
        cancel();
        resolve();
      });
    });
  }

  view(): LinkView {
    const { stage } = this.#connection;
    const path = 'path' in stage ? stage.path : this.#connection.wanted;
    return {
      condition: conditionOf(this.#connection),
      path,
      sentence: linkSentence(this.#connection, this.#hearing.deaf),
      ageMillis: this.#heardAt === null ? null : this.#options.clock.now() - this.#heardAt,
      board: stage.at === 'connected' ? boardOf(stage.identity) : null,
    };
  }

  /**
   * Sends a command and resolves with the board's answer, or with what went wrong; never rejects. Nothing is sent unless the board is
   * connected, and nothing is kept for a later connection. After `save` the settings are read again before it resolves.
   */
  async send(command: BoardCommand): Promise<SendResult> {
    if (command.command === 'stop') return this.stopNow();
    if (conditionOf(this.#connection) !== 'connected') return failed('not-connected');
    const result = await this.#desk.send(command);
    if (command.command === 'save' && result.ok) await this.#readAnew();
    return result;
  }

  /** Stop, ahead of everything: also when the board has been silent for a moment or must introduce itself again. */
  stopNow(): Promise<SendResult> {
    const { stage, known } = this.#connection;
    if (stage.at === 'connected') return this.#desk.stop();
    // Half-known: the one character can only stop, and no answer could be told from another board's.
    if (stage.at === 'asking' && known?.path === stage.path) this.#write(stopCharacter);
    return Promise.resolve(failed('not-connected'));
  }

  /** The board's settings by key, or null while they are not known. */
  settings(): ReadonlyMap<SettingKey, string> | null {
    return this.#reader.settings;
  }

  /** What a run must know of the stand; null unless it is connected and its settings have been read. */
  standFacts(): StandFacts | null {
    const { stage } = this.#connection;
    return stage.at === 'connected' ? this.#reader.facts(stage.identity) : null;
  }

  /** What decoding remembers now: with it, the lines from here on can be decoded again with the same outcome. */
  decoderState(): DecoderState {
    return this.#decoder.state();
  }

  figures(): LinkFigures {
    return structuredClone(this.#figures);
  }

  #dispatch(event: ConnectionEvent): void {
    this.#events.push(event);
    if (this.#stepping) return;
    this.#stepping = true;
    for (let next = this.#events.shift(); next !== undefined; next = this.#events.shift()) {
      const chance = (this.#options.random ?? Math.random)();
      const result = step(this.#connection, next, this.#options.clock.now(), chance);
      this.#connection = result.next;
      for (const effect of result.effects) this.#perform(effect);
    }
    this.#stepping = false;
    this.#setWake();
    this.#show();
    if (this.#connection.stage.at === 'stopped') for (const resolve of this.#stopped.splice(0)) resolve();
  }

  #perform(effect: ConnectionEffect): void {
    switch (effect.do) {
      case 'list':
        this.#follow(this.#list());
        break;
      case 'open':
        this.#follow(this.#open(effect.path, effect.attempt));
        break;
      case 'close':
        this.#follow(this.#close(effect.attempt));
        break;
      case 'ask':
        this.#desk.tell({ command: 'id' });
        break;
      case 'beat':
        this.#desk.tell({ command: 'beat' });
        break;
      case 'greet':
        this.#follow(this.#readSettings());
        break;
      case 'hang-up':
        this.#desk.hangUp();
        this.#reader.forget();
        this.#hearing.forget();
    }
  }

  #follow(work: Promise<void>): void {
    const settled = work.finally(() => this.#unsettled.delete(settled));
    this.#unsettled.add(settled);
  }

  async #list(): Promise<void> {
    const choices = await this.#options.listPorts().catch(() => []);
    this.#dispatch({ type: 'listed', paths: choices.map((choice) => choice.path) });
  }

  async #open(path: string, attempt: number): Promise<void> {
    // A new assembler for every attempt: half a line of one must not meet the rest of another's.
    const assembler = new LineAssembler(this.#figures.refused);
    const events = {
      bytes: (bytes: Uint8Array) => this.#take(bytes, assembler),
      ended: (trouble: Trouble) => this.#dispatch({ type: 'ended', attempt, trouble }),
    };
    try {
      const port = await OpenedPort.open(this.#options.createPort, path, events);
      // Given up or overtaken while the driver was opening it.
      if (attempt !== this.#connection.attempt) return port.close();
      this.#port = port;
      this.#figures.connections++;
      this.#dispatch({ type: 'opened', attempt });
    } catch (error) {
      this.#dispatch({ type: 'ended', attempt, trouble: troubleOf(error) });
    }
  }

  async #close(attempt: number): Promise<void> {
    const port = this.#port;
    this.#port = null;
    this.#decoder.disconnected();
    await port?.close();
    this.#dispatch({ type: 'closed', attempt });
  }

  #write(text: string): boolean {
    if (!isOpen(this.#connection.stage) || !this.#port?.write(text)) return false;
    this.#dispatch({ type: 'wrote' });
    return true;
  }

  #take(bytes: Uint8Array, assembler: LineAssembler): void {
    if (!isOpen(this.#connection.stage)) return;
    this.#dispatch({ type: 'noise' });
    assembler.push(bytes, (text) => {
      const decoded = this.#decoder.decode(text);
      if (decoded.ok) this.#accept(decoded, text);
      else this.#refuse(decoded);
    });
  }

  #refuse(refusal: Refusal): void {
    this.#figures.refused[refusal.reason]++;
    if (refusal.reason === 'restarted') this.#dispatch({ type: 'unsure' });
    if (refusal.reason === 'wrong-version') {
      this.#decoder.disconnected();
      this.#dispatch({ type: 'other-version', protocol: refusal.protocol ?? 0 });
    }
  }

  #accept({ line, missed, rebooted }: Accepted, text: string): void {
    this.#figures.lines++;
    this.#figures.missed += missed;
    this.#heardAt = this.#options.clock.now();
    if (line.kind === 'identity' && rebooted) {
      this.#figures.boots++;
      this.#options.onBoot?.(line);
    }
    this.#options.onLine(line, text);
    this.#dispatch(
      line.kind === 'identity' ? { type: 'identity', identity: line, rebooted } : { type: 'heard' },
    );
    this.#use(line);
  }

  /** What the link itself needs of a line. */
  #use(line: BoardLine): void {
    if (line.kind === 'answer') this.#desk.answered(line);
    if (line.kind === 'setting') this.#reader.take(line);
    if (line.kind === 'reading') this.#hearing.take(line, this.#options.clock.now());
    // Health comes every two seconds: a good time to try again what failed.
    if (line.kind === 'health' && this.#reader.wanting) this.#follow(this.#readSettings());
  }

  async #readSettings(): Promise<void> {
    const { stage } = this.#connection;
    if (stage.at !== 'connected') return;
    if (await this.#reader.read(stage.identity)) this.#options.onStatus(this.view());
  }

  /** After `save`: the identity's figures may have changed too. */
  async #readAnew(): Promise<void> {
    this.#reader.forget();
    await this.#desk.send({ command: 'id' });
    await this.#readSettings();
  }

  #setWake(): void {
    const at = wakeAt(this.#connection);
    if (this.#wake?.at === at) return;
    this.#wake?.cancel();
    this.#wake = null;
    if (at === Number.POSITIVE_INFINITY) return;
    const cancel = this.#options.clock.after(Math.max(0, at - this.#options.clock.now()), () => {
      this.#wake = null;
      this.#dispatch({ type: 'tick' });
    });
    this.#wake = { at, cancel };
  }

  #show(): void {
    const view = this.view();
    const shown = JSON.stringify({ ...view, ageMillis: null });
    if (shown === this.#shown) return;
    this.#shown = shown;
    this.#options.onStatus(view);
  }
}

function boardOf(identity: Identity): LinkView['board'] {
  const { name, firmware, boot, reset, cells, pulsesPerTurn, settings } = identity;
  return { name, firmware, boot, reset, cells, pulsesPerTurn, settings };
}
