import { describe, expect, it } from 'vitest';
import {
  findSpecies,
  publishedDensityOf,
  type Species,
  seedWeightOf,
  speciesByKey,
  speciesSources,
  speciesTable,
} from '../../server/domain/species.ts';
import { refused } from './lots.ts';

/** Grams a thousand that a printed figure stands for; whole-number counts below 20 stand for half a seed more or less. */
function gramsOf(printed: number, unit: string): number[] {
  if (unit === 'g/1000') return [printed];
  if (unit === 'seeds/lb') return [453_592.37 / printed];
  return printed < 20 ? [1000 / (printed + 0.5), 1000 / (printed - 0.5)] : [1000 / printed];
}

/** All that one source prints of a species, grams a thousand. */
const printedBy = (species: Species, id: string): number[] =>
  species.seedWeights
    .filter(({ source }) => source === id)
    .flatMap(({ printed, unit }) => printed.flatMap((figure) => gramsOf(figure, unit)));

describe('the table of species', () => {
  it('holds at least 40 species, each once, with Latin names', () => {
    expect(speciesTable.length).toBeGreaterThanOrEqual(40);
    expect(new Set(speciesTable.map((each) => each.key)).size).toBe(speciesTable.length);
    for (const { latinName } of speciesTable) {
      expect(latinName).toMatch(/^(× )?[A-Z][a-z]+/);
    }
  });

  it('names for every figure a source that exists, and how it was seen', () => {
    const known = new Set(speciesSources.map((each) => each.id));
    for (const each of speciesTable) {
      expect(each.seedWeights.length).toBeGreaterThan(0);
      for (const { source, mark, asPrinted } of [
        ...each.seedWeights,
        ...each.bushelWeights,
        ...each.densities,
      ]) {
        expect(known).toContain(source);
        expect(['READ', 'READ-2', 'MEMORY']).toContain(mark);
        expect(asPrinted).not.toBe('');
      }
    }
  });

  it.each(speciesTable.map((each) => [each.key, each] as const))(
    '%s: the range covers every source',
    (_, each) => {
      const { typical, low, high } = each.thousandSeedWeight;
      const printed = each.seedWeights.flatMap((weight) =>
        weight.printed.flatMap((figure) => gramsOf(figure, weight.unit)),
      );
      expect(low).toBeLessThanOrEqual(Math.min(...printed) * (1 + 1e-9));
      expect(high).toBeGreaterThanOrEqual(Math.max(...printed) * (1 - 1e-9));
      expect(low).toBeGreaterThan(Math.min(...printed, typical) * 0.998);
      expect(high).toBeLessThan(Math.max(...printed, typical) * 1.002);
      expect(typical >= low && typical <= high).toBe(true);
      // Types of one species differ up to fourfold in seed size (food soybeans, broad and field beans), no more.
      expect(high / low).toBeLessThan(4);
    },
  );

  it('sources of one species agree within a factor of two and a half; printed, with what they say of its density', () => {
    const lines = speciesTable.flatMap((each) => {
      const sources = [...new Set(each.seedWeights.map(({ source }) => source))];
      const middles = sources.map((id) => {
        const all = printedBy(each, id);
        return Math.sqrt(Math.min(...all) * Math.max(...all));
      });
      const density = publishedDensityOf(each);
      if (middles.length < 2 && (density === null || density.low === density.high)) return [];
      const ratio = Math.max(...middles) / Math.min(...middles);
      expect(ratio, each.key).toBeLessThan(2.5);
      expect(density === null ? 1 : density.high / density.low, each.key).toBeLessThan(1.5);
      const heap = density === null ? '' : `, density x ${(density.high / density.low).toFixed(2)}`;
      return [`${each.key}: ${sources.join(' ')}, seed weight x ${ratio.toFixed(2)}${heap}`];
    });
    console.log(`Highest over lowest among sources, species by species:\n${lines.join('\n')}`);
    expect(lines.length).toBeGreaterThan(70);
  });

  it('typical values are those that their source prints, or lie within its range', () => {
    for (const each of speciesTable) {
      const { key } = each;
      const { typical, typicalFrom } = each.thousandSeedWeight;
      const all = printedBy(each, typicalFrom);
      expect(typical, key).toBeGreaterThanOrEqual(Math.min(...all) * 0.999);
      expect(typical, key).toBeLessThanOrEqual(Math.max(...all) * 1.001);
    }
  });

  it('warns where a single source says nothing of how lots differ', () => {
    expect(seedWeightOf(speciesByKey('teff'), null).caution).toMatch(/single source/);
    expect(seedWeightOf(speciesByKey('durum-wheat'), null).caution).toMatch(/published tables/);
  });

  it('holds no names of varieties or brands', () => {
    for (const { commonName, latinName } of speciesTable) {
      expect(`${commonName} ${latinName}`).not.toMatch(/['‘’"®™]|\bcv\b|\bcultivar\b/);
    }
  });

  it('finds species by words of either name', () => {
    expect(findSpecies('secale')[0]!.key).toBe('cereal-rye');
    expect(findSpecies('clover crimson')[0]!.key).toBe('crimson-clover');
    expect(findSpecies('')).toHaveLength(speciesTable.length);
    expect(findSpecies('no such seed')).toEqual([]);
    refused(() => speciesByKey('unobtainium'), 'out-of-range', 'species');
  });

  it('bushels become densities with a caution, or null; 60 lb a bushel are 772.31 g/L', () => {
    expect(publishedDensityOf(speciesByKey('wheat'))!.typical).toBeCloseTo(772.31, 2);
    expect(publishedDensityOf(speciesByKey('wheat'))!.caution).toMatch(/trade/);
    expect(publishedDensityOf(speciesByKey('phacelia'))).toBeNull();
    expect(publishedDensityOf(speciesByKey('black-oat'))).toMatchObject({ typical: 450, low: 450 });
    expect(seedWeightOf(speciesByKey('wheat'), null)).toMatchObject({ typical: 40, basis: 'table' });
  });
});
