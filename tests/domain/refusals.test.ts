import { describe, it } from 'vitest';
import { gramsPerLitre, litres } from '../../server/domain/bulk-density.ts';
import {
  countingDoubt,
  enoughTurns,
  type TestNoise,
  weighingDoubt,
} from '../../server/domain/enough-turns.ts';
import { rateFromCatch, testArea } from '../../server/domain/geometry.ts';
import {
  type FullStandShare,
  massSharesFromCounts,
  mixAtRate,
  mixByFullStand,
  mixByMass,
  mixBySeedCount,
  sumOfShares,
} from '../../server/domain/seed-mix.ts';
import { bagsFor, type Hopper, refillReach, seedForArea } from '../../server/domain/seed-needed.ts';
import { seedsPerRowMetre, seedsPerSquareMetre } from '../../server/domain/seed-units.ts';
import {
  seedsPerRowFromSquareMetre,
  seedsPerSquareMetreFromRow,
} from '../../server/domain/seeding-target.ts';
import {
  expectedCounts,
  seedsToCount,
  shareFromCount,
  turnsToVerifyShares,
} from '../../server/domain/species-count.ts';
import { grams, gramsPerSquareMetre, metres, squareMetres, turns } from '../../server/domain/units.ts';
import { lotOf, refused } from './lots.ts';

/** What cannot be computed with is refused, with the field at fault and a sentence. The maker of a quantity refuses NaN; data from outside may not have met one. */
const nothing = Number.NaN as never;

type Refusal = [what: string, call: () => unknown, code: string, field: string | undefined];
const tells = (...[, call, code, field]: Refusal) => refused(call, code, field);

describe('how many turns refuses', () => {
  const noise: TestNoise = {
    gramsPerTurn: grams(3.4),
    weighing: grams(0.05),
    counting: 0.01,
    lumpiness: grams(0.04),
    fixed: 0.005,
  };
  const withA = (change: object) => () => enoughTurns({ ...noise, ...change }, 0.05);

  it.each<Refusal>([
    ['a catch per turn of nothing', withA({ gramsPerTurn: 0 }), 'out-of-range', 'gramsPerTurn'],
    ['a catch per turn that is no number', withA({ gramsPerTurn: nothing }), 'not-a-number', 'gramsPerTurn'],
    ['a weighing surer than sure', withA({ weighing: -0.1 }), 'out-of-range', 'weighing'],
    ['a weighing that is no number', withA({ weighing: nothing }), 'not-a-number', 'weighing'],
    ['a count surer than sure', withA({ counting: -0.1 }), 'out-of-range', 'counting'],
    ['seed without lumps', withA({ lumpiness: 0 }), 'out-of-range', 'lumpiness'],
    ['lumps that are no number', withA({ lumpiness: nothing }), 'not-a-number', 'lumpiness'],
    ['a fixed doubt below nothing', withA({ fixed: -0.01 }), 'out-of-range', 'fixed'],
    ['a fixed doubt without end', withA({ fixed: Number.POSITIVE_INFINITY }), 'not-a-number', 'fixed'],
    ['no tolerance', () => enoughTurns(noise, 0), 'out-of-range', 'tolerance'],
    ['a tolerance in percent', () => enoughTurns(noise, 5), 'out-of-range', 'tolerance'],
    ['a tolerance that is no number', () => enoughTurns(noise, nothing), 'not-a-number', 'tolerance'],
    ['certainty', () => enoughTurns(noise, 0.05, 1), 'out-of-range', 'confidence'],
    ['no confidence', () => enoughTurns(noise, 0.05, 0), 'out-of-range', 'confidence'],
    ['a step below nothing', () => weighingDoubt(grams(-0.1), grams(0)), 'out-of-range', 'step'],
    ['a noise below nothing', () => weighingDoubt(grams(0.1), grams(-1)), 'out-of-range', 'noise'],
    ['a step that is no number', () => weighingDoubt(nothing, grams(0)), 'not-a-number', 'step'],
    ['half a pulse a turn', () => countingDoubt(0.5), 'out-of-range', 'pulsesPerTurn'],
    ['pulses that are no number', () => countingDoubt(nothing), 'not-a-number', 'pulsesPerTurn'],
  ])('%s', tells);
});

