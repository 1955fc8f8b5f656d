import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readNumber } from '../../web/src/state/number.ts';

const value = (text: string) => readNumber(text)?.value ?? null;

describe('a number as people type it', () => {
  it.each([
    ['7.5', 7.5],
    ['7,5', 7.5],
    [' 19 ', 19],
    ['1 234,5', 1234.5],
    ['1 234.5', 1234.5],
    ['1,234.5', 1234.5],
    ['1.234,5', 1234.5],
    ["1'250", 1250],
    ['1,234,567', 1234567],
    ['.5', 0.5],
    ['5.', 5],
    ['−3', -3],
    ['7 1/2', 7.5],
    ['7-1/2', 7.5],
    ['7½', 7.5],
    ['3/8', 0.375],
  ])('%s is %d', (text, wanted) => expect(value(text)).toBe(wanted));

  it.each([
    '',
    'x',
    'about two',
    '--3',
    '1.2.3',
    '1,2,3',
    '12 5',
    '1,23.4',
    '1/0',
    'NaN',
    'Infinity',
    '9'.repeat(400),
  ])('%s is none', (text) => expect(value(text)).toBeNull());

  it.each([
    ['7.5 in', 'in'],
    ['7½"', '"'],
    ['7.5″', '"'],
    ['190mm', 'mm'],
    ['67,2 kg/ha', 'kg/ha'],
    ['5 %', '%'],
    ['8’', "'"],
    ['12', ''],
    ['1e5', 'e5'],
  ])('%s has the unit %s', (text, unit) => expect(readNumber(text)?.unit).toBe(unit));

  it('sees that a lone comma before three digits may group thousands', () => {
    expect(readNumber('1,250')).toEqual({ value: 1.25, grouped: 1250, unit: '' });
    expect(readNumber('1,25')?.grouped).toBeNull();
    expect(readNumber('0,250')?.grouped).toBeNull();
    expect(readNumber('1.250')?.grouped).toBeNull();
  });

  it('reads back what is written with point or comma', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 10_000_000 }),
        fc.integer({ min: 1, max: 5 }),
        (scaled, digits) => {
          const text = (scaled / 10 ** digits).toFixed(digits);
          expect(value(text)).toBe(Number(text));
          expect(value(text.replace('.', ','))).toBe(Number(text));
        },
      ),
    );
  });

  it('never throws and never gives anything but a finite number', () => {
    const typed = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom(...'0123456789,. -+/½"\'inm%') }));
    fc.assert(
      fc.property(typed, (text) => {
        const read = readNumber(text);
        if (read === null) return;
        expect(Number.isFinite(read.value)).toBe(true);
        expect(read.grouped === null || Number.isFinite(read.grouped)).toBe(true);
        expect(read.unit).toBe(read.unit.trim());
      }),
      { numRuns: 2000 },
    );
  });
});
