import { describe, expect, it } from 'vitest';
import { LineDecoder } from '../../server/link/decoder.ts';
import { LineAssembler } from '../../server/link/lines.ts';
import { PaperBench } from './bench.ts';
import { checked } from './board-lines.ts';
import { Dice } from './dice.ts';

const identity =
  'catchbench-stand proto=1 fw=1.0.0 name=bench settings=ok boot=7 reset=E ppt=24 cells=2 direction=1 debounce=2500';

/** A board's lines, one after the other, as bytes; every twentieth says who it is. */
class Speaker {
  sequence = 0;
  readonly said = new Set<string>();

  next(): string {
    const n = this.sequence++;
    const wire = n % 65536;
    const reading = `R ${wire} ${n * 12_500} ${n} 0 100 turning - 01 ${4000 + n} -${1 + n}`;
    const text = checked(n % 20 === 0 ? `I ${wire} ${identity}` : reading);
    this.said.add(text);
    return `${text}\r\n`;
  }
}

/** Ways in which a line can be spoilt between two sockets. */
const spoilers: ((dice: Dice, line: Buffer) => Buffer)[] = [
  (_, line) => line,
  (dice, line) => {
    line[dice.below(line.length)]! ^= 1 << dice.below(8);
    return line;
  },
  (dice, line) => {
    for (let i = 0; i < 4; i++) line[dice.below(line.length)] = dice.below(256);
    return line;
  },
  (dice, line) => line.subarray(0, dice.below(line.length)),
  (dice, line) => line.subarray(dice.below(line.length)),
  (dice, line) => {
    const from = dice.below(line.length);
    return Buffer.concat([line.subarray(0, from), line.subarray(from + 1 + dice.below(5))]);
  },
  (dice, line) => {
    const at = dice.below(line.length);
    return Buffer.concat([line.subarray(0, at), dice.bytes(1 + dice.below(8)), line.subarray(at)]);
  },
  (dice) => dice.bytes(dice.below(200)),
  (dice) => dice.printable(dice.below(400)),
  (dice, line) => Buffer.concat([line.subarray(0, line.length - 2), line, dice.bytes(2)]),
];

/** CATCHBENCH_WHOLE=1 sends ten million. */
const bytesToSend = process.env.CATCHBENCH_WHOLE ? 10_000_000 : 1_000_000;

describe('a million random and corrupted bytes', () => {
  it('nothing is believed that was not sent, and the next good line is understood', {
    timeout: 600_000,
  }, () => {
    const dice = new Dice(20261125);
    const speaker = new Speaker();
    const assembler = new LineAssembler();
    const decoder = new LineDecoder();
    const wrong: string[] = [];
    let taken = 0;
    let bytes = 0;
    const take = (text: string) => {
      if (!decoder.decode(text).ok) return;
      taken++;
      if (!speaker.said.has(text)) wrong.push(text);
    };
    let notUnderstood = 0;
    for (let round = 0; bytes < bytesToSend; round++) {
      const spoilt = spoilers[dice.below(spoilers.length)]!(dice, Buffer.from(speaker.next(), 'latin1'));
      bytes += spoilt.length;
      for (let at = 0; at < spoilt.length; ) {
        const size = 1 + dice.below(40);
        assembler.push(spoilt.subarray(at, at + size), take);
        at += size;
      }
      if (round % 50 !== 49) continue;
      // The line end of a good identity ends whatever went before; the one after it must then be understood.
      assembler.push(Buffer.from('\n'), take);
      speaker.sequence += (20 - (speaker.sequence % 20)) % 20;
      const before = taken;
      assembler.push(Buffer.from(speaker.next() + speaker.next(), 'latin1'), take);
      if (taken !== before + 2) notUnderstood++;
    }
    expect(wrong).toEqual([]);
    expect(notUnderstood).toBe(0);
    expect(taken).toBeGreaterThan(1000);
  });

  it('through the whole link: no crash, no wrong line, nothing gathered up, and the board is back at once', async () => {
    const bench = await new PaperBench().connect();
    const dice = new Dice(7);
    const good = new Set<string>();
    const { onText } = bench.board;
    bench.board.onText = (text) => {
      good.add(text.trimEnd());
      onText(text);
    };
    bench.heard.texts.length = 0;
    for (let bytes = 0; bytes < 1_000_000; ) {
      const noise = dice.below(2) ? dice.bytes(4096) : dice.printable(4096);
      bench.cable.deliver(noise);
      bytes += noise.length;
      await bench.pass(20);
    }
    bench.cable.deliver(Buffer.from('\n'));
    expect(bench.heard.texts.filter((text) => !good.has(text))).toEqual([]);
    const { refused } = bench.link.figures();
    expect(refused.long + refused.notAscii + refused['no-check']).toBeGreaterThan(100);
    await bench.pass(100);
    const before = bench.heard.readings.length;
    await bench.pass(100);
    expect(bench.heard.readings.length).toBeGreaterThanOrEqual(before + 7);
    await bench.until(() => bench.view.condition === 'connected', 5000);
    expect(await bench.end()).toBe(0);
  });

  it('without one line end among them: no more is held than a line', () => {
    const assembler = new LineAssembler();
    const block = Buffer.alloc(1 << 20, 'x');
    global.gc?.();
    const before = process.memoryUsage().arrayBuffers + process.memoryUsage().heapUsed;
    for (let i = 0; i < 64; i++) assembler.push(block, () => expect.unreachable());
    const after = process.memoryUsage().arrayBuffers + process.memoryUsage().heapUsed;
    expect(after - before).toBeLessThan(16e6);
    const lines: string[] = [];
    assembler.push(Buffer.from('\ngood\n'), (line) => lines.push(line));
    expect(lines).toEqual(['good']);
  });
});
