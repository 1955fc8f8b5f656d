import type { LinkView } from '../http/messages.ts';
import { Alarm } from './alarm.ts';
import { CommandDesk, failed, type SendResult } from './commands.ts';
import {
  type Connection,
  type ConnectionEffect,
  type ConnectionEvent,
  isOpen,
  newConnection,
  wakeAt,
} from './connection.ts';
import type { Refusal } from './decoded.ts';
import { type Accepted, type DecoderState, LineDecoder } from './decoder.ts';
import { type BoardCommand, stopCharacter } from './encode.ts';
import { type LinkFigures, newLinkFigures } from './figures.ts';
import { Hearing } from './hearing.ts';
import { LineAssembler } from './lines.ts';
import type { LinkOptions } from './link-options.ts';
import { PortHolder } from './port-holder.ts';
import type { BoardLine, Identity } from './readings.ts';
import { conditionOf, linkSentence } from './sentences.ts';
import type { SettingKey, StandFacts } from './settings.ts';
import { SettingsReader } from './settings-reader.ts';
import { step } from './step.ts';
import { type Trouble, troubleOf } from './trouble.ts';

export type { LinkOptions } from './link-options.ts';

/** The link to the stand: finds it, loses it, finds it again; hands on its lines and takes commands to it. */
export class Link {
  readonly #options: LinkOptions;
  readonly #desk: CommandDesk;
  readonly #reader: SettingsReader;
  readonly #decoder = new LineDecoder();
  readonly #figures = newLinkFigures();
  #connection: Connection;
  readonly #port: PortHolder;
  readonly #events: ConnectionEvent[] = [];
  #stepping = false;
  readonly #alarm: Alarm;
  #heardAt: number | null = null;
  readonly #hearing = new Hearing();
  #shown = '';
  #stopped: (() => void)[] = [];

  constructor(options: LinkOptions) {
    this.#options = options;
    this.#connection = newConnection(options.path);
    this.#port = new PortHolder(options.createPort, options.clock);
    this.#desk = new CommandDesk(options.clock, (text) => this.#write(text));
    this.#reader = new SettingsReader(this.#desk);
    this.#alarm = new Alarm(options.clock, () => this.#dispatch({ type: 'tick' }));
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
    await this.#port.settled();
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
    // Half-known, or not understood any more: the one character can only stop, and no answer could be told from another board's.
    if (isOpen(stage) && known?.path === stage.path) this.#write(stopCharacter);
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
    for (let next = this.#events.shift(); next !== undefined; next = this.#events.shift()) this.#step(next);
    this.#stepping = false;
    this.#alarm.set(wakeAt(this.#connection));
    this.#show();
    if (this.#connection.stage.at === 'stopped') for (const resolve of this.#stopped.splice(0)) resolve();
  }

  #step(event: ConnectionEvent): void {
    const chance = (this.#options.random ?? Math.random)();
    const { next, effects } = step(this.#connection, event, this.#options.clock.now(), chance);
    this.#connection = next;
    for (const effect of effects) this.#perform(effect);
  }

  #perform(effect: ConnectionEffect): void {
    switch (effect.do) {
      case 'list':
        void this.#list();
        break;
      case 'open':
        void this.#open(effect.path, effect.attempt);
        break;
      case 'close':
        void this.#close(effect.attempt);
        break;
      case 'ask':
        this.#desk.tell({ command: 'id' });
        break;
      case 'beat':
        this.#desk.tell({ command: 'beat' });
        break;
      case 'greet':
        void this.#readSettings();
        break;
      case 'hang-up':
        this.#desk.hangUp();
        this.#reader.forget();
        this.#hearing.forget();
    }
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
    // Given up or overtaken while the driver was opening it.
    const wanted = () => attempt === this.#connection.attempt;
    const opened = () => {
      this.#figures.connections++;
      this.#dispatch({ type: 'opened', attempt });
    };
    await this.#port.open(path, events, wanted, opened).catch((error: unknown) => {
      this.#dispatch({ type: 'ended', attempt, trouble: troubleOf(error) });
    });
  }

  async #close(attempt: number): Promise<void> {
    this.#decoder.disconnected();
    await this.#port.close();
    this.#dispatch({ type: 'closed', attempt });
  }

  #write(text: string): boolean {
    if (!isOpen(this.#connection.stage) || !this.#port.write(text)) return false;
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
    if (refusal.reason === 'unintroduced') this.#dispatch({ type: 'unintroduced' });
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
    if (line.kind === 'health' && this.#reader.wanting) void this.#readSettings();
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
