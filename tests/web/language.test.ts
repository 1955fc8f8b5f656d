import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { exact, figure, fixed, grams, plain } from '../../web/src/state/format.ts';
import { bestLanguage, languages } from '../../web/src/state/language.ts';
import { readNumber } from '../../web/src/state/number.ts';
import { speak } from '../../web/src/state/say.ts';
import { findUnit } from '../../web/src/state/units.ts';
import { en } from '../../web/texts/en/index.ts';

afterEach(() => speak(en, 'en'));

describe('the language of a device', () => {
  it.each([
    [['de-AT', 'en'], 'de'],
    [['pt-BR', 'es-MX', 'en'], 'es'],
    [['FR'], 'fr'],
    [['en-GB', 'fr'], 'en'],
    [['nl', 'ja'], 'en'],
    [[], 'en'],
  ])('%j is spoken as %s', (wishes, wanted) => expect(bestLanguage(wishes)).toBe(wanted));
});

describe('numbers', () => {
  it('are written with the mark of the language, and plainly for the server', () => {
    expect([figure(67.24), grams(84.23), exact(7.5), plain(7.5)]).toEqual(['67.2', '84.2', '7.5', '7.5']);
    for (const language of ['fr', 'es', 'de'] as const) {
      speak(en, language);
      expect([figure(67.24), grams(84.23), exact(7.5), plain(7.5)]).toEqual(['67,2', '84,2', '7,5', '7.5']);
      expect(fixed(12345.678, 1), 'no marks between thousands').toBe('12345,7');
      expect(fixed(-0.04, 1), 'no minus before a zero').toBe('0,0');
    }
  });

  it('read with the decimal mark of the language are never in doubt; with the other one they may be', () => {
    expect(readNumber('1,250', ',')).toEqual({ value: 1.25, grouped: null, unit: '' });
    expect(readNumber('1.250', ',')).toEqual({ value: 1.25, grouped: 1250, unit: '' });
    expect(readNumber('1.234,5', ',')?.value).toBe(1234.5);
    expect(readNumber('7,5 Zoll', ',')).toEqual({ value: 7.5, grouped: null, unit: 'Zoll' });
  });

  it('written in any language are read back in it', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...languages),
        fc.double({ min: 0.001, max: 99_999, noNaN: true }),
        (language, value) => {
          speak(en, language);
          const written = exact(value);
          const read = readNumber(written, written.includes(',') ? ',' : '.');
          expect(read?.grouped).toBeNull();
          expect(Math.abs(read!.value / value - 1)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('units', () => {
  it.each([
    ['length', 'Zoll', 'in'],
    ['length', 'pouces', 'in'],
    ['length', 'pulgadas', 'in'],
    ['turns', 'Umdrehungen', 'turns'],
    ['mass', 'livres', 'lb'],
    ['rate', 'kg par hectare', 'kg/ha'],
    ['share', 'por ciento', '%'],
  ] as const)('%s: %s is understood as %s', (dimension, typed, label) =>
    expect(findUnit(dimension, typed)?.label).toBe(label),
  );
});
