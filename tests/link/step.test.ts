import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  backoff,
  type Connection,
  type ConnectionEffect,
  type ConnectionEvent,
  newConnection,
  timing,
  wakeAt,
} from '../../server/link/connection.ts';
import type { Identity } from '../../server/link/readings.ts';
import { conditionOf, linkSentence } from '../../server/link/sentences.ts';
import { step } from '../../server/link/step.ts';
import type { Trouble, TroubleKind } from '../../server/link/trouble.ts';

const identity: Identity = {
  kind: 'identity',
  sequence: 0,
  protocol: 1,
  firmware: '1.0.0',
  name: 'bench',
  settings: 'ok',
  boot: 7,
  reset: 'P',
  pulsesPerTurn: 24,
  cells: 1,
  direction: 0,
  debounceMicros: 200,
};
const unplugged: Trouble = { kind: 'unplugged', detail: 'gone' };

/** A machine driven by hand: events in, effects gathered, time where we put it. */
class Driven {
  now = 0;
  state: Connection;
  effects: ConnectionEffect[] = [];

  constructor(path: string | null) {
    this.state = newConnection(path);
  }

  /** One event; the effects it had. */
  send(event: ConnectionEvent): string[] {
    const { next, effects } = step(this.state, event, this.now, 0.5);
    this.state = next;
    this.effects.push(...effects);
    return effects.map((effect) => effect.do);
  }

  /** Lets time pass with the ticks that the machine asks for; the effects of all. */
  pass(milliseconds: number): string[] {
    const end = this.now + milliseconds;
    const done: string[] = [];
    for (let at = wakeAt(this.state); at <= end; at = wakeAt(this.state)) {
      this.now = Math.max(this.now, at);
      done.push(...this.send({ type: 'tick' }));
    }
    this.now = end;
    return done;
  }

  get condition(): string {
    return conditionOf(this.state);
  }

  connected(): this {
    this.send({ type: 'start' });
    this.send({ type: 'opened', attempt: this.state.attempt });
    this.send({ type: 'identity', identity, rebooted: false });
    return this;
  }
}

