import { describe, expect, it } from 'vitest';
import { Stand } from './stand.ts';

/** The settings as the board tells them. */
function told(stand: Stand): Record<string, string> {
  stand.lines.length = 0;
  stand.command('get');
  return Object.fromEntries(stand.of('P').map(({ fields }) => fields.slice(2, 4) as [string, string]));
}

const blank = () => new Stand({ eeprom: new Uint8Array(), values: [5, 6] }).run(150);

describe('settings', () => {
  it('are defaults on a new board, and none is ready to turn', () => {
    const stand = blank();
    expect(stand.last('I')).toContain('settings=blank');
    expect(told(stand)).toMatchObject({
      name: 'unnamed',
      ppt: '60',
      debounce: '200',
      cells: '1',
      zero6: '0',
    });
  });

  it('take effect on save, while readings go on, and stand after a reset', () => {
    const stand = blank();
    for (const setting of ['name east_barn-2', 'cells 2', 'ppt 48', 'slope2 -2384185', 'zero1 -8388608'])
      expect(stand.command(`set ${setting}`)).toBe('ok');
    expect(told(stand)).toMatchObject({ name: 'unnamed', cells: '1' });
    const before = stand.of('R').length;
    expect(stand.command('save')).toBe('ok');
    expect(stand.of('R').length - before).toBeGreaterThan(15);
    const saved = {
      name: 'east_barn-2',
      cells: '2',
      ppt: '48',
      slope2: '-2384185',
      zero1: '-8388608',
      warn: '60',
    };
    expect(told(stand)).toMatchObject(saved);
    stand.run(1000);
    stand.board.powerCycle();
    stand.run(200);
    expect(stand.last('I')).toEqual(
      expect.arrayContaining(['settings=ok', 'name=east_barn-2', 'boot=2', 'reset=P']),
    );
    expect(told(stand)).toMatchObject(saved);
    expect(stand.last('R').slice(9)).toEqual(['5', '6']);
  });

  it('refuse what is out of range or not now', () => {
    const stand = new Stand().run(150);
    expect(stand.command('set cells 7')).toBe('no value');
    expect(stand.command('set colour 7')).toBe('no value');
    stand.start('hand', 20);
    expect(stand.command('set cells 2')).toBe('no state');
    expect(stand.command('save')).toBe('no state');
  });

  it('lie twice a second after a save, and the good copy mends the bad one at the next reset', () => {
    const stand = blank();
    stand.command('set ppt 77');
    stand.command('save');
    stand.run(1000);
    const copy = (from: number) => [...stand.eeprom.bytes.slice(from, from + 78)];
    expect(copy(0x20)).toEqual(copy(0xa0));
    stand.eeprom.bytes[0x20 + 20]! ^= 0x04;
    stand.board.reset();
    stand.run(1000);
    expect(told(stand)).toMatchObject({ ppt: '77' });
    expect(copy(0x20)).toEqual(copy(0xa0));
  });

  it('are refused when both copies are bad', () => {
    const stand = new Stand().run(1000);
    for (const at of [0x20, 0xa0]) stand.eeprom.bytes[at + 30]! ^= 0x01;
    stand.board.reset();
    stand.run(200);
    expect(stand.last('I')).toContain('settings=corrupt');
    expect(Number.parseInt(stand.last('R')[8]!, 16) & 0x20).toBe(0x20);
    expect(stand.command('arm hand 20')).toBe('no settings');
  });
});
