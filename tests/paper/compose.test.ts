import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chanceWords } from '../../server/domain/advice/words.ts';
import { composeLid } from '../../server/paper/compose/lid.ts';
import { paperNumbers } from '../../server/paper/compose/numbers.ts';
import { qrModules, qrPath } from '../../server/paper/compose/qr.ts';
import { composeSheet } from '../../server/paper/compose/sheet.ts';
import type { PaperFacts } from '../../server/paper/compose/types.ts';
import { paperTeller } from '../../server/paper/told.ts';
import { paperWords } from '../../server/paper/words.ts';
import { chancePercent } from '../../web/src/state/format.ts';
import { closeShop, type InventedShop, inventedShop, weighed } from './facts.ts';

const english = {
  words: paperWords('en'),
  tell: paperTeller('en'),
  language: 'en',
  system: 'metric',
} as const;

describe('what a sheet says', () => {
  let shop: InventedShop;
  let facts: PaperFacts;

  beforeAll(async () => {
    shop = await inventedShop();
    facts = await weighed(shop, [24, 40, 32, 32, 33]);
  });
  afterAll(() => closeShop(shop));

  it('is nothing before there is a run', () => {
    expect(composeSheet({ ...facts, view: { ...facts.view, runs: [], advice: null } }, english)).toBe(null);
  });

  it('names the largest part of the doubt, and it is the largest', () => {
    const doubts = facts.view.doubts!;
    expect(doubts[0]!.relative).toBe(Math.max(...doubts.map(({ relative }) => relative)));
    const { sections } = composeSheet(facts, english)!;
    const part = english.words.parts[doubts[0]!.part];
    expect(sections[0]!.paragraphs.join(' ')).toContain(part);
  });

  it('says that testing is not finished where it is not', () => {
    const { view } = facts;
    const stop = { ...view.advice!.stop, done: false, asGoodAsItGets: false };
    const unfinished = { ...facts, view: { ...view, advice: { ...view.advice!, stop } } };
    expect(composeSheet(unfinished, english)!.warnings).toEqual([english.words.unfinished]);
    expect(composeSheet(facts, english)!.warnings).toEqual([]);
  });

  it('tells a run set aside, and why', async () => {
    const [first] = facts.view.runs;
    const aside = { why: 'The bag had slipped', by: 'you', at: facts.madeAt };
    const runs = facts.view.runs.map((run) =>
      run.id === first!.id ? { ...run, counts: false, whyNot: 'set aside', setAside: aside } : run,
    );
    const { sections } = composeSheet({ ...facts, view: { ...facts.view, runs } }, english)!;
    const measured = sections.find(({ title }) => title === english.words.measured)!;
    expect(measured.tables[0]!.rows[0]).toMatchObject({ look: 'faint' });
    expect(measured.tables[0]!.rows[0]!.cells.at(-1)).toBe('no: The bag had slipped');
  });

  it.each([
    [
      'de',
      'nein: der Beutel berührte etwas',
      'nein: Er hat keine Aussaatmenge: Es wurde zu wenig aufgefangen.',
    ],
    ['es', 'no: la bolsa tocaba algo', 'no: No tiene dosis: se recogió demasiado poco.'],
    [
      'fr',
      'non\u00a0: le sac touchait quelque chose',
      'non\u00a0: Il n’a pas de dose\u00a0: trop peu recueilli.',
    ],
  ] as const)('tells in %s why a run does not count', (language, aside, unfit) => {
    const runs = facts.view.runs.map((run, index) => ({
      ...run,
      counts: index > 1,
      whyNot: index > 1 ? null : 'It has no rate: too little was caught.',
      setAside: index > 0 ? null : { why: 'the bag touched something', by: 'you', at: facts.madeAt },
    }));
    const wish = { ...english, language, words: paperWords(language), tell: paperTeller(language) };
    const { sections } = composeSheet({ ...facts, view: { ...facts.view, runs } }, wish)!;
    const measured = sections.find(({ title }) => title === wish.words.measured)!;
    expect(measured.tables[0]!.rows.slice(0, 2).map(({ cells }) => cells.at(-1))).toEqual([aside, unfit]);
  });

  it('writes a mark as it stands on the scale, and puts the setting come to on record', async () => {
    const { view } = facts;
    const setting = view.advice!.stop.setting!;
    const letters = Array.from({ length: 81 }, (_, mark) => `N${mark}`);
    const scale = { ...view.scale!, marks: letters };
    expect(composeSheet({ ...facts, view: { ...view, scale } }, english)!.keys[0]!.value).toBe(`N${setting}`);
    const { fields } = (await shop.store.calibrations.find(view.id!))!;
    expect(fields.chosenSetting).toBe(setting);
  });

  it('lists round rates that are round in the unit of the reader', () => {
    const rounds = (system: 'metric' | 'us') =>
      composeLid(facts, { ...english, system })!
        .sections.find(({ title }) => title === english.words.lidRounds)!
        .tables[0]!.rows.map(({ cells }) => Number(/[\d.]+/.exec(cells[0]!)![0]));
    for (const system of ['metric', 'us'] as const) {
      expect(rounds(system).length).toBeGreaterThan(2);
      expect(rounds(system).filter((rate) => Math.abs(rate - Math.round(rate)) > 0.05)).toEqual([]);
    }
  });

  it('tells the lid of a drill whose marks carry letters in those letters alone, rate wanted first', () => {
    const { view } = facts;
    const marks = Array.from({ length: 81 }, (_, mark) => `N${mark}`);
    const lettered = { ...facts, view: { ...view, scale: { ...view.scale!, marks } } };
    const [first] = composeLid(lettered, english)!.sections;
    expect(first!.title).toBe(english.words.lidRounds);
    const rows = first!.tables[0]!.rows.map(({ cells }) => cells);
    expect(rows.length).toBeGreaterThan(2);
    for (const [, setting, span] of rows) {
      expect(setting).toMatch(/^N\d+$/);
      expect(span).toMatch(/^N\d+( – N\d+)?$/);
      const [low, high = low] = span!.split(' – ').map((mark) => Number(mark.slice(1)));
      expect(Number(setting!.slice(1))).toBeGreaterThanOrEqual(low!);
      expect(Number(setting!.slice(1))).toBeLessThanOrEqual(high!);
    }
  });

  it('holds no address in its code, and every figure that counts', () => {
    const { code, keys } = composeSheet(facts, english)!;
    expect(code.text).not.toMatch(/https?:|www\./);
    for (const { value } of keys) expect(code.text).toContain(value);
  });

  it('gives the same figures in the units of both habits', () => {
    const metric = paperNumbers({ language: 'en', system: 'metric' });
    const us = paperNumbers({ language: 'en', system: 'us' });
    // Exact: lb = 0.45359237 kg, ac = 4046.8564224 m² (NIST Special Publication 811, appendix B.8).
    expect(Number(metric.rate(6.7)) / Number(us.rate(6.7))).toBeCloseTo(1.120851156, 2);
    expect(us.length(0.1905)).toBe('7.5 in');
    expect(metric.length(0.1905)).toBe('19.05 cm');
    expect(paperNumbers({ language: 'fr', system: 'metric' }).rate(6.7)).toBe('67,0');
    const { chance } = paperNumbers({ language: 'de', system: 'metric' });
    expect(chance(0.999)).toBe('> 99');
    // Where 90 % are wanted, 89.97 % are not called so.
    expect([0.8997, 0.9, 0.29].map(chance)).toEqual(['89', '90', '29']);
    expect([0.8997, 0.9, 0.29].map(chanceWords)).toEqual(['89 %', '90 %', '29 %']);
    expect([0.8997, 0.9, 0.29].map(chancePercent)).toEqual(['89', '90', '29']);
  });
});

describe('the code as a path', () => {
  it('covers the dark modules and no other', () => {
    const text = 'Set to: 33\nÜbung · 67,0 kg/ha';
    const modules = qrModules(text);
    const { size, path } = qrPath(text);
    const drawn = modules.map((row) => row.map(() => false));
    for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\3z/g)) {
      for (let at = 0; at < Number(length); at++) drawn[Number(y)]![Number(x) + at] = true;
    }
    expect(size).toBe(modules.length);
    expect(drawn).toEqual(modules);
    expect(path.replace(/M\d+ \d+h\d+v1h-\d+z/g, '')).toBe('');
  });
});
