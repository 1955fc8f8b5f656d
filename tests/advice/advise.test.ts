import { describe, expect, it } from 'vitest';
import { advise } from '../../server/domain/advice/advise.ts';
import { roundRateRows } from '../../server/domain/advice/chart.ts';
import type { Advice, Explained, FindingCode } from '../../server/domain/advice/types.ts';
import { gramsPerSquareMetre, turns } from '../../server/domain/units.ts';
import { blank, known, run, scale, withRuns } from './requests.ts';

const finding = (advice: Advice, code: FindingCode) => advice.findings.find((each) => each.code === code);

/** A line 10 g/m² at 40, offset 1 g/m². */
const onLine = (setting: number) => 1 + 0.225 * setting;

describe('the next setting', () => {
  it('after one run is that of the rule of proportion, and the doubt of the offset widens its interval', () => {
    const { next, state } = advise(withRuns(run(1, 30, 8)));
    expect(state).toBe('go-on');
    expect([37, 38]).toContain(next!.setting);
    expect(next!.interval.value).toBeCloseTo(37.5, 0);
    const near = advise(withRuns(run(1, 37, 9.9))).next!;
    const width = (advice: typeof near) => advice.interval.high - advice.interval.low;
    expect(width(next!)).toBeGreaterThan(1.5 * width(near));
  });

  it('says so where the mark with the best chance is not the one nearest to the target', () => {
    const wide = { ...blank, target: { ...blank.target, rate: gramsPerSquareMetre(6.5), tolerance: 0.05 } };
    const fewSeeds = { doubt: known(0.03) };
    const sentence = /Of the marks about it, \d+ has the best chance of being right, all doubts counted\./;
    const said = [4.9, 5, 5.07, 5.15, 5.2].map((rate) => {
      const { next } = advise({ ...wide, runs: [run(1, 24, rate, fewSeeds)] });
      if (next!.setting === Math.round(next!.interval.value)) expect(next!.reason).not.toMatch(sentence);
      else expect(next!.reason).toMatch(sentence);
      return sentence.test(next!.reason);
    });
    expect(said).toContain(true);
  });

  it('after two runs is on their line, and names them as the reason', () => {
    const { next } = advise(withRuns(run(1, 20, onLine(20)), run(2, 50, onLine(50))));
    expect(next!.setting).toBe(40);
    expect(next!.restsOn).toEqual(['run 1', 'run 2']);
    expect(next!.reason).toContain('Run 2');
    expect(next!.reason).toContain('run 1');
  });

  it('is set from below, always from the same side, or the lever is left alone', () => {
    const moved = advise(withRuns(run(1, 30, 8))).next!;
    expect(moved.leverStays).toBe(false);
    expect(moved.sentence).toMatch(/coming up to it from below/);
    const stays = advise(withRuns(run(1, 30, 10.02))).next!;
    expect(stays.leverStays).toBe(true);
    expect(stays.sentence).toMatch(/Leave the lever at 30/);
  });

  it('lies on a mark, however the marks lie', () => {
    const odd = { ...scale, low: 0.75, high: 99.75, step: 1.5 };
    const { next } = advise({ ...withRuns(run(1, 20.25, onLine(20))), scale: odd });
    expect((next!.setting - 0.75) / 1.5).toBeCloseTo(Math.round((next!.setting - 0.75) / 1.5), 9);
  });
});

