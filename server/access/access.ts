import { type AuditEntry, withEntry } from './audit.ts';
import { Doorkeeper, type ShownCode } from './doorkeeper.ts';
import type { AccessFile } from './file.ts';
import { host, type Person, type Refusal, type Result, refusals, refuse } from './person.ts';
import type { Role } from './roles.ts';
import { deviceName, isOver, type Session, sessionOf, withSession } from './sessions.ts';
import { hashToken, newSessionId, newToken } from './token.ts';
import { WheelStand } from './wheel-stand.ts';

export interface AccessOptions {
  /** Whether others than this computer may come in at all. */
  shared: boolean;
  /** What the code of the terminal lets people do. */
  pairAs: Role;
  /** Where sessions and audit are kept; null: in memory alone. */
  file: AccessFile | null;
  /** Tells the terminal. */
  say: (sentence: string) => void;
  /** Milliseconds on a clock that never goes back, and of the wall clock. */
  now?: () => number;
  wallNow?: () => number;
}

export interface AccessListener {
  /** Who is here or who holds the wheel changed. */
  changed?(): void;
  /** This session is over: whatever it has open must be closed. */
  ended?(sessionId: string): void;
}

const fileTrouble = (error: unknown): string =>
  `Who is paired could not be put on disk; until it can be, that holds only until Catchbench ends. ${(error as Error).message}`;

/** Who may come in, who is in, and who did what: the pure parts joined with time, chance and disk. */
export class Access {
  readonly shared: boolean;
  readonly wheel: WheelStand;
  readonly #options: AccessOptions;
  readonly #door: Doorkeeper;
  readonly #wallNow: () => number;
  readonly #listeners = new Set<AccessListener>();
  #sessions: readonly Session[] = [];
  #entries: readonly AuditEntry[] = [];
  #writing: Promise<void> = Promise.resolve();