describe('the connection, step by step', () => {
  it('opens, asks, greets the board that answers', () => {
    const machine = new Driven('/dev/a');
    expect(machine.send({ type: 'start' })).toEqual(['open']);
    expect(machine.send({ type: 'opened', attempt: 1 })).toEqual(['ask']);
    expect(machine.condition).toBe('asking');
    expect(machine.send({ type: 'identity', identity, rebooted: false })).toEqual(['greet']);
    expect(machine.condition).toBe('connected');
  });

  it('asks again every 0.4 s while a board may be starting, and judges after 2.5 s', () => {
    const machine = new Driven('/dev/a');
    machine.send({ type: 'start' });
    machine.send({ type: 'opened', attempt: 1 });
    expect(machine.pass(2499)).toEqual(Array(6).fill('ask'));
    expect(machine.condition).toBe('asking');
    machine.pass(1);
    expect(machine.condition).toBe('wrong-device');
  });

  it('leaves another device in peace once it has judged, and still takes a stand that comes later', () => {
    const machine = new Driven('/dev/a');
    machine.send({ type: 'start' });
    machine.send({ type: 'opened', attempt: 1 });
    machine.send({ type: 'noise' });
    machine.pass(2500);
    expect(machine.pass(60_000)).toEqual([]);
    expect(linkSentence(machine.state, false)).toContain('not a Catchbench stand');
    machine.send({ type: 'identity', identity, rebooted: false });
    expect(machine.condition).toBe('connected');
  });

  it('what speaks our language is asked until it says who it is, also when it begins to speak late', () => {
    const machine = new Driven('/dev/a');
    machine.send({ type: 'start' });
    machine.send({ type: 'opened', attempt: 1 });
    machine.send({ type: 'noise' });
    machine.pass(2500);
    expect(machine.condition).toBe('wrong-device');
    expect(machine.send({ type: 'unintroduced' })).toEqual(['ask']);
    for (let i = 0; i < 50; i++) {
      machine.pass(100);
      machine.send({ type: 'unintroduced' });
    }
    expect(machine.condition).toBe('asking');
    machine.send({ type: 'other-version', protocol: 2 });
    expect(machine.send({ type: 'unintroduced' })).toEqual([]);
    expect(machine.condition).toBe('wrong-version');
  });

  it('beats four times a second unless something else was written', () => {
    const machine = new Driven('/dev/a').connected();
    const beats: number[] = [];
    for (let i = 0; i < 200; i++) {
      machine.send({ type: 'heard' });
      if (machine.pass(10).includes('beat')) beats.push(machine.now);
    }
    expect(beats.length).toBe(8);
    machine.send({ type: 'wrote' });
    machine.send({ type: 'heard' });
    expect(machine.pass(240)).toEqual([]);
  });

  it.each([3000, 300_000])(
    'does not take %d ms in which the computer stood still for silence of the stand',
    (millis) => {
      const machine = new Driven('/dev/a').connected();
      machine.pass(1000);
      machine.send({ type: 'heard' });
      machine.now += millis;
      // Timers come before what the system has buffered.
      expect(machine.send({ type: 'tick' })).toEqual(['beat']);
      expect(machine.state.stage.at).toBe('connected');
      machine.send({ type: 'heard' });
      expect(machine.condition).toBe('connected');
      // A stand that is really gone is still found out in two seconds.
      machine.pass(2100);
      expect(machine.state.stage.at).toBe('closing');
    },
  );

  it('gives a board the rest of its time to say who it is when the computer stood still meanwhile', () => {
    const machine = new Driven('/dev/a');
    machine.send({ type: 'start' });
    machine.send({ type: 'opened', attempt: 1 });
    machine.now += 10_000;
    expect(machine.send({ type: 'tick' })).toEqual(['ask']);
    expect(machine.condition).toBe('asking');
  });

  it('is silent after half a second without a line, and gives up the port after two', () => {
    const machine = new Driven('/dev/a').connected();
    machine.pass(499);
    expect(machine.condition).toBe('connected');
    machine.pass(1);
    expect(machine.condition).toBe('silent');
    machine.send({ type: 'heard' });
    expect(machine.condition).toBe('connected');
    expect(machine.pass(1999)).not.toContain('close');
    expect(machine.pass(1)).toEqual(['hang-up', 'close']);
    expect(machine.condition).toBe('lost');
  });

  it('waits 0.25 to 2 s between attempts, longer each time, spread so that two programs do not march in step', () => {
    for (const chance of [0, 0.5, 0.999]) {
      const waits = Array.from({ length: 12 }, (_, failures) => backoff(failures, chance));
      expect(Math.min(...waits)).toBeGreaterThanOrEqual(250);
      expect(Math.max(...waits)).toBeLessThanOrEqual(2000);
      expect(waits.every((wait, i) => i === 0 || wait >= waits[i - 1]!)).toBe(true);
    }
    expect(backoff(2, 0)).toBeLessThan(backoff(2, 0.9));
  });

  it('asks again who is there when the counters make no sense, and lets no command through meanwhile', () => {
    const machine = new Driven('/dev/a').connected();
    expect(machine.send({ type: 'unsure' })).toEqual(['hang-up', 'ask']);
    expect(machine.condition).toBe('asking');
  });

  it('never opens a new port before the old one is closed', () => {
    const machine = new Driven('/dev/a').connected();
    expect(machine.send({ type: 'choose', path: '/dev/b' })).toEqual(['hang-up', 'close']);
    expect(machine.pass(100)).toEqual([]);
    expect(machine.send({ type: 'closed', attempt: 1 })).toEqual(['open']);
  });

  it('nor does another choice made while the old one closes', () => {
    const machine = new Driven('/dev/a').connected();
    machine.send({ type: 'choose', path: '/dev/b' });
    expect(machine.send({ type: 'choose', path: '/dev/c' })).toEqual([]);
    machine.send({ type: 'closed', attempt: 1 });
    expect(machine.effects.at(-1)).toEqual({ do: 'open', path: '/dev/c', attempt: 2 });
  });

  it('a choice made while a lost port closes is tried at once, not after a wait', () => {
    const machine = new Driven('/dev/a').connected();
    machine.send({ type: 'ended', attempt: 1, trouble: unplugged });
    machine.send({ type: 'choose', path: '/dev/b' });
    expect(machine.send({ type: 'closed', attempt: 1 })).toEqual(['open']);
  });

  it('waits longer with every failure in a row, and starts over once a board was there', () => {
    const machine = new Driven('/dev/a');
    const fail = (trouble: Trouble = { kind: 'busy', detail: 'EBUSY' }) => {
      machine.send({ type: 'ended', attempt: machine.state.attempt, trouble });
      const from = machine.now;
      const wait = wakeAt(machine.state) - from;
      machine.pass(wait);
      return wait;
    };
    machine.send({ type: 'start' });
    expect([fail(), fail(), fail(), fail(), fail()]).toEqual([250, 500, 1000, 2000, 2000]);
    // Someone stands there with the cable in hand; and looking for a port that is not there resets no board.
    expect(fail(unplugged)).toBe(600);
    machine.send({ type: 'opened', attempt: machine.state.attempt });
    machine.send({ type: 'identity', identity, rebooted: false });
    machine.send({ type: 'ended', attempt: machine.state.attempt, trouble: unplugged });
    machine.send({ type: 'closed', attempt: machine.state.attempt });
    expect(wakeAt(machine.state) - machine.now).toBe(250);
  });

  it('a reset ends what was under way with the board before it, and greets the new one', () => {
    const machine = new Driven('/dev/a').connected();
    expect(machine.send({ type: 'identity', identity, rebooted: true })).toEqual(['hang-up', 'greet']);
    expect(machine.send({ type: 'identity', identity, rebooted: false })).toEqual([]);
  });

  it('takes the only port there is, and asks for a choice where there are several', () => {
    const machine = new Driven(null);
    expect(machine.send({ type: 'start' })).toEqual(['list']);
    machine.send({ type: 'listed', paths: ['/dev/a', '/dev/b'] });
    expect(machine.condition).toBe('searching');
    expect(linkSentence(machine.state, false)).toContain('several');
    expect(machine.pass(1000)).toEqual(['list']);
    machine.send({ type: 'listed', paths: [] });
    expect(linkSentence(machine.state, false)).toContain('No serial port');
    machine.pass(1000);
    machine.send({ type: 'listed', paths: ['/dev/b'] });
    expect(machine.effects.at(-1)).toEqual({ do: 'open', path: '/dev/b', attempt: 1 });
  });

  it('after a failed opening searches again when it had searched', () => {
    const machine = new Driven(null);
    machine.send({ type: 'start' });
    machine.send({ type: 'listed', paths: ['/dev/a'] });
    machine.send({ type: 'ended', attempt: 1, trouble: { kind: 'busy', detail: '' } });
    expect(machine.condition).toBe('lost');
    expect(machine.pass(2000)).toEqual(['list']);
  });

  it('says in a sentence what each trouble is and what to do', () => {
    const said = new Set<string>();
    const kinds: TroubleKind[] = [
      'busy',
      'denied',
      'missing',
      'no-port',
      'unplugged',
      'stuck',
      'silent',
      'failed',
    ];
    for (const kind of kinds) {
      const machine = new Driven('/dev/ttyUSB9');
      machine.send({ type: 'start' });
      machine.send({ type: 'ended', attempt: 1, trouble: { kind, detail: 'words of the system' } });
      const sentence = linkSentence(machine.state, false);
      expect(sentence).toMatch(/^[A-Z].*\.$/);
      expect(sentence).toContain('/dev/ttyUSB9');
      said.add(sentence);
    }
    expect(said.size).toBe(kinds.length);
  });
});