describe('a target off the scale', () => {
  it('is said so once the end of the scale was tried, with the other gears by name', () => {
    const advice = advise(withRuns(run(1, 30, 2), run(2, 100, 6.5)));
    expect(advice.state).toBe('out-of-reach');
    expect(advice.next).toBeNull();
    expect(advice.findings[0]!.code).toBe('too-high');
    expect(advice.findings[0]!.sentence).toMatch(/upper end, 100.*65 %.*high gear/);
    expect(advice.stop.moreRuns).toBeNull();
  });

  it('below: the closed drill still gives too much', () => {
    const runs = [run(1, 30, 60), run(2, 0, 21), run(3, 10, 33)];
    const advice = advise({ ...withRuns(...runs), scale: { ...scale, otherConfigurations: [] } });
    expect(advice.state).toBe('out-of-reach');
    expect(finding(advice, 'too-low')!.sentence).toMatch(/lower end, 0.*Change gear, gate, notch/);
  });

  it('is not given up from afar: the end of the scale is tried first', () => {
    const advice = advise(withRuns(run(1, 30, 2)));
    expect(advice.state).toBe('go-on');
    expect(advice.next!.setting).toBe(100);
    expect(advice.next!.reason).toMatch(/beyond the upper end/);
  });
});

describe('when to stop', () => {
  it('not after one lucky hit, and says why', () => {
    const { stop } = advise(withRuns(run(1, 30, 10.05, { doubt: known(0.012) })));
    expect(stop.done).toBe(false);
    expect(stop.luckyHit).toMatch(/run 1 landed within 2 % .* by luck/);
    expect(stop.probability).toBeLessThan(0.9);
    expect(stop.moreRuns).toBeGreaterThanOrEqual(1);
    expect(stop.moreTurns).toBe(stop.moreRuns! * 25);
  });

  it('when the runs at and around a setting agree, pooled', () => {
    const line = [run(1, 30, onLine(30)), run(2, 42, onLine(42)), run(3, 40, onLine(40))];
    const advice = advise(withRuns(...line, run(4, 40, onLine(40) * 1.004, { leverMoved: false })));
    expect(advice.state).toBe('done');
    expect(advice.stop).toMatchObject({ done: true, setting: 40, moreRuns: 0, limit: null, luckyHit: null });
    expect(advice.stop.probability).toBeGreaterThan(0.9);
  });

  it('never before there is a run of one’s own, however much the past knows', () => {
    const seed = blank.seed;
    const runs = [20, 30, 40, 50].map((setting) => ({
      setting,
      rate: gramsPerSquareMetre(onLine(setting)),
      doubt: known(0.002),
    }));
    const past = [1, 2, 3, 4, 5, 6].map((n) => ({
      name: `calibration ${n}`,
      configuration: 'low gear',
      seed,
      runs,
    }));
    const advice = advise({
      ...blank,
      target: { ...blank.target, tolerance: 0.3 },
      prior: { ...blank.prior, past },
    });
    expect(advice.state).toBe('start');
    expect(advice.stop.done).toBe(false);
    expect(advice.next!.setting).toBe(40);
  });

  const near = [run(1, 37, 9.4), run(2, 40, 10.02), run(3, 40, 9.99, { leverMoved: false })];
  it.each([
    ['rows', { ...withRuns(...near), rows: 0.04 }],
    ['common', { ...withRuns(...near), common: known(0.03) }],
    [
      'step',
      {
        ...withRuns(run(1, 4, 8), run(2, 5, 9.6), run(3, 5, 9.61)),
        scale: { ...scale, high: 12, leverPlay: 0.01 },
      },
    ],
    [
      'noise',
      withRuns(
        ...near.map((each, i) => ({ ...each, rate: gramsPerSquareMetre(10 + (i - 1)), doubt: known(0.12) })),
      ),
    ],
  ] as const)('says that %s forbids it, and that more runs do not help', (limit, request) => {
    const { stop } = advise(request);
    expect(stop.done).toBe(false);
    expect(stop.moreRuns).toBeNull();
    expect(stop.limit).toBe(limit);
  });

  it('says when it is as good as it gets', () => {
    const coarse = { ...scale, high: 12, leverPlay: 0.01 };
    const runs = [4, 5, 5, 5].map((setting, i) => run(i + 1, setting, 9.6 - 1.9 * (5 - setting)));
    expect(advise({ ...withRuns(...runs), scale: coarse }).stop.asGoodAsItGets).toBe(true);
    expect(advise(withRuns(...near.slice(0, 2))).stop.asGoodAsItGets).toBe(false);
  });
});

