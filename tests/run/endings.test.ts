import { describe, expect, it } from 'vitest';
import { ScriptedRun } from './script.ts';

/** A run that has turned for a while: 6 turns in 8 s, 3 g a turn. */
function turning(): ScriptedRun {
  const run = new ScriptedRun().started();
  run.read(8, 6);
  return run;
}

describe('a run to the count', () => {
  const run = new ScriptedRun().started();
  run.read(13, 10);
  run.ended('done', 'preset').read(0.5, 0.25);
  const coasting = run.shown;
  run.read(5);

  it('settles first: the coasting turns count, the target follows them', () => {
    expect(coasting).toMatchObject({ phase: 'settling', outcome: null });
    expect(coasting.turnsDone).toBeCloseTo(10.25, 5);
    expect(coasting.targetCatchGrams).toBeCloseTo(6 * 10.25 * 2.5 * 0.2, 6);
  });

  it('is complete, with the rate of what was turned and weighed', () => {
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'complete', motorOn: false, turnsToGo: 0 });
    expect(run.shown.grams).toBeCloseTo(30.75, 2);
    // 30.75 g on 10.25 turns x 2.5 m x 0.2 m
    expect(run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 2);
    expect(run.shown.rate!.low).toBeLessThan(6);
    expect(run.shown.rate!.high).toBeGreaterThan(6);
    expect(run.shown.sentence).toMatch(/^Done: 10\.25 turns, 30\.\d g caught\.$/);
    expect(run.effects.filter((effect) => effect.type === 'close').length).toBe(1);
  });

  it('states the budget by its parts', () => {
    const parts = run.shown.budget.map(({ part }) => part);
    expect(new Set(parts).size).toBe(8);
    const together = Math.hypot(...run.shown.budget.map(({ relative }) => relative));
    expect(run.shown.rate!.standardDoubt / run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(together, 12);
  });
});

describe('while the wheel turns', () => {
  it('shows turns, grams, speed and a rate with an interval', () => {
    const { shown } = turning();
    expect(shown).toMatchObject({ phase: 'turning', motorOn: true, turnsPreset: 10 });
    expect(shown.turnsDone + shown.turnsToGo).toBeCloseTo(10, 10);
    expect(shown.grams).toBeCloseTo(18, 0);
    expect(shown.turnsPerMinute! / 45).toBeCloseTo(1, 1);
    expect(shown.groundSpeedMetresPerSecond).toBeCloseTo((shown.turnsPerMinute! / 60) * 2.5, 10);
    expect(shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 1);
    expect(shown.rate!.low).toBeLessThan(6);
  });

  it('backward turns are counted and taken off', () => {
    const run = turning();
    run.read(1, -0.5);
    expect(run.shown.backwardTurns).toBeCloseTo(0.5, 1);
    expect(run.shown.turnsDone).toBeCloseTo(6 - run.shown.backwardTurns, 10);
  });

  it('lost lines are counted', () => {
    const run = turning();
    run.give({ type: 'gap', lines: 3 }, { type: 'gap', lines: 2 });
    expect(run.shown.lostReadings).toBe(5);
  });
});

describe('endings before the count keep what was measured', () => {
  it('Stop on the page', () => {
    const run = turning();
    run.give({ type: 'command', command: 'stop' });
    expect(run.effects.at(-1)).toEqual({ type: 'send', command: 'stop' });
    run.ended('halted', 'host').read(0.3, 0.1);
    run.read(5);
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'stopped' });
    expect(run.shown.turnsDone).toBeCloseTo(6.08, 1);
    expect(run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 1);
    expect(run.shown.sentence).toMatch(
      /^Stopped before the count\. 6\.\d turns and 18\.\d g were measured\./,
    );
  });

  it('Stop is sent again for as long as the board says that it turns', () => {
    const run = turning();
    run.give({ type: 'command', command: 'stop' });
    run.read(2, 1.5);
    expect(run.sent('stop')).toBeGreaterThanOrEqual(4);
    expect(run.shown.sentence).toMatch(/Stop was pressed/);
  });

  it.each([
    ['button', 'stop-button', /stop button/],
    ['silent', 'host-silent', /heard nothing from this computer/],
    ['reverse', 'reversed', /backwards/],
    ['stalled', 'stalled', /no pulse came/],
  ] as const)('the board’s own "%s"', (why, outcome, sentence) => {
    const run = turning();
    run.ended('halted', why).read(5);
    expect(run.shown).toMatchObject({ phase: 'finished', outcome, boardWhy: why });
    expect(run.shown.grams).toBeCloseTo(18, 1);
    expect(run.shown.rate).not.toBeNull();
    expect(run.shown.sentence).toMatch(sentence);
  });

  it('a reset of the board: at once, with the rate of the turning', () => {
    const run = turning();
    run.give({ type: 'board-reset', reset: 'W' });
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'board-reset' });
    expect(run.shown.sentence).toBe(
      'The board was reset in mid-run (its watchdog found its program hung). 6.0 turns and 18.0 g were measured. Get ready again to repeat.',
    );
    expect(run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 1);
    expect(run.closed).toBe(true);
  });

  it('a board that has forgotten the run, though nobody saw it reset', () => {
    const run = turning();
    run.boardState = 'idle';
    run.read(0.1);
    expect(run.shown.outcome).toBe('board-reset');
  });

  it('the server’s own end', () => {
    const run = turning();
    run.give({ type: 'interrupted' });
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'interrupted' });
    expect(run.shown.turnsDone).toBeCloseTo(6, 1);
  });

  it('thrown away: the board is stopped, no rate is stated', () => {
    const run = turning();
    run.give({ type: 'command', command: 'abort' });
    expect(run.effects.slice(-2)).toEqual([{ type: 'send', command: 'stop' }, { type: 'close' }]);
    expect(run.shown).toMatchObject({ outcome: 'aborted', rate: null, budget: [] });
    expect(run.shown.sentence).toMatch(/6\.0 turns/);
  });
});