describe('seed needed refuses', () => {
  const ten = gramsPerSquareMetre(10);
  const field = squareMetres(10_000);
  const hopper: Hopper = { volume: litres(1000), density: gramsPerLitre(750), keepBack: 0.1 };
  const reach = (change: object, rate = ten, width = metres(3)) =>
    refillReach({ ...hopper, ...change }, rate, width);

  it.each<Refusal>([
    ['a rate below nothing', () => seedForArea(gramsPerSquareMetre(-1), field, 0), 'out-of-range', 'rate'],
    [
      'a rate beyond all drills',
      () => seedForArea(gramsPerSquareMetre(501), field, 0),
      'out-of-range',
      'rate',
    ],
    ['a rate that is no number', () => seedForArea(nothing, field, 0), 'not-a-number', 'rate'],
    ['an area below nothing', () => seedForArea(ten, squareMetres(-1), 0), 'out-of-range', 'area'],
    ['a country', () => seedForArea(ten, squareMetres(2e10), 0), 'out-of-range', 'area'],
    ['an area that is no number', () => seedForArea(ten, nothing, 0), 'not-a-number', 'area'],
    ['a reserve in percent', () => seedForArea(ten, field, 5), 'out-of-range', 'reserve'],
    ['a reserve below nothing', () => seedForArea(ten, field, -0.1), 'out-of-range', 'reserve'],
    ['a need below nothing', () => bagsFor(grams(-1), grams(25_000)), 'out-of-range', 'needed'],
    ['a need that is no number', () => bagsFor(nothing, grams(25_000)), 'not-a-number', 'needed'],
    ['a bag of nothing', () => bagsFor(grams(5), grams(0)), 'out-of-range', 'bagMass'],
    ['a bag of eleven tonnes', () => bagsFor(grams(5), grams(1.1e7)), 'out-of-range', 'bagMass'],
    ['a hopper that keeps all back', () => reach({ keepBack: 1 }), 'out-of-range', 'keepBack'],
    ['a hopper that keeps less than nothing', () => reach({ keepBack: -0.1 }), 'out-of-range', 'keepBack'],
    ['a hopper smaller than nothing', () => reach({ volume: -1 }), 'out-of-range', 'volume'],
    ['seed as light as feathers', () => reach({ density: 5 }), 'out-of-range', 'bulkDensity'],
    ['seed without a density', () => reach({ density: nothing }), 'not-a-number', 'bulkDensity'],
    ['a rate of nothing', () => reach({}, gramsPerSquareMetre(0)), 'out-of-range', 'rate'],
    ['a drill without width', () => reach({}, ten, metres(0)), 'out-of-range', 'width'],
    ['a drill as wide as a village', () => reach({}, ten, metres(101)), 'out-of-range', 'width'],
  ])('%s', tells);
});

const rye = { name: 'rye', lot: lotOf(25, 98, 90), share: 0.5, fullRate: gramsPerSquareMetre(10) };
const clover = { ...rye, name: 'clover', lot: lotOf(3, 98, 80, 8) };
const ten = gramsPerSquareMetre(10);
const some = seedsPerSquareMetre(300);

describe('counting a species refuses', () => {
  const mix = mixByMass([rye, clover], ten);
  const lost = { ...mix, parts: [{ ...mix.parts[0]!, massShare: 0 }] };

  it.each<Refusal>([
    ['a catch of nothing', () => expectedCounts(mix, grams(0)), 'out-of-range', 'caught'],
    ['a catch that is no number', () => expectedCounts(mix, nothing), 'not-a-number', 'caught'],
    ['certainty', () => expectedCounts(mix, grams(10), 1), 'out-of-range', 'confidence'],
    ['more than a million seeds', () => expectedCounts(mix, grams(1e7)), 'out-of-range', 'mean'],
    ['half a seed', () => shareFromCount(clover.lot, 2.5, grams(10)), 'out-of-range', 'count'],
    ['fewer seeds than none', () => shareFromCount(clover.lot, -1, grams(10)), 'out-of-range', 'count'],
    [
      'a count that is no number',
      () => shareFromCount(clover.lot, nothing, grams(10)),
      'not-a-number',
      'count',
    ],
    ['seeds out of nothing', () => shareFromCount(clover.lot, 5, grams(0)), 'out-of-range', 'caught'],
    ['a lot without purity', () => shareFromCount(lotOf(3, 0), 5, grams(10)), 'out-of-range', 'purity'],
    [
      'confidence of nothing',
      () => shareFromCount(clover.lot, 5, grams(10), 0),
      'out-of-range',
      'confidence',
    ],
    ['closeness of nothing', () => seedsToCount(0), 'out-of-range', 'within'],
    ['closeness in percent', () => seedsToCount(10), 'out-of-range', 'within'],
    ['closeness that is no number', () => seedsToCount(nothing), 'not-a-number', 'within'],
    ['near certainty', () => seedsToCount(0.1, 0.99999), 'out-of-range', 'confidence'],
    ['more than a hand can count', () => seedsToCount(0.001, 0.9999), 'out-of-range', 'within'],
    [
      'a turn that drops nothing',
      () => turnsToVerifyShares(mix, grams(0), 0.1),
      'out-of-range',
      'gramsPerTurn',
    ],
    [
      'turns that are no number',
      () => turnsToVerifyShares(mix, nothing, 0.1),
      'not-a-number',
      'gramsPerTurn',
    ],
    [
      'a species that is not in it',
      () => turnsToVerifyShares(lost, grams(5), 0.1),
      'out-of-range',
      'massShare',
    ],
  ])('%s', tells);
});

