/**
 * The real firmware's receiver under rubbish: random bytes, and lines that arm, start and save, with up to three bits wrong,
 * which a CRC-16 of this polynomial always finds in lines so short. CATCHBENCH_WHOLE=1 sends a million bytes.
 */
import { expect, it } from 'vitest';
import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import { setUp } from './setup.ts';
import { wireLine } from './talk.ts';

const bytesToSend = process.env.CATCHBENCH_WHOLE ? 1_000_000 : 60_000;

const newline = 0x0a;
const stopCharacter = 0x21;

function whole(random: RandomStream, below: number): number {
  return Math.floor(random.uniform() * below);
}

function rubbish(random: RandomStream): Uint8Array {
  return Uint8Array.from({ length: 1 + whole(random, 100) }, () => whole(random, 256));
}

/** A good line with one to three of its bits wrong; not so that it falls into two lines, or says Stop. */
function damaged(random: RandomStream, command: string): Uint8Array {
  const good = wireLine(`${1 + whole(random, 65535)} ${command}`);
  for (;;) {
    const bad = good.slice();
    for (let flip = 1 + whole(random, 3); flip > 0; flip--) {
      bad[whole(random, bad.length - 1)]! ^= 1 << whole(random, 8);
    }
    const inside = bad.subarray(0, -1);
    const same = bad.every((byte, at) => byte === good[at]);
    if (!same && !inside.includes(newline) && !inside.includes(stopCharacter)) return bad;
  }
}

it('is never reset, believes nothing, and answers the next good line', { timeout: 600_000 }, () => {
  const { stand, talk } = setUp(6);
  const random = randomStreams('receiver')('bytes');
  const settings = () => {
    talk.forget();
    talk.ask('get');
    return talk.of('P').map((fields) => fields.slice(2).join(' '));
  };
  const before = settings();
  let motorOn = 0;
  stand.board.onMotor = () => motorOn++;
  let sent = 0;
  while (sent < bytesToSend) {
    // A newline first: what is left of the rubbish before must not spoil the good line.
    stand.write(Uint8Array.of(newline));
    const key = talk.ask('arm motor 100').slice(3);
    talk.forget();
    const until = sent + 4000;
    while (sent < until) {
      const commands = [`go ${key}`, 'arm motor 7', 'set ppt 7', 'save', 'arm hand 3'];
      const bytes =
        random.uniform() < 0.5 ? rubbish(random) : damaged(random, commands[whole(random, commands.length)]!);
      while (stand.board.serial.room < bytes.length) stand.advance(0.005);
      sent += stand.write(bytes);
    }
    while (stand.board.serial.waiting > 0) stand.advance(0.005);
    stand.advance(0.01);
    expect(talk.of('A').filter(([, , tag]) => tag !== '0')).toEqual([]);
    expect(talk.of('I')).toEqual([]);
    expect(talk.damaged).toBe(0);
  }
  stand.write(Uint8Array.of(newline));
  talk.ask('stop');
  expect(settings()).toEqual(before);
  expect(talk.health()).toMatchObject({ boot: 1 });
  expect(talk.health().rxbad).toBeGreaterThan((sent / 10_000) | 0);
  expect(motorOn).toBe(0);
});