describe('the link', () => {
  it('lost and back in time: the run goes on with the totals', () => {
    const run = turning();
    run.give({ type: 'clock', seconds: 100 }, { type: 'link-lost' });
    expect(run.shown.sentence).toMatch(/does not answer/);
    run.give({ type: 'clock', seconds: 105 }, { type: 'link-back' });
    run.ended('halted', 'silent').read(1, 0.5);
    run.read(5);
    expect(run.shown).toMatchObject({ outcome: 'host-silent' });
    expect(run.shown.turnsDone).toBeCloseTo(6.5, 5);
    expect(run.shown.grams).toBeCloseTo(19.5, 1);
  });

  it('not back in time: ended, with what was measured', () => {
    const run = turning();
    run.give({ type: 'clock', seconds: 100 });
    run.read(0.1);
    run.give({ type: 'link-lost' });
    for (let second = 101; second <= 119; second += 1) run.give({ type: 'clock', seconds: second });
    expect(run.shown.phase).toBe('turning');
    run.give({ type: 'clock', seconds: 121 });
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'link-lost' });
    expect(run.shown.turnsDone).toBeCloseTo(6, 1);
    expect(run.shown.rate).not.toBeNull();
  });

  it('lost before the start: nothing starts by itself when it is back', () => {
    const run = new ScriptedRun().ready();
    run.ended('halted', 'expired').read(0.1);
    run.give({ type: 'command', command: 'start' }, { type: 'link-lost' }, { type: 'link-back' });
    run.give({ type: 'armed', key: '80' });
    run.read(4);
    expect(run.sent('go')).toBe(0);
    expect(run.shown.phase).toBe('ready');
  });

  it('lost after go: the turning wheel is found again', () => {
    const run = new ScriptedRun().ready();
    run.give({ type: 'command', command: 'start' }, { type: 'link-lost' }, { type: 'link-back' });
    run.boardState = 'turning';
    run.read(1, 0.75);
    expect(run.shown.phase).toBe('turning');
    expect(run.shown.turnsDone).toBeCloseTo(0.75, 1);
  });
});

describe('a catch that will not settle', () => {
  it('is taken after a while, with its doubt and a sentence', () => {
    const run = turning();
    run.ended('done', 'preset').shake = (seconds) => 8 * Math.sin(1.1 * seconds);
    run.read(14);
    expect(run.shown.phase).toBe('settling');
    run.read(6);
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'complete' });
    expect(run.shown.sentence).toMatch(/would not come to rest/);
    expect(run.shown.gramsDoubt).toBeGreaterThan(0.5);
    // The poor weighing hardly counts beside what the turning has shown.
    expect(run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 1);
  });

  it('cannot be weighed when a cell falls silent: the turning gives the rate', () => {
    const run = turning();
    run.ended('done', 'preset').silentCell = 0;
    run.read(20);
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'complete', grams: null });
    expect(run.shown.rate!.gramsPerSquareMetre).toBeCloseTo(6, 1);
    expect(run.shown.sentence).toMatch(/could not be weighed/);
  });

  it('ends even if someone turns on and on', () => {
    const run = turning();
    run.ended('done', 'preset').read(70, 50);
    expect(run.shown.phase).toBe('finished');
  });

  it('is waited for while a trickle falls', () => {
    const run = turning();
    run.ended('done', 'preset').read(1);
    for (let step = 0; step < 60; step += 1) {
      run.grams += 0.02;
      run.read(0.05);
    }
    expect(run.shown.phase).toBe('settling');
    run.read(6);
    expect(run.shown.phase).toBe('finished');
    expect(run.shown.grams).toBeCloseTo(19.2, 1);
  });
});

it('states no rate when no seed fell', () => {
  const run = new ScriptedRun().started();
  run.gramsPerTurn = 0;
  run.read(13, 10);
  run.ended('done', 'preset').read(5);
  expect(run.shown).toMatchObject({ outcome: 'complete', rate: null });
  expect(run.shown.sentence).toMatch(/Too little seed/);
});

it('by hand: the start is told, the wheel may wait, the count ends it', () => {
  const run = new ScriptedRun({ mode: 'hand' });
  expect(run.effects).toMatchObject([{ command: 'arm', mode: 'hand' }]);
  run.started();
  run.read(20);
  expect(run.shown.sentence).toMatch(/Turn the wheel evenly/);
  run.read(15, 10);
  run.ended('done', 'preset').read(1, 0.6);
  run.read(5);
  expect(run.shown).toMatchObject({ outcome: 'complete' });
  expect(run.shown.turnsDone).toBeCloseTo(10.6, 1);
});
