import { describe, expect, it } from 'vitest';
import {
  findSpecies,
  seedWeightOf,
  speciesByKey,
  speciesSources,
  speciesTable,
  tradeDensityOf,
} from '../../server/domain/species.ts';
import { refused } from './lots.ts';

/** Grams a thousand that a printed figure stands for; whole-number counts below 20 stand for half a seed more or less. */
function gramsOf(printed: number, unit: string): number[] {
  if (unit === 'g/1000') return [printed];
  if (unit === 'seeds/lb') return [453_592.37 / printed];
  return printed < 20 ? [1000 / (printed + 0.5), 1000 / (printed - 0.5)] : [1000 / printed];
}

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
      for (const { source, mark, asPrinted } of [...each.seedWeights, ...each.bushelWeights]) {
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
      // Independent sources of one species stay within a factor of three of each other.
      expect(high / low).toBeLessThan(3);
    },
  );

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
    expect(tradeDensityOf(speciesByKey('wheat'))!.typical).toBeCloseTo(772.31, 2);
    expect(tradeDensityOf(speciesByKey('wheat'))!.caution).toMatch(/trade/);
    expect(tradeDensityOf(speciesByKey('phacelia'))).toBeNull();
    expect(seedWeightOf(speciesByKey('wheat'), null)).toMatchObject({ typical: 40, basis: 'table' });
  });
});