describe('runs that do not fit', () => {
  it('the same setting twice with contradictory rates', () => {
    const advice = advise(withRuns(run(1, 30, 8), run(2, 30, 10)));
    expect(finding(advice, 'contradictory')).toMatchObject({ runs: ['run 1', 'run 2'] });
    expect(finding(advice, 'contradictory')!.sentence).toMatch(/differ by 22 %/);
    expect(advice.stop.probability).toBeLessThan(0.4);
    expect(finding(advise(withRuns(run(1, 30, 8), run(2, 30, 8.1))), 'contradictory')).toBeUndefined();
  });

  it('a rate that falls as the setting rises: the run that came nearest is made again', () => {
    const advice = advise(withRuns(run(1, 30, 9), run(2, 40, 7)));
    expect(finding(advice, 'decreasing')!.sentence).toMatch(/run 2 at 40 gave 25 % less than run 1 at 30/);
    expect(advice.next!.setting).toBe(30);
    expect(advice.next!.reason).toMatch(/made again/);
  });

  it('nothing caught', () => {
    const advice = advise(withRuns(run(1, 30, 8), run(2, 35, 0)));
    expect(finding(advice, 'nothing-caught')!.runs).toEqual(['run 2']);
    expect(advice.leftOut).toEqual([{ name: 'run 2', why: expect.stringMatching(/nothing was caught/) }]);
    expect(advice.curve!.runs).toBe(1);
  });

  it('one run', () => {
    expect(finding(advise(withRuns(run(1, 30, 8))), 'one-run')).toBeDefined();
  });

  it('no run at all, and all set aside: where to begin', () => {
    const aside = { setAside: { by: 'you', why: 'the bag slipped' } };
    const none = advise(blank);
    const all = advise(withRuns(run(1, 30, 8, aside), run(2, 35, 9, aside)));
    for (const advice of [none, all]) {
      expect(advice).toMatchObject({ state: 'start', next: null, curve: null, chart: [] });
      expect(advice.stop.sentence).toMatch(/short run of a few turns at about 50/);
    }
    expect(all.leftOut.map(({ why }) => why)).toEqual(Array(2).fill('set aside by you: the bag slipped'));
  });

  it('a run set aside changes nothing any more', () => {
    const runs = [run(1, 30, 8), run(2, 38, 9.9)];
    const wild = run(3, 33, 25, { setAside: { by: 'the trace', why: 'the bag was knocked' } });
    const without = advise(withRuns(...runs));
    const withIt = advise(withRuns(runs[0]!, wild, runs[1]!));
    expect(withIt.chart).toEqual(without.chart);
    expect(withIt.next!.setting).toBe(without.next!.setting);
    expect(withIt.leftOut).toHaveLength(1);
  });

  it('runs in another gear, or off the scale, are left out with the reason', () => {
    const other = run(2, 30, 16, { configuration: 'high gear' });
    const advice = advise(withRuns(run(1, 30, 8), other, run(3, 130, 20)));
    expect(advice.leftOut.map(({ name }) => name)).toEqual(['run 2', 'run 3']);
    expect(finding(advice, 'other-configuration')!.runs).toEqual(['run 2']);
    expect(advice.curve!.runs).toBe(1);
  });

  it('rows never compared are said to be so', () => {
    expect(finding(advise({ ...withRuns(run(1, 30, 8)), rows: null }), 'rows-not-compared')).toBeDefined();
    expect(finding(advise(withRuns(run(1, 30, 8))), 'rows-not-compared')).toBeUndefined();
  });

  it('the doubt of the rows widens what is said of the drill', () => {
    const runs = [run(1, 30, onLine(30)), run(2, 40, onLine(40))];
    const width = (rows: number) => {
      const { rate } = advise({ ...withRuns(...runs), rows }).chart[40]!;
      return rate.high - rate.low;
    };
    expect(width(0.04)).toBeGreaterThan(1.5 * width(0));
  });
});

