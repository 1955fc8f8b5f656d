/** The settings in EEPROM: the same bytes from both sides, and no moment at which a power cut spoils them. */
import { describe, expect, it } from 'vitest';
import type { Board } from '../../firmware-sim/board/board.ts';
import { EepromStore } from '../../firmware-sim/board/eeprom-store.ts';
import { type StandSettings, settingsCopy } from '../../firmware-sim/board/settings-image.ts';
import { eepromFor, Stand, standSettings } from '../../firmware-sim/stand.ts';
import { PlainWorld } from './plain-world.ts';
import { setUp } from './setup.ts';
import { Talk } from './talk.ts';

const copyA = 0x20;
const copyB = 0xa0;

const changed: StandSettings = {
  name: 'Bench_2-left',
  pulsesPerTurn: 1234,
  debounceMicroseconds: 4321,
  cells: 5,
  direction: 2,
  warnPulses: 65535,
  slopesNanograms: [1_000_000, -2_000_000_000, 2_000_000_000, 1, -1, 987_654],
  zerosCounts: [84_000, -8_388_608, 8_388_607, 0, -1, 12_345],
};

function commandsFor(settings: StandSettings): string[] {
  return [
    `set name ${settings.name}`,
    `set ppt ${settings.pulsesPerTurn}`,
    `set debounce ${settings.debounceMicroseconds}`,
    `set cells ${settings.cells}`,
    `set direction ${settings.direction}`,
    `set warn ${settings.warnPulses}`,
    ...settings.slopesNanograms.map((slope, cell) => `set slope${cell + 1} ${slope}`),
    ...settings.zerosCounts.map((zero, cell) => `set zero${cell + 1} ${zero}`),
  ];
}

/** Sends `save` and waits for its answer, which takes longer than other answers. */
function save(stand: Stand, talk: Talk): string | undefined {
  const tag = talk.send('save');
  stand.advance(1.5);
  return talk.answerTo(tag);
}

describe('the settings image', () => {
  it('is, byte for byte, what the firmware writes', () => {
    const eeprom = new EepromStore();
    const stand = new Stand({ world: new PlainWorld(6), eeprom });
    const talk = new Talk(stand);
    stand.advance(0.2);
    for (const command of commandsFor(changed)) expect(talk.ask(command)).toBe('ok');
    expect(save(stand, talk)).toBe('ok');
    expect([...eeprom.bytes.subarray(copyA)]).toEqual([...eepromFor(changed).subarray(copyA)]);
  });

  it('is what the firmware reads', () => {
    const eeprom = eepromFor(changed);
    const stand = new Stand({ world: new PlainWorld(5), eeprom });
    const talk = new Talk(stand);
    stand.advance(0.2);
    talk.ask('get');
    const told = talk.of('P').map((fields) => `set ${fields.slice(2).join(' ')}`);
    expect(told.sort()).toEqual(commandsFor(changed).sort());
    expect(talk.of('I')[0]).toContain('settings=ok');
  });

  it('makes the board refuse it when any one byte is wrong', () => {
    for (let offset = 0; offset < 78; offset++) {
      const eeprom = eepromFor(changed);
      for (const copy of [copyA, copyB]) eeprom[copy + offset]! ^= 1 << (offset % 8);
      const { board } = new Stand({ world: new PlainWorld(1), eeprom });
      expect(identity(board)).toContain('settings=corrupt');
    }
  });
});

/** Any bit of the two copies: all of them whole, else every thirteenth. */
const every = process.env.CATCHBENCH_WHOLE ? 1 : 13;

describe('a single flipped bit', () => {
  const bits = Array.from({ length: 2 * 78 * 8 }, (_, bit) => bit).filter((bit) => bit % every === 0);

  it(`of either copy (${bits.length} of ${2 * 78 * 8}) leaves the settings as they were, read from the other`, () => {
    for (const bit of bits) {
      const eeprom = eepromFor(changed);
      const byte = Math.floor(bit / 8);
      eeprom[byte < 78 ? copyA + byte : copyB + byte - 78]! ^= 1 << (bit % 8);
      const { board } = new Stand({ world: new PlainWorld(1), eeprom });
      const said = identity(board);
      expect(said, `bit ${bit}`).toContain(`name=${changed.name} settings=ok`);
      expect(said, `bit ${bit}`).toContain(
        `ppt=${changed.pulsesPerTurn} cells=${changed.cells} direction=2 debounce=4321`,
      );
    }
  });
});