describe('a mix refuses', () => {
  const stand = (change: Partial<FullStandShare>) => () =>
    mixByFullStand([rye, { ...clover, ...change }], 'live');
  const short = [rye, { ...clover, share: 0.4 }];
  const mix = mixByMass([rye, clover], ten);

  it.each<Refusal>([
    ['no species by mass', () => mixByMass([], ten), 'too-few', 'parts'],
    ['no species by count', () => mixBySeedCount([], some), 'too-few', 'parts'],
    ['no species by stand', () => mixByFullStand([], 'bulk'), 'too-few', 'parts'],
    ['no species to sum', () => sumOfShares([]), 'too-few', 'parts'],
    ['no species counted', () => massSharesFromCounts([]), 'too-few', 'parts'],
    ['no species at another rate', () => mixAtRate({ bulkRate: ten, parts: [] }, ten), 'too-few', 'parts'],
    ['90 % by mass', () => mixByMass(short, ten), 'inconsistent', 'share'],
    ['90 % by count', () => mixBySeedCount(short, some), 'inconsistent', 'share'],
    ['90 % counted', () => massSharesFromCounts(short), 'inconsistent', 'share'],
    ['a share that is no number', stand({ share: nothing }), 'not-a-number', 'share'],
    ['a share below nothing', stand({ share: -0.1 }), 'out-of-range', 'share'],
    ['a full rate that is no number', stand({ fullRate: nothing }), 'not-a-number', 'fullRate'],
    ['a rate that is no number', () => mixByMass([rye, clover], nothing), 'not-a-number', 'rate'],
    ['another rate that is no number', () => mixAtRate(mix, nothing), 'not-a-number', 'rate'],
    ['seeds that are no number', () => mixBySeedCount([rye, clover], nothing), 'not-a-number', undefined],
    ['no seeds', () => mixBySeedCount([rye, clover], seedsPerSquareMetre(0)), 'out-of-range', 'rate'],
    [
      'germination over 100 % by mass',
      () => mixByMass([rye, { ...clover, lot: lotOf(3, 98, 101) }], ten),
      'out-of-range',
      'germination',
    ],
    [
      'germination over 100 % by count',
      () => mixBySeedCount([rye, { ...clover, lot: lotOf(3, 98, 101) }], some),
      'out-of-range',
      'germination',
    ],
    ['germination over 100 % by stand', stand({ lot: lotOf(3, 98, 101) }), 'out-of-range', 'germination'],
    [
      'germination that is no number',
      stand({ lot: lotOf(3, 98, Number.NaN) }),
      'not-a-number',
      'germination',
    ],
    ['purity over 100 %', stand({ lot: lotOf(3, 101, 90) }), 'out-of-range', 'purity'],
    ['purity of nothing', stand({ lot: lotOf(3, 0, 90) }), 'out-of-range', 'purity'],
  ])('%s', tells);
});

describe('geometry refuses', () => {
  const drill = { circumference: metres(2.4), rowSpacing: metres(0.19), rowsCaught: 1, slip: 0 };
  const area = (change: object) => () => testArea({ ...drill, ...change }, turns(10));

  it.each<Refusal>([
    ['rows on top of each other', area({ rowSpacing: 0 }), 'out-of-range', 'rowSpacing'],
    ['rows that are no number apart', area({ rowSpacing: nothing }), 'not-a-number', 'rowSpacing'],
    ['a wheel that is no number', area({ circumference: nothing }), 'not-a-number', 'circumference'],
    ['a wheel that only slips', area({ slip: 1 }), 'out-of-range', 'slip'],
    ['turns that are no number', () => testArea(drill, nothing), 'not-a-number', 'turns'],
    ['a rate from no turns', () => rateFromCatch(drill, turns(0), grams(5)), 'out-of-range', 'turns'],
    [
      'seeds of rows on top of each other',
      () => seedsPerSquareMetreFromRow(seedsPerRowMetre(50), metres(0)),
      'out-of-range',
      'rowSpacing',
    ],
    [
      'and back',
      () => seedsPerRowFromSquareMetre(seedsPerSquareMetre(50), metres(0)),
      'out-of-range',
      'rowSpacing',
    ],
  ])('%s', tells);
});