  private constructor(options: AccessOptions) {
    const { shared, now = () => performance.now(), wallNow = () => Date.now() } = options;
    this.shared = shared;
    this.#options = options;
    this.#wallNow = wallNow;
    this.#door = new Doorkeeper(now);
    this.wheel = new WheelStand(now, () => this.#tell());
  }

  static async open(options: AccessOptions): Promise<Access> {
    const access = new Access(options);
    if (options.file !== null) {
      access.#entries = await options.file.entries();
      access.#sessions = await options.file.sessions();
    }
    return access;
  }

  /** For this computer alone, with nothing kept. */
  static alone(): Access {
    return new Access({ shared: false, pairAs: 'watch', file: null, say: () => {} });
  }

  /** Whoever has this secret, or null. */
  personWith(token: string | undefined): Person | null {
    if (!this.shared || token === undefined) return null;
    const now = this.#wallNow();
    const session = sessionOf(this.#sessions, hashToken(token), now);
    if (session === null) return null;
    session.seenAt = now;
    const { id, name, role } = session;
    return { id, name, role };
  }

  /** Everyone who may come in, this computer first. */
  people(): Person[] {
    return [host, ...this.sessions().map(({ id, name, role }) => ({ id, name, role }))];
  }

  /** Whether this person may still come in. */
  knows(id: string): boolean {
    return id === host.id || this.sessions().some((session) => session.id === id);
  }

  sessions(): Session[] {
    const now = this.#wallNow();
    return this.#sessions.filter((session) => !isOver(session, now));
  }

  /** Someone wants to come in: where no code waits, one is shown at the terminal. */
  async knock(from: string): Promise<Result<null>> {
    if (!this.shared) return refuse(refusals.notShared);
    if (this.#door.waits) return { ok: true, value: null };
    this.note({ person: null, from, act: 'asked to come in', outcome: 'code offered' });
    this.#showCode(await this.#door.offer(this.#options.pairAs), `Someone at ${from} asks to come in. `);
    this.#tell();
    return { ok: true, value: null };
  }

  /** A code for the page of whoever lets people in. The one before is void. */
  async offerCode(role: Role): Promise<Result<ShownCode>> {
    if (!this.shared) return refuse(refusals.notShared);
    return { ok: true, value: await this.#door.offer(role) };
  }

  /** The first code, for the terminal. */
  async greet(): Promise<void> {
    if (this.shared) this.#showCode(await this.#door.offer(this.#options.pairAs), '');
  }

  #showCode({ code, role, millisLeft }: ShownCode, before: string): void {
    const minutes = Math.round(millisLeft / 60_000);
    this.#options.say(`${before}Pairing code ${code} lets one device ${role}, for ${minutes} minutes.`);
  }

  /** Lets a device in that has the code. Its secret is always a new one, and whatever session it had before (`old`) is over. */
  async pair(
    { code, name }: { code: string; name: string },
    from: string,
    old: Person | null,
  ): Promise<Result<{ token: string; person: Person }>> {
    if (!this.shared) return refuse(refusals.notShared);
    const called = deviceName(name);
    if (called === null) return refuse(refusals.noName);
    const heard: Role | Refusal = await this.#door.hear(code, from);
    if (typeof heard !== 'string') {
      this.note({ person: null, from, act: 'pairing', outcome: heard.code });
      return refuse(heard);
    }
    if (old !== null && old.id !== host.id) await this.#end(old.id);
    const now = this.#wallNow();
    const token = newToken();
    const tokenHash = hashToken(token);
    const id = newSessionId();
    const added = { id, name: called, role: heard, tokenHash, from, pairedAt: now, seenAt: now };
    const before = this.#sessions;
    this.#sessions = withSession(before, added, now);
    for (const { id: gone } of before) if (!this.#sessions.some((one) => one.id === gone)) this.#ended(gone);
    const person = { id, name: called, role: heard };
    this.note({ person, from, act: 'pairing', outcome: 'paired' });
    await this.#keep();
    this.#tell();
    return { ok: true, value: { token, person } };
  }

  /** Ends a session, from this moment on. */
  async revoke(id: string): Promise<Result<null>> {
    if (!this.#sessions.some((session) => session.id === id)) return refuse(refusals.unknownSession);
    await this.#end(id);
    return { ok: true, value: null };
  }

  entries(): readonly AuditEntry[] {
    return this.#entries;
  }

  /** Puts a line into the audit. A disk that does not take it stops nothing. */
  note(what: { person: Person | null; from: string; act: string; outcome: string }): void {
    const { person, from, act, outcome } = what;
    const at = new Date(this.#wallNow()).toISOString();
    const entry = {
      at,
      by: person?.id ?? '',
      name: person?.name ?? '',
      role: person?.role ?? null,
      from,
      act,
      outcome,
    };
    this.#entries = withEntry(this.#entries, entry);
    const { file } = this.#options;
    if (file !== null) this.#writing = this.#writing.then(() => file.note(entry)).catch(() => {});
  }

  listen(listener: AccessListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Waits for what is still on its way to the disk. */
  async close(): Promise<void> {
    if (this.shared) await this.#keep();
    await this.#writing;
  }

  async #end(id: string): Promise<void> {
    this.#sessions = this.#sessions.filter((session) => session.id !== id);
    this.#ended(id);
    await this.#keep();
    this.#tell();
  }

  #ended(id: string): void {
    for (const listener of this.#listeners) listener.ended?.(id);
    this.wheel.forget(id);
  }

  #tell(): void {
    // Alone on this computer, there is nobody to tell.
    if (!this.shared) return;
    for (const listener of this.#listeners) listener.changed?.();
  }

  /** One writing after the other: the newest state is always the last on disk. */
  #keep(): Promise<void> {
    const { file, say } = this.#options;
    if (file === null) return Promise.resolve();
    this.#writing = this.#writing
      .then(() => file.keepSessions(this.#sessions))
      .catch((error) => say(fileTrouble(error)));
    return this.#writing;
  }
}