describe('runs weighed by hand', () => {
  const stand = [run(1, 30, 8), run(2, 38, 10), run(3, 38, 10.03, { leverMoved: false })];
  const hand = (rate: number) =>
    run(4, 38, rate, { source: 'hand', doubt: known(0.01), miscountChance: 0.05 });

  it('count for less than runs on the stand', () => {
    const base = advise(withRuns(...stand)).chart[38]!.rate.value;
    const moved = (each: ReturnType<typeof hand>) =>
      Math.abs(advise(withRuns(...stand, each)).chart[38]!.rate.value - base);
    const coarse = { ...hand(10.15), doubt: known(0.03) };
    expect(moved(coarse)).toBeLessThan(0.5 * moved({ ...hand(10.15), doubt: known(0.005) }));
  });

  it('a turn too many is recognized when the others agree, and then does little harm', () => {
    const miscounted = advise(withRuns(...stand, run(5, 38, 9.99), hand(10.02 * (26 / 25) ** 2)));
    const trusted = advise(withRuns(...stand, run(5, 38, 9.99), { ...hand(10.84), miscountChance: 0 }));
    const off = (advice: Advice) => Math.abs(advice.chart[38]!.rate.value - 10);
    expect(off(miscounted)).toBeLessThan(0.7 * off(trusted));
    const short = { ...hand(10.02 * (9 / 8)), turns: turns(8) };
    expect(finding(advise(withRuns(...stand, run(5, 38, 9.99), short)), 'miscounted')!.runs).toEqual([
      'run 4',
    ]);
  });
});

describe('the setting chart', () => {
  const runs = [run(1, 30, onLine(30)), run(2, 50, onLine(50)), run(3, 40, onLine(40))];
  const { chart } = advise(withRuns(...runs));

  it('has every mark, measured, inferred or out of range, in words too', () => {
    expect(chart.map(({ setting }) => setting)).toEqual(Array.from({ length: 101 }, (_, i) => i));
    expect(chart[40]).toMatchObject({ known: 'measured', words: 'measured: run 3' });
    expect(chart[45]).toMatchObject({ known: 'inferred', words: 'inferred, between the runs' });
    expect(chart[53]).toMatchObject({ known: 'inferred', words: 'inferred, just outside the runs' });
    expect(chart[90]!.known).toBe('out of range');
    expect(chart[90]!.words).toMatch(/^out of range/);
  });

  it('is surest where it was measured and ever less sure away from there', () => {
    const width = (setting: number) => chart[setting]!.rate.high - chart[setting]!.rate.low;
    expect(width(60)).toBeGreaterThan(width(50));
    expect(width(80)).toBeGreaterThan(1.5 * width(60));
    expect(chart[45]!.rate.value).toBeCloseTo(onLine(45), 1);
  });

  it('reads the other way: round rates, the setting for each, or that the scale does not hold it', () => {
    const request = withRuns(...runs);
    const rows = roundRateRows(request);
    expect(rows.map(({ rate }) => rate)).toContain(10);
    expect(rows.find(({ rate }) => rate === 10)).toMatchObject({ setting: 40, known: 'measured' });
    const beyond = roundRateRows(request, [gramsPerSquareMetre(80)]);
    expect(beyond).toEqual([
      {
        rate: 80,
        setting: null,
        interval: null,
        known: 'out of range',
        words: expect.stringMatching(/too little/),
      },
    ]);
    expect(roundRateRows(blank)).toEqual([]);
  });
});

