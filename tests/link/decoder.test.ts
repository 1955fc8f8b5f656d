import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Accepted, LineDecoder } from '../../server/link/decoder.ts';
import type { Reading } from '../../server/link/readings.ts';
import { checked } from './board-lines.ts';

const two16 = 2 ** 16;
const two32 = 2 ** 32;

interface Moment {
  sequence: number;
  micros: number;
  forward?: number;
  backward?: number;
}

const reading = ({ sequence, micros, forward = 0, backward = 0 }: Moment): string =>
  checked(
    `R ${sequence % two16} ${micros % two32} ${forward % two32} ${backward % two32} 9999999 idle - 00 1`,
  );

const identity = (sequence: number, boot = 7, name = 'bench'): string =>
  checked(
    `I ${sequence % two16} catchbench-stand proto=1 fw=1.0.0 name=${name} settings=ok boot=${boot % two16} reset=E ppt=24 cells=1 direction=0 debounce=200`,
  );

const accepted = (decoder: LineDecoder, text: string): Accepted => {
  const decoded = decoder.decode(text);
  if (!decoded.ok) throw new Error(`refused: ${decoded.reason}`);
  return decoded;
};

const readingOf = (decoder: LineDecoder, moment: Moment): Reading =>
  accepted(decoder, reading(moment)).line as Reading;

const refusal = (decoder: LineDecoder, text: string): string | null => {
  const decoded = decoder.decode(text);
  return decoded.ok ? null : decoded.reason;
};

function introduced(sequence = 0, boot = 7): LineDecoder {
  const decoder = new LineDecoder();
  accepted(decoder, identity(sequence, boot));
  return decoder;
}

describe('counters that wrap', () => {
  it('go on after a long gap whose first line is no reading', () => {
    const decoder = introduced();
    expect(readingOf(decoder, { sequence: 1, micros: 1e6, forward: 5 }).boardMicros).toBe(1e6);
    expect(accepted(decoder, checked('A 4801 9 ok')).missed).toBe(4799);
    expect(readingOf(decoder, { sequence: 4802, micros: 61e6, forward: 90 })).toMatchObject({
      boardMicros: 61e6,
      forwardPulses: 90,
    });
    // And not further than the lines since then allow.
    expect(refusal(decoder, reading({ sequence: 4803, micros: 64e6, forward: 91 }))).toBe('restarted');
  });

  it('come out as they went in, over any number of rounds and lost lines', () => {
    const steps = fc.array(
      fc.record({
        lines: fc.integer({ min: 1, max: 2000 }),
        micros: fc.integer({ min: 0, max: 100_000 }),
        forward: fc.nat({ max: 200_000_000 }),
        backward: fc.nat({ max: 200_000_000 }),
      }),
      { minLength: 1, maxLength: 300 },
    );
    const start = fc.record({ sequence: fc.nat({ max: 65535 }), micros: fc.nat({ max: two32 - 1 }) });
    fc.assert(
      fc.property(start, steps, (from, changes) => {
        const decoder = introduced(from.sequence);
        let lost = 0;
        let now = { ...from, sequence: from.sequence + 1, forward: 0, backward: 0 };
        readingOf(decoder, now);
        for (const change of changes) {
          lost += change.lines - 1;
          now = {
            sequence: now.sequence + change.lines,
            micros: now.micros + change.lines * change.micros,
            forward: now.forward + change.forward,
            backward: now.backward + change.backward,
          };
          const { line, missed } = accepted(decoder, reading(now));
          lost -= missed;
          expect(line).toMatchObject({
            sequence: now.sequence,
            boardMicros: now.micros,
            forwardPulses: now.forward,
            backwardPulses: now.backward,
          });
        }
        expect(lost).toBe(0);
      }),
    );
  });

  it('put the moment of a change before or after the last reading, over the wrap too', () => {
    const decoder = introduced();
    readingOf(decoder, { sequence: 1, micros: two32 - 5000, forward: two32 - 2 });
    readingOf(decoder, { sequence: 2, micros: two32 + 5000, forward: two32 + 3 });
    const change = checked(`E 3 ${two32 - 1000} done preset ${two32 - 1} 0`);
    expect(accepted(decoder, change).line).toMatchObject({
      boardMicros: two32 - 1000,
      forwardPulses: two32 - 1,
      sequence: 3,
    });
    const later = checked('E 4 9000 idle - 4 0');
    expect(accepted(decoder, later).line).toMatchObject({
      boardMicros: two32 + 9000,
      forwardPulses: two32 + 4,
    });
  });
});