const eventKinds = fc.oneof(
  { weight: 1, arbitrary: fc.constantFrom<ConnectionEvent>({ type: 'start' }, { type: 'stop' }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom<ConnectionEvent>(
      { type: 'choose', path: '/dev/a' },
      { type: 'choose', path: '/dev/b' },
      { type: 'choose', path: null },
    ),
  },
  {
    weight: 2,
    arbitrary: fc.subarray(['/dev/a', '/dev/b']).map((paths): ConnectionEvent => ({ type: 'listed', paths })),
  },
  {
    weight: 6,
    arbitrary: fc.constantFrom<ConnectionEvent>(
      { type: 'identity', identity, rebooted: false },
      { type: 'identity', identity, rebooted: true },
      { type: 'heard' },
      { type: 'noise' },
      { type: 'unintroduced' },
      { type: 'other-version', protocol: 2 },
      { type: 'unsure' },
      { type: 'wrote' },
    ),
  },
  {
    weight: 6,
    arbitrary: fc
      .record({ what: fc.constantFrom('opened', 'ended', 'closed'), age: fc.nat({ max: 2 }) })
      .map((event) => event as unknown as ConnectionEvent),
  },
);

/** `age` attempts old events: those of older attempts must change nothing. */
const aged = (event: ConnectionEvent, attempt: number): ConnectionEvent => {
  const { what, age } = event as unknown as { what?: string; age: number };
  return what === undefined
    ? event
    : ({ type: what, attempt: attempt - age, trouble: unplugged } as ConnectionEvent);
};

describe('the connection, whatever comes in whatever order', () => {
  it('keeps its promises', () => {
    const moves = fc.array(fc.tuple(eventKinds, fc.constantFrom(0, 1, 100, 400, 3000)), { maxLength: 80 });
    fc.assert(
      fc.property(fc.constantFrom(null, '/dev/a'), moves, (path, list) => {
        const machine = new Driven(path);
        let openAttempt: number | null = null;
        for (const [move, milliseconds] of list) {
          const event = aged(move, machine.state.attempt);
          const before = machine.state;
          const stale = 'attempt' in event && event.attempt !== before.attempt;
          if (event.type === 'opened' && !stale && before.stage.at === 'opening') openAttempt = event.attempt;
          if (event.type === 'closed' && !stale && before.stage.at === 'closing') openAttempt = null;
          const from = machine.effects.length;
          machine.send(event);
          if (stale) expect(machine.state).toEqual(before);
          machine.pass(milliseconds);
          for (const effect of machine.effects.slice(from)) {
            // The driver never closes here, so time alone may end the wait for it.
            if (effect.do === 'open' && effect.path !== undefined) openAttempt = null;
            if (effect.do === 'close') expect(effect.attempt).toBe(openAttempt);
            if (['ask', 'beat', 'greet'].includes(effect.do)) expect(openAttempt).not.toBeNull();
          }
          if (machine.condition === 'connected') expect(machine.state.running).toBe(true);
          expect(wakeAt(machine.state)).toBeGreaterThan(machine.now - 1);
          expect(linkSentence(machine.state, false)).toMatch(/^[A-Z].*\.$/);
        }
        machine.send({ type: 'stop' });
        machine.pass(timing.closeAtMost);
        expect(machine.state.stage).toEqual({ at: 'stopped' });
        expect(machine.pass(100_000)).toEqual([]);
      }),
      { numRuns: 2000 },
    );
  });
});