describe('a bend', () => {
  const bent = (setting: number) => 0.3 * setting - 0.0012 * setting ** 2;

  it('is spoken of only when three settings or more demand it', () => {
    const two = advise(withRuns(run(1, 20, bent(20)), run(2, 60, bent(60))));
    expect(two.curve!.bent).toBe(false);
    const many = [15, 30, 45, 60, 75, 90].map((setting, i) => run(i + 1, setting, bent(setting)));
    const advice = advise(withRuns(...many));
    expect(advice.curve!.bent).toBe(true);
    expect(finding(advice, 'bent')).toBeDefined();
    expect(Math.abs(advice.chart[50]!.rate.value / bent(50) - 1)).toBeLessThan(0.01);
  });

  it('is not seen in a straight line', () => {
    const many = [15, 30, 45, 60, 75, 90].map((setting, i) => run(i + 1, setting, onLine(setting)));
    expect(advise(withRuns(...many)).curve!.bendProbability).toBeLessThan(0.5);
  });
});

describe('the play of the lever', () => {
  const three = (leverMoved: boolean) => [
    run(1, 30, onLine(30)),
    run(2, 40, onLine(40)),
    run(3, 40, onLine(40), { leverMoved }),
    run(4, 40, onLine(40), { leverMoved }),
  ];
  const loose = { ...scale, leverPlay: 0.8 };

  it('makes the chart less sure, for its marks are to be set anew', () => {
    const width = (leverPlay: number) => {
      const { rate } = advise({ ...withRuns(...three(true)), scale: { ...scale, leverPlay } }).chart[40]!;
      return rate.high - rate.low;
    };
    // 0.8 marks of 0.225 g/m² each, 1.96 standard deviations either way, and no other doubt: 0.71.
    expect(width(0.8)).toBeGreaterThan(0.71);
    expect(width(0.8)).toBeGreaterThan(1.5 * width(0));
  });

  it('does not count for a lever that was left alone: its runs tell of where it stands', () => {
    const left = advise({ ...withRuns(...three(false)), scale: loose });
    const moved = advise({ ...withRuns(...three(true)), scale: loose });
    expect(left.stop.probability).toBeGreaterThan(moved.stop.probability + 0.02);
    expect(left.next!.leverStays).toBe(true);
  });

  it('runs with the lever set anew each time say less of the line than steady ones', () => {
    const width = (leverPlay: number) => {
      const runs = [run(1, 20, onLine(20)), run(2, 60, onLine(60)), run(3, 80, onLine(80))];
      const { interval } = advise({ ...withRuns(...runs), scale: { ...scale, leverPlay } }).next!;
      return interval.high - interval.low;
    };
    expect(width(1.5)).toBeGreaterThan(1.15 * width(0));
  });
});

/** All phrases of a tree. */
const phrases = (tree: Explained): string[] => [tree.what, ...tree.from.flatMap(phrases)];
const values = (tree: Explained): (number | null)[] => [tree.value, ...tree.from.flatMap(values)];

describe('the explanation', () => {
  it('unfolds to every run, the target and the doubts', () => {
    const request = withRuns(run(1, 30, 8), run(2, 38, 9.9));
    const { explanation, next } = advise(request);
    expect(explanation.value).toBe(next!.setting);
    const all = phrases(explanation);
    for (const name of ['run 1', 'run 2']) expect(all).toContain(`Rate by ${name}`);
    for (const figure of [8, 9.9, 10, 0.02, 0.9, 0.003]) expect(values(explanation)).toContain(figure);
  });
});

describe('figures that cannot be worked with', () => {
  it.each([
    ['a target of 0', { ...blank, target: { ...blank.target, rate: gramsPerSquareMetre(0) } }, /wanted rate/],
    ['a scale upside down', { ...blank, scale: { ...scale, low: 100, high: 0 } }, /highest mark/],
    ['a step of 0', { ...blank, scale: { ...scale, step: 0 } }, /step of the scale/],
    ['a rate that is no number', withRuns(run(1, 30, 8, { rate: Number.NaN as never })), /rate of run 1/],
    ['a negative rate', withRuns(run(1, 30, -1)), /rate of run 1/],
    ['a scale of a million marks', { ...blank, scale: { ...scale, step: 1e-4 } }, /between 2 and 2000 marks/],
  ])('%s is refused in a sentence', (_, request, sentence) => {
    expect(() => advise(request)).toThrow(sentence);
  });
});