describe('who speaks', () => {
  it('nothing is taken before an identity, and nothing is counted as missed then', () => {
    const decoder = new LineDecoder();
    expect(refusal(decoder, reading({ sequence: 500, micros: 1 }))).toBe('unintroduced');
    expect(refusal(decoder, checked('A 501 1 ok'))).toBe('unintroduced');
    expect(accepted(decoder, identity(502))).toMatchObject({ missed: 0, rebooted: false });
    expect(accepted(decoder, reading({ sequence: 505, micros: 1 }))).toMatchObject({ missed: 2 });
  });

  it('another boot is a reset: time and pulses begin anew, sequence numbers grow on, what was lost before is counted', () => {
    const decoder = introduced(100);
    readingOf(decoder, { sequence: 101, micros: 9e6, forward: 500 });
    expect(accepted(decoder, identity(3, 8))).toMatchObject({
      rebooted: true,
      missed: 3,
      line: { sequence: 105 },
    });
    expect(readingOf(decoder, { sequence: 4, micros: 20_000, forward: 1 })).toMatchObject({
      sequence: 106,
      boardMicros: 20_000,
      forwardPulses: 1,
    });
  });

  it('a reset that the boot counter did not count is seen by the numbers', () => {
    const decoder = introduced(100);
    readingOf(decoder, { sequence: 101, micros: 9e6, forward: 500 });
    expect(accepted(decoder, identity(0, 7))).toMatchObject({ rebooted: true, missed: 0 });
    expect(readingOf(decoder, { sequence: 1, micros: 20_000 })).toMatchObject({
      boardMicros: 20_000,
      forwardPulses: 0,
    });
  });

  it('another name is another board', () => {
    const decoder = introduced();
    expect(accepted(decoder, identity(9, 7, 'other')).rebooted).toBe(true);
  });

  it.each([
    ['sequence', { sequence: 100, micros: 3e6, forward: 60 }],
    ['the same sequence', { sequence: 200, micros: 3e6, forward: 60 }],
    ['time', { sequence: 201, micros: 1e6, forward: 60 }],
    ['pulses', { sequence: 201, micros: 3e6, forward: 40 }],
    ['time leaping ahead of the lines', { sequence: 201, micros: 2e6 + 2_100_001, forward: 60 }],
  ])('%s going back or leaping: nothing more until the board has introduced itself', (_, moment) => {
    const decoder = introduced(100);
    readingOf(decoder, { sequence: 200, micros: 2e6, forward: 50 });
    expect(refusal(decoder, reading(moment))).toBe('restarted');
    const next = { sequence: 202, micros: 2.1e6, forward: 61 };
    expect(refusal(decoder, reading(next))).toBe('unintroduced');
    expect(accepted(decoder, identity(203, 7)).rebooted).toBe(false);
    expect(readingOf(decoder, { ...next, sequence: 204 })).toMatchObject({
      forwardPulses: 61,
      boardMicros: 2.1e6,
    });
  });

  it('in the same boot after an outage of any length below 71 minutes, totals go on', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: two32 - 1 }),
        fc.nat({ max: two32 - 1 }),
        fc.nat({ max: 65535 }),
        (from, gap, seq) => {
          const decoder = introduced(seq);
          readingOf(decoder, { sequence: seq + 1, micros: from, forward: from });
          decoder.disconnected();
          expect(refusal(decoder, reading({ sequence: seq + 2, micros: from }))).toBe('unintroduced');
          expect(accepted(decoder, identity(seq + 40_000)).missed).toBe(39_998);
          const after = readingOf(decoder, {
            sequence: seq + 40_001,
            micros: from + gap,
            forward: from + gap,
          });
          expect(after).toMatchObject({
            boardMicros: from + gap,
            forwardPulses: from + gap,
            sequence: seq + 40_001,
          });
        },
      ),
    );
  });
});

describe('after an outage', () => {
  it('only the first reading may be any distance on', () => {
    const decoder = introduced(0);
    readingOf(decoder, { sequence: 1, micros: 1e6 });
    decoder.disconnected();
    accepted(decoder, identity(50));
    readingOf(decoder, { sequence: 51, micros: 900e6 });
    expect(refusal(decoder, reading({ sequence: 52, micros: 2000e6 }))).toBe('restarted');
  });

  it('a sequence number that stands where it stood has gone round once', () => {
    const decoder = introduced(10);
    decoder.disconnected();
    expect(accepted(decoder, identity(10))).toMatchObject({ missed: 65535, line: { sequence: 65546 } });
  });
});

describe('stored lines', () => {
  it('decoded again from the state at the first of them give the same, to the last digit', () => {
    const decoder = introduced(60_000);
    let moment = { sequence: 60_000, micros: two32 - 1e6, forward: 0 };
    const texts: string[] = [];
    const lines: unknown[] = [];
    let state = decoder.state();
    for (let i = 0; i < 20_000; i++) {
      moment = {
        sequence: moment.sequence + 1 + (i % 7 === 0 ? 2 : 0),
        micros: moment.micros + 12_500,
        forward: i,
      };
      if (i === 12_000) state = decoder.state();
      const text = i % 500 === 499 ? identity(moment.sequence) : reading(moment);
      const { line } = accepted(decoder, text);
      if (i >= 12_000) {
        texts.push(text);
        lines.push(line);
      }
    }
    const again = new LineDecoder(JSON.parse(JSON.stringify(state)));
    expect(texts.map((text) => accepted(again, text).line)).toEqual(lines);
    expect(again.state()).toEqual(decoder.state());
  });
});
