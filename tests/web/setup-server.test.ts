import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Plan } from '../../server/http/messages.ts';
import type { PastAnswer, SpeciesAnswer } from '../../server/http/setup-messages.ts';
import { settingNumberOf, standFor } from '../../server/run/plan.ts';
import { type FakeServer, startFake } from './fake-server.ts';
import { scaledPlan } from './invented.ts';

const oats = {
  name: 'Oats from the loft',
  species: 'avena-sativa',
  share: 0.7,
  fullRateGramsPerSquareMetre: null,
  thousandSeedWeightGrams: 34,
  counted: { weightsGrams: [3.38, 3.42], seedsEach: 100 },
  purity: 0.98,
  germination: 0.91,
  hard: 0,
  dormant: 0,
  bulkDensityKilogramsPerCubicMetre: 480,
};
const vetch = { ...oats, name: 'Vetch', species: '', share: 0.3, thousandSeedWeightGrams: 52, counted: null };
const mixed: Plan = {
  ...scaledPlan,
  drill: {
    ...scaledPlan.drill,
    shaftRatio: 2.5,
    rowSpacingFrom: { withinRankMetres: 0.381, ranks: 2 },
    circumferenceFrom: { way: 'roll-out', readings: [26.9], turns: 10, distanceMetres: null },
    scale: {
      ...scaledPlan.drill.scale!,
      low: 1,
      high: 3,
      step: 1,
      otherConfigurations: [],
      marks: ['A', 'B', 'C'],
    },
  },
  seed: { ...scaledPlan.seed, name: 'Loft mix', basis: 'mass', parts: [oats, vetch] },
};

describe('what a calibration is set up from', () => {
  let server: FakeServer;
  beforeEach(async () => {
    server = await startFake();
  });
  afterEach(() => server.close());

  const get = async <T>(path: string): Promise<T> =>
    (await fetch(`${server.address}/api/setup/${path}`)).json() as Promise<T>;
  const keep = async (plan: Plan) =>
    fetch(`${server.address}/api/setup/keep`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(plan),
    });

  it('is nothing while the records are empty', async () => {
    expect(await get('past')).toEqual({ drills: [], seeds: [], lots: [] });
  });

  it('is every drill, mix and lot of a plan that was kept, as it was', async () => {
    expect((await keep(mixed)).status).toBe(200);
    const past = await get<PastAnswer>('past');
    expect(past.drills.map(({ drill }) => drill)).toEqual([{ ...mixed.drill, setting: '' }]);
    expect(past.seeds.map(({ seed }) => seed)).toEqual([
      { ...mixed.seed, bulkDensityKilogramsPerCubicMetre: null },
    ]);
    expect(past.lots.map(({ part }) => part.name).sort()).toEqual(['Oats from the loft', 'Vetch']);
  });

  it('is a drill once for each of its gates, each naming the others', async () => {
    await keep(mixed);
    const { scale } = mixed.drill;
    await keep({ ...mixed, drill: { ...mixed.drill, scale: { ...scale!, configuration: 'fine gate' } } });
    const { drills } = await get<PastAnswer>('past');
    expect(drills.map(({ drill }) => drill.scale?.configuration).sort()).toEqual([
      'coarse gate',
      'fine gate',
    ]);
    for (const { drill } of drills) expect(drill.scale?.otherConfigurations).toHaveLength(1);
  });

  it('follows a lot that was tested again', async () => {
    await keep(mixed);
    await keep({ ...mixed, seed: { ...mixed.seed, parts: [{ ...oats, germination: 0.8 }, vetch] } });
    const { seeds, lots } = await get<PastAnswer>('past');
    expect(lots).toHaveLength(2);
    expect(seeds[0]?.seed.parts?.[0]?.germination).toBe(0.8);
  });

  it('finds species by common or Latin name, with range and sources', async () => {
    const { species, total } = await get<SpeciesAnswer>('species?text=avena%20sativa');
    expect(total).toBe(1);
    expect(species[0]).toMatchObject({ latinName: expect.stringContaining('Avena sativa') });
    const { low, high, typical } = species[0]!.thousandSeedWeight;
    expect(low).toBeLessThan(typical);
    expect(typical).toBeLessThan(high);
    expect(species[0]!.seedWeightSources.some(({ source }) => source.includes('7 CFR 201.46'))).toBe(true);
    expect((await get<SpeciesAnswer>('species?text=rye')).species[0]?.key).toBe('cereal-rye');
    expect((await get<SpeciesAnswer>('species')).total).toBe(103);
    expect((await get<SpeciesAnswer>('species?text=no%20such%20plant')).species).toEqual([]);
  });

  it('refuses a mix that cannot be, with the field', async () => {
    const answer = await keep({ ...mixed, seed: { ...mixed.seed, parts: [{ ...oats, purity: 0 }] } });
    expect(answer.status).toBe(400);
    expect(await answer.json()).toMatchObject({ field: '/seed/parts/0/purity' });
  });
});

describe('a setting', () => {
  const at = (setting: string, plan = mixed) =>
    settingNumberOf({ ...plan, drill: { ...plan.drill, setting } });

  it('is a number as people write it, or the place of a named mark', () => {
    expect(at('30', scaledPlan)).toBe(30);
    expect(at(' 30,5 ', scaledPlan)).toBe(30.5);
    expect(at('C')).toBe(3);
    expect(at('b')).toBe(2);
    expect(at('D')).toBeNull();
    expect(at('28, fine gear', scaledPlan)).toBeNull();
  });
});

describe('a sensor on another shaft', () => {
  const stand = { name: 's', firmware: '1', boot: 1, pulsesPerTurn: 4, cells: [] };

  it('gives the pulses of a turn of the drive wheel', () => {
    expect(standFor(scaledPlan, stand)).toBe(stand);
    expect(standFor(mixed, stand).pulsesPerTurn).toBe(10);
  });
});
