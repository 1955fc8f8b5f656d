import { describe, expect, it } from 'vitest';
import {
  convertFieldCheck,
  emptyDrafts,
  fieldOfPointer,
  readFieldCheck,
} from '../../web/src/state/field-check/drafts.ts';
import { firstDrafts, readBegin } from '../../web/src/state/scale-place/begin.ts';
import {
  convertSeedNeeded,
  type SeedKnown,
  seedAnswer,
} from '../../web/src/state/seed-needed/seed-needed.ts';

/** What is typed for a scale check, a field check and the seed needed: understood, or refused beside the field. */

const typed = { ...firstDrafts([100, 200, 200]) };
const own = { ...typed, kind: 'own', doubt: '0.3 g', shared: '0,2' } as const;
const field = {
  ...emptyDrafts([28, 32], 12),
  name: 'Long Acre',
  filled: '200 200 150 kg',
  left: '50',
  sure: '0.5',
  area: '2 ha',
  areaDoubt: '100 m²',
};

describe('masses of a scale check', () => {
  it('are read apart, with a unit at the end for all', () => {
    expect(typed.masses).toBe('100  200  200 g');
    const { body } = readBegin(typed, 1, 'metric');
    expect(body).toEqual({
      cell: 1,
      masses: [100, 200, 200].map((grams) => ({ grams, class: 'M1', doubtGrams: null })),
      sharedDoubt: 0,
    });
    expect(
      readBegin({ ...typed, masses: '0.5 kg; 1 kg' }, 0, 'us').body!.masses.map(({ grams }) => grams),
    ).toEqual([500, 1000]);
  });

  it('of one’s own want to be doubted', () => {
    const { body } = readBegin(own, 0, 'metric');
    expect(body).toMatchObject({ sharedDoubt: 0.002, masses: [{ class: 'own', doubtGrams: 0.3 }, {}, {}] });
    expect(readBegin({ ...own, doubt: '' }, 0, 'metric').faults.doubt).toEqual({ kind: 'empty' });
    expect(readBegin({ ...own, shared: '' }, 0, 'metric').body!.sharedDoubt).toBe(0);
  });

  it.each([
    ['', 'empty'],
    ['a few', 'nonsense'],
    ['100 in', 'unit'],
    ['0', 'range'],
    ['9e9', 'unit'],
    [Array.from({ length: 13 }, () => '100').join(' '), 'too-many'],
  ])('refuses %j', (masses, kind) => {
    const { body, faults } = readBegin({ ...typed, masses }, 0, 'metric');
    expect(body).toBeNull();
    expect(faults.masses!.kind).toBe(kind);
  });
});

describe('a field check', () => {
  it('is read in the units typed', () => {
    expect(readFieldCheck(field, 'metric').body).toEqual({
      name: 'Long Acre',
      setting: 32,
      filledGrams: [200_000, 200_000, 150_000],
      leftGrams: 50_000,
      usedDoubtGrams: 500,
      onStandScale: false,
      area: { kind: 'measured', area: 20_000, doubt: 100 },
    });
  });

  it('knows the area by rows too, and then wants no area', () => {
    const rows = { ...field, areaKind: 'rows', area: '', distance: '500', distanceDoubt: '' } as const;
    expect(readFieldCheck(rows, 'metric').body!.area).toEqual({
      kind: 'rows',
      distance: 500,
      distanceDoubt: 0,
      rows: 12,
    });
  });

  it('says beside each field what is wrong with it', () => {
    const wrong = { ...field, name: ' ', filled: 'lots', left: '-1', area: '2 gallons', setting: '' };
    const { body, faults } = readFieldCheck(wrong, 'metric');
    expect(body).toBeNull();
    expect(Object.keys(faults).sort()).toEqual(['area', 'filled', 'left', 'name', 'setting']);
  });

  it('places the server’s faults, and carries what it can into other units', () => {
    expect(fieldOfPointer('/area/distance')).toBe('distance');
    expect(fieldOfPointer('/elsewhere')).toBeNull();
    const us = convertFieldCheck(field, 'metric', 'us');
    // 50 kg are 110.23 lb (exact: 0.45359237 kg), 2 ha are 4.942 ac (exact: 4046.8564224 m²).
    expect(Number(us.left)).toBeCloseTo(110.231, 3);
    expect(Number(us.area)).toBeCloseTo(4.94211, 4);
    expect(us.filled).toBe(field.filled);
    expect(us.name).toBe('Long Acre');
  });
});

describe('the seed needed', () => {
  const known: SeedKnown = {
    area: null,
    rate: 10,
    reserve: 0.05,
    bag: null,
    hopper: null,
    density: 750,
    width: 3,
    keepBack: 0.1,
  };

  it('is nothing before an area is typed', () => {
    expect(seedAnswer({}, known, 'metric')).toEqual({
      needGrams: null,
      bags: null,
      reach: null,
      fills: null,
      faults: {},
    });
  });

  it('follows from area, rate and reserve; bags and refills with it', () => {
    // 12 ha at 100 kg/ha with 5 %: 1260 kg, 51 bags of 25 kg; 500 L at 75 kg/hL less a tenth: 337.5 kg, four fillings.
    const answer = seedAnswer({ area: '12 ha', bag: '25', hopper: '500' }, known, 'metric');
    expect(answer.needGrams).toBeCloseTo(1_260_000, 3);
    expect(answer.bags).toEqual({ bags: 51, leftGrams: expect.closeTo(15_000, 3) });
    expect(answer.reach!.distance).toBeCloseTo(11_250, 6);
    expect(answer.fills).toBe(4);
  });

  it('says what is wrong and goes on with the rest', () => {
    const answer = seedAnswer({ area: '12', bag: 'big', reserve: '5 %' }, known, 'metric');
    expect(Object.keys(answer.faults)).toEqual(['bag']);
    expect(answer.needGrams).not.toBeNull();
    expect(answer.bags).toBeNull();
    expect(seedAnswer({ area: '12', reserve: '500' }, known, 'metric').needGrams).toBeNull();
  });

  it('is carried into other units', () => {
    // 30 ac are 12.14 ha (exact: 4046.8564224 m²).
    expect(Number(convertSeedNeeded({ area: '30' }, 'us', 'metric').area)).toBeCloseTo(12.14057, 4);
  });
});