/** Runs the board until it has introduced itself, and returns the line. */
function identity(board: Board): string {
  let text = '';
  const end = board.cpu.cycles + 8_000_000;
  while (!/I \d+ .*\r\n/.test(text)) {
    if (board.cpu.cycles > end) throw new Error('The board did not introduce itself');
    board.run(board.cpu.cycles + 16_000);
    text += Buffer.from(board.serial.read()).toString('latin1');
  }
  return /I \d+ .*\r\n/.exec(text)![0];
}

describe('a power cut', () => {
  const oldSettings = 'name=stand settings=ok boot=2 ppt=60';
  const newSettings = `name=${changed.name} settings=ok boot=2 ppt=${changed.pulsesPerTurn}`;

  /** Half a millisecond: less than an erasure takes. */
  const stepCycles = 8000;

  /** What a board says of itself after a power cut at each erasure and write in turn, of the next 1.5 s of its run. */
  function afterEachCut(board: Board, eeprom: EepromStore, torn: number | undefined): string[] {
    const found: string[] = [];
    for (let step = 0; step < 3000; step++) {
      const before = moment(board, eeprom);
      const operations = eeprom.operations;
      board.run(board.cpu.cycles + stepCycles);
      const count = eeprom.operations - operations;
      if (count === 0) continue;
      const after = moment(board, eeprom);
      for (let operation = 1; operation <= count; operation++) {
        before();
        eeprom.cutPowerAt(operation, torn);
        while (!eeprom.powerIsCut) board.run(board.cpu.cycles + 100);
        board.powerCycle();
        board.serial.read();
        const fields = identity(board).split(' ');
        found.push(fields.filter((field) => /^(name|settings|boot|ppt)=/.test(field)).join(' '));
      }
      after();
    }
    return found;
  }

  /** Remembers the board and its EEPROM; the function returned brings both back. */
  function moment(board: Board, eeprom: EepromStore): () => void {
    const bytes = eeprom.bytes.slice();
    const restore = board.save();
    return () => {
      restore();
      eeprom.bytes.set(bytes);
    };
  }

  describe.each([
    ['as it was', undefined],
    ['full of zeros', 0x00],
    ['half done', 0x5a],
  ])('that leaves the byte under way %s', (_, torn) => {
    it('leaves the old settings or the new ones, at any erasure or write of a save', () => {
      const { stand, talk, eeprom } = setUp(1, { pulsesPerTurn: 60 });
      for (const command of commandsFor(changed)) expect(talk.ask(command)).toBe('ok');
      talk.send('save');
      const found = afterEachCut(stand.board, eeprom, torn);
      const old = found.filter((settings) => settings === oldSettings).length;
      console.log(`${found.length} cuts: ${old} times the old settings, then the new ones`);
      // An erasure and a write for each changed byte of the two copies; the old ones until the first of them is complete.
      expect(old).toBeGreaterThan(100);
      expect(found.length - old).toBeGreaterThan(100);
      expect(found).toEqual([
        ...Array(old).fill(oldSettings),
        ...Array(found.length - old).fill(newSettings),
      ]);
    });

    it('costs the boot counter one count at most, and no setting', () => {
      const { stand, eeprom } = setUp(1, { pulsesPerTurn: 60 });
      stand.powerCycle();
      stand.advance(0.1);
      stand.powerCycle();
      const found = afterEachCut(stand.board, eeprom, torn);
      // Two of the three bytes of a record change.
      expect(found.length).toBe(4);
      for (const settings of found) expect(settings).toMatch(/^name=stand settings=ok boot=[34] ppt=60$/);
    });
  });
});

it('a copy differs with every setting and with its generation', () => {
  const copy = (changes: Partial<StandSettings>, generation = 1) =>
    Buffer.from(settingsCopy(standSettings(changes), generation)).toString('hex');
  const variants = [{}, ...Object.entries(changed).map(([key, value]) => ({ [key]: value }))];
  expect(new Set([...variants.map((variant) => copy(variant)), copy({}, 2)]).size).toBe(variants.length + 1);
});
