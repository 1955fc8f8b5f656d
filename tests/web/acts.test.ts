import { describe, expect, it } from 'vitest';
import type { LinkView } from '../../server/http/messages.ts';
import { runOutcomes, runPhases } from '../../server/run/types.ts';
import { isStopKey, mayTurn, situation } from '../../web/src/state/acts.ts';
import { headline } from '../../web/src/state/headline.ts';
import { initialLive, type LiveState } from '../../web/src/state/live.ts';
import { readRoute } from '../../web/src/state/route.ts';
import { say } from '../../web/src/state/say.ts';
import { verdict } from '../../web/src/state/verdict.ts';
import { figuresOf, link, plan } from './invented.ts';

type Phase = (typeof runPhases)[number];

function state(phase: Phase, more: Partial<LiveState> = {}): LiveState {
  const run = { id: 'run-1', plan, figures: figuresOf(plan, phase, 25) };
  return { ...initialLive, socket: 'open', link, plan, run, ...more };
}
const unlinked: LinkView = { ...link, condition: 'lost', sentence: 'The cable is out.' };

describe('what can be done', () => {
  it('is one obvious act in each phase', () => {
    const next = Object.fromEntries(runPhases.map((phase) => [phase, situation(state(phase), false).next]));
    expect(next).toEqual({
      idle: 'arm',
      taring: null,
      ready: 'start',
      turning: 'stop',
      settling: null,
      finished: 'arm',
    });
  });

  it('lets a wheel start from ready alone, and with both connections up', () => {
    for (const phase of runPhases) {
      expect(situation(state(phase), false).allowed.start).toBe(phase === 'ready');
      expect(situation(state(phase, { socket: 'waiting' }), false).allowed.start).toBe(false);
      expect(situation(state(phase, { link: unlinked }), false).allowed.start).toBe(false);
    }
  });

  it('never takes Stop away', () => {
    for (const phase of runPhases) {
      for (const socket of ['open', 'connecting', 'waiting'] as const) {
        expect(situation(state(phase, { socket }), true).allowed.stop).toBe(true);
      }
    }
    expect(situation(initialLive, false).allowed.stop).toBe(true);
  });

  it('does not begin a run on a plan that is not saved', () => {
    expect(situation(state('idle'), true)).toMatchObject({ next: 'save-plan', allowed: { arm: false } });
    expect(situation(state('ready'), true).allowed.start).toBe(true);
  });

  it('leads to the stand when there is none', () => {
    expect(situation(state('idle', { link: unlinked }), false)).toMatchObject({
      next: 'connect',
      allowed: { arm: false },
    });
  });
});

describe('keys', () => {
  it('stop while the wheel may turn, and only then', () => {
    for (const phase of runPhases) {
      const may = phase === 'taring' || phase === 'ready' || phase === 'turning';
      expect(mayTurn(state(phase))).toBe(may);
      expect(isStopKey('Escape', false, state(phase))).toBe(may);
      expect(isStopKey(' ', false, state(phase))).toBe(may);
    }
    expect(isStopKey('Escape', false, initialLive)).toBe(false);
  });

  it('leave the space bar to a text field, but not Escape', () => {
    expect(isStopKey(' ', true, state('turning'))).toBe(false);
    expect(isStopKey('Escape', true, state('turning'))).toBe(true);
  });

  it('stop even when the server is out of reach', () => {
    expect(isStopKey('Escape', false, state('turning', { socket: 'waiting' }))).toBe(true);
  });

  it('are bound to nothing else', () => {
    for (const key of ['Enter', 's', 'S', 'F5', 'Tab'])
      expect(isStopKey(key, false, state('ready'))).toBe(false);
  });
});

describe('the headline', () => {
  it('has a word for every phase and every outcome', () => {
    for (const phase of runPhases) expect(headline(state(phase), say).word).not.toBe('');
    for (const outcome of runOutcomes) {
      const run = { id: '1', plan, figures: { ...figuresOf(plan, 'finished', 9), outcome } };
      expect(headline(state('finished', { run }), say).word).toMatch(/\w/);
    }
  });

  it('says first that the page is cut off, and what that means for a turning wheel', () => {
    const cut = { socket: 'waiting', attempt: 1 } as const;
    expect(headline(state('turning', cut), say)).toMatchObject({
      word: say.socket.lostWord,
      sentence: say.socket.lostTurning,
    });
    expect(headline(state('idle', cut), say).sentence).toBe(say.socket.lost);
  });

  it('tells of a stand that is lost in mid-run', () => {
    expect(headline(state('turning', { link: unlinked }), say)).toMatchObject({
      tone: 'wrong',
      sentence: 'The cable is out.',
    });
  });

  it('tells of a stand that was never set up', () => {
    const blank = { ...link, sentence: 'Set it up.', board: { ...link.board!, settings: 'blank' } };
    expect(headline(state('idle', { link: blank }), say)).toMatchObject({
      word: say.socket.notSetUp,
      sentence: 'Set it up.',
    });
  });
});

describe('the verdict', () => {
  const { gramsPerSquareMetre: target, tolerance } = plan.target;
  const judged = (low: number, high: number, outcome: 'complete' | 'stalled' = 'complete') =>
    verdict({
      plan,
      figures: {
        ...figuresOf(plan, 'finished', 25),
        outcome,
        rate: { gramsPerSquareMetre: (low + high) / 2, standardDoubt: 0, low, high },
      },
    });
  const edges = [target * (1 - tolerance), target * (1 + tolerance)] as const;

  it('needs the whole interval on one side of the edge', () => {
    expect(judged(...edges)).toBe('right');
    expect(judged(edges[0] * 0.999, edges[1])).toBe('open');
    expect(judged(edges[0], edges[1] * 1.001)).toBe('open');
    expect(judged(edges[1] * 1.001, edges[1] * 1.1)).toBe('high');
    expect(judged(edges[0] * 0.9, edges[0] * 0.999)).toBe('low');
    expect(judged(edges[0] * 0.9, edges[1] * 1.1)).toBe('open');
  });

  it('is not spoken over a run that went wrong or is not over', () => {
    expect(judged(...edges, 'stalled')).toBeNull();
    expect(verdict({ plan, figures: figuresOf(plan, 'turning', 12) })).toBeNull();
  });
});

describe('the address', () => {
  it('leads to a place, and an unknown one to the run', () => {
    expect(readRoute('#/plan/setting')).toEqual({ place: 'plan', detail: 'setting' });
    expect(readRoute('#/runs/a%2Fb')).toEqual({ place: 'runs', detail: 'a/b' });
    for (const hash of ['', '#', '#/', '#/nowhere', '#/run', '#acts'])
      expect(readRoute(hash).place).toBe('run');
    expect(readRoute('#/runs/%E0%A4%A')).toEqual({ place: 'runs', detail: null });
  });
});
