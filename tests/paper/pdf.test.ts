import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { composeLid } from '../../server/paper/compose/lid.ts';
import { composeSheet } from '../../server/paper/compose/sheet.ts';
import type { Paper, PaperFacts } from '../../server/paper/compose/types.ts';
import { paperSizes } from '../../server/paper/pdf/canvas.ts';
import { drawPdf } from '../../server/paper/pdf/draw.ts';
import { paperTeller } from '../../server/paper/told.ts';
import { type PaperLanguage, paperLanguages, paperWords } from '../../server/paper/words.ts';
import { needs } from '../needs.ts';
import { closeShop, type InventedShop, inventedShop, weighed } from './facts.ts';
import { plainSpaces, readCode, readPdf } from './poppler.ts';

/** Every text that the paper holds. */
function textsOf(paper: Paper): string[] {
  return [
    paper.title,
    ...paper.warnings,
    ...paper.keys.flatMap(({ name, value, unit, more }) => [name, value, unit, more]),
    ...paper.facts.flat(),
    ...paper.sections.flatMap(({ title, paragraphs, points, tables }) => [
      ...[title, ...paragraphs, ...points],
      ...tables.flatMap(({ columns, rows }) => [...columns, ...rows.flatMap(({ cells }) => cells)]),
    ]),
    ...paper.signature,
    paper.code.caption,
    paper.madeBy,
  ].map(plainSpaces);
}

const points: Record<(typeof paperSizes)[number], [number, number]> = {
  A4: [595.28, 841.89], // ISO 216: 210 mm x 297 mm
  Letter: [612, 792], // ANSI/ASME Y14.1: 8.5 in x 11 in
};

describe.runIf(needs('pdftotext'))('the sheet and the lid chart as PDF', () => {
  let shop: InventedShop;
  let facts: PaperFacts;

  beforeAll(async () => {
    shop = await inventedShop();
    facts = await weighed(shop, [24, 40, 32, 32, 33]);
  });
  afterAll(() => closeShop(shop));

  const wishFor = (language: PaperLanguage, system: 'metric' | 'us') =>
    ({ words: paperWords(language), tell: paperTeller(language), language, system }) as const;
  const cases = paperLanguages.flatMap((language, index) =>
    (['sheet', 'lid'] as const).map((kind) => ({ language, kind, size: paperSizes[index % 2]! })),
  );

  it.each(cases)('$kind in $language on $size: one page, all of it to be read back', async (one) => {
    const { language, kind, size } = one;
    const wish = wishFor(language, size === 'A4' ? 'metric' : 'us');
    const paper = (kind === 'sheet' ? composeSheet : composeLid)(facts, wish)!;
    const bytes = await drawPdf({ paper, size, language, madeAt: facts.madeAt });
    const read = readPdf(bytes, shop.folder);
    const words = new Set(read.text.split(' '));
    const lost = textsOf(paper)
      .flatMap((text) => text.split(' '))
      .filter((word) => word !== '' && !words.has(word));
    expect(lost).toEqual([]);
    expect(read.pages).toBe(1);
    expect(read.tagged).toBe(true);
    const [width, height] = points[size];
    expect(read.size[0]).toBeCloseTo(width, 0);
    expect(read.size[1]).toBeCloseTo(height, 0);
    expect(read.fonts.length).toBeGreaterThanOrEqual(2);
    expect(read.fonts.filter(({ embedded }) => !embedded)).toEqual([]);
    expect(read.fonts.every(({ name }) => name.includes('DejaVu'))).toBe(true);
    expect(readCode(bytes, shop.folder)).toBe(paper.code.text);
  });

  it('says what the advice says', async () => {
    const paper = composeSheet(facts, wishFor('en', 'metric'))!;
    const { advice } = facts.view;
    const setting = advice!.stop.setting!;
    const row = advice!.chart.find((each) => each.setting === setting)!;
    const { text } = readPdf(
      await drawPdf({ paper, size: 'A4', language: 'en', madeAt: facts.madeAt }),
      shop.folder,
    );
    expect(text).toContain(`Set the drill to ${setting} coarse gate`);
    // 1 kg/ha is 0.1 g/m², exactly.
    expect(text).toContain(`This gives ${(row.rate.value * 10).toFixed(1)} kg/ha`);
    expect(text).toContain(`95 %: ${(row.rate.low * 10).toFixed(1)} to ${(row.rate.high * 10).toFixed(1)}`);
    const chance = Math.floor(advice!.stop.probability * 100);
    expect(text).toContain(chance > 98 ? '> 99 %' : `${chance} %`);
  });

  it('goes on for pages where much was measured, and every page of a demo says so', async () => {
    const runs = Array.from({ length: 70 }, (_, run) => facts.view.runs[run % facts.view.runs.length]!);
    const many: PaperFacts = { ...facts, demo: true, view: { ...facts.view, runs } };
    const paper = composeSheet(many, wishFor('en', 'metric'))!;
    const bytes = await drawPdf({ paper, size: 'Letter', language: 'en', madeAt: many.madeAt });
    const { text, pages } = readPdf(bytes, shop.folder);
    expect(pages).toBeGreaterThanOrEqual(2);
    expect(text.split('DEMO DATA').length - 1).toBe(pages);
    expect(text).toContain(`Page ${pages} of ${pages}`);
    expect(text).toContain('Run 70');
    expect(readCode(bytes, shop.folder)).toContain('DEMO DATA');
  });
});
