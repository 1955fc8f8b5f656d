import { describe, expect, it } from 'vitest';
import { plan, ScriptedRun, stand } from './script.ts';

describe('getting ready', () => {
  it('arms at once, for the planned turns in pulses', () => {
    const run = new ScriptedRun();
    expect(run.effects).toEqual([{ type: 'send', command: 'arm', mode: 'motor', pulses: 240 }]);
    expect(run.shown.phase).toBe('taring');
    expect(run.shown.sentence).toMatch(/do not touch the bag/);
  });

  it('is ready when armed and tared, and not before', () => {
    const run = new ScriptedRun();
    run.read(3);
    expect(run.shown.phase).toBe('taring');
    run.give({ type: 'armed', key: '77' });
    run.read(0.2);
    expect(run.shown.phase).toBe('ready');

    const other = new ScriptedRun();
    other.give({ type: 'armed', key: '77' });
    other.read(0.8);
    expect(other.shown.phase).toBe('taring');
  });

  it('shows nearly nothing in the bag, whatever bag hangs there', () => {
    expect(new ScriptedRun().ready().shown.grams).toBeCloseTo(0, 2);
  });

  it('does not tare while the wheel moves, and tares anew when it has moved', () => {
    const run = new ScriptedRun().ready();
    run.read(1, 0.5);
    expect(run.shown.phase).toBe('taring');
    expect(run.shown.sentence).toMatch(/wheel has moved/);
    run.read(4);
    expect(run.shown.phase).toBe('ready');
    expect(run.shown.grams).toBeCloseTo(0, 2);
    expect(run.shown.turnsDone).toBe(0);
  });

  it('tares anew when the bag was knocked', () => {
    const run = new ScriptedRun().ready();
    run.grams += 30;
    run.read(0.5);
    expect(run.shown.phase).toBe('taring');
    run.read(3);
    expect(run.shown.phase).toBe('ready');
    expect(run.shown.grams).toBeCloseTo(0, 2);
  });

  it('waits for a swinging bag, but not for ever: then the tare has its doubt and the sentence says so', () => {
    const run = new ScriptedRun();
    run.shake = (seconds) => 8 * Math.sin(1.1 * seconds);
    run.ready();
    expect(run.shown.phase).toBe('taring');
    run.read(30);
    expect(run.shown.phase).toBe('ready');
    expect(run.shown.sentence).toMatch(/would not come to rest/);
    expect(run.state.tare!.doubt.standard).toBeGreaterThan(0.5);
  });

  it('names a load cell that is silent', () => {
    const run = new ScriptedRun();
    run.silentCell = 1;
    run.ready();
    expect(run.shown.phase).toBe('taring');
    expect(run.shown.sentence).toMatch(/load cell gives no good value/);
    run.silentCell = null;
    run.read(3);
    expect(run.shown.phase).toBe('ready');
  });

  it('is given up when nobody starts', () => {
    const run = new ScriptedRun().ready();
    run.read(16 * 60);
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'expired', rate: null });
    expect(run.effects.slice(-2)).toEqual([{ type: 'send', command: 'stop' }, { type: 'close' }]);
  });

  it.each([
    ['button', /stop button/i],
    ['settings', /lost its settings/],
    ['value', /number of turns/],
    ['nonsense', /did not do as it was asked/],
  ])('the board’s refusal to arm, "%s", ends it with a sentence', (word, sentence) => {
    const run = new ScriptedRun();
    run.give({ type: 'refused', command: 'arm', word });
    expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'refused' });
    expect(run.shown.sentence).toMatch(sentence);
    expect(run.closed).toBe(true);
  });

  it('a board that still turns for an older run is stopped, then armed again', () => {
    const run = new ScriptedRun();
    run.give({ type: 'refused', command: 'arm', word: 'state' });
    expect(run.effects.slice(1)).toMatchObject([{ command: 'stop' }, { command: 'arm', pulses: 240 }]);
    run.give({ type: 'refused', command: 'arm', word: 'state' });
    expect(run.shown.outcome).toBe('refused');
  });

  it('a plan that cannot be is refused with a sentence, and nothing is armed', () => {
    const bad = [
      { drill: { ...plan.drill, circumferenceMetres: 0 } },
      { drill: { ...plan.drill, circumferenceMetres: Number.NaN } },
      { drill: { ...plan.drill, rowSpacingMetres: -1 } },
      { drill: { ...plan.drill, slip: 1 } },
      { turns: 0 },
      { turns: 1e9 },
      { rowsCaught: 0 },
      { seed: { ...plan.seed, seedMassGrams: 0 } },
    ];
    for (const change of bad) {
      const run = new ScriptedRun(change);
      expect(run.effects).toEqual([{ type: 'close' }]);
      expect(run.shown).toMatchObject({ phase: 'finished', outcome: 'refused' });
      expect(run.shown.sentence).toMatch(/ must be /);
    }
  });

  it('a second begin while a run is under way changes nothing', () => {
    const run = new ScriptedRun().ready();
    const before = run.state;
    run.give({ type: 'begin', plan, stand });
    expect(run.state).toBe(before);
  });
});

describe('starting', () => {
  it('sends go with the key, and turns once the board says so', () => {
    const run = new ScriptedRun().ready();
    run.give({ type: 'command', command: 'start' });
    expect(run.effects.at(-1)).toEqual({ type: 'send', command: 'go', key: '77' });
    expect(run.shown).toMatchObject({ phase: 'ready', sentence: 'Starting.' });
    run.boardState = 'turning';
    run.read(0.1);
    expect(run.shown.phase).toBe('turning');
  });

  it('is not done before the tare, with the stop button open, or twice', () => {
    const early = new ScriptedRun();
    early.give({ type: 'armed', key: '77' }, { type: 'command', command: 'start' });
    early.read(3);
    expect(early.sent('go')).toBe(0);

    const open = new ScriptedRun().ready();
    open.flags = 4;
    open.read(0.1);
    open.give({ type: 'command', command: 'start' });
    expect(open.sent('go')).toBe(0);
    expect(open.shown.sentence).toMatch(/stop button is pressed/);

    const twice = new ScriptedRun().ready();
    twice.give({ type: 'command', command: 'start' }, { type: 'command', command: 'start' });
    expect(twice.sent('go')).toBe(1);
  });

  it('arms again in silence when the arming has run out', () => {
    const run = new ScriptedRun().ready();
    run.ended('halted', 'expired').read(5);
    expect(run.shown.phase).toBe('ready');
    run.give({ type: 'command', command: 'start' });
    expect(run.sent('go')).toBe(0);
    expect(run.sent('arm')).toBe(2);
    run.give({ type: 'armed', key: '78' });
    expect(run.effects.at(-1)).toEqual({ type: 'send', command: 'go', key: '78' });
  });

  it('arms again when the arming runs out in the very moment', () => {
    const run = new ScriptedRun().ready();
    run.give({ type: 'command', command: 'start' }, { type: 'refused', command: 'go', word: 'state' });
    expect(run.effects.at(-1)).toMatchObject({ command: 'arm' });
    run.give({ type: 'armed', key: '78' });
    expect(run.effects.at(-1)).toEqual({ type: 'send', command: 'go', key: '78' });
    run.give({ type: 'refused', command: 'go', word: 'state' });
    expect(run.shown.outcome).toBe('refused');
  });

  it('is called off when the board does not turn, and a late arming starts nothing', () => {
    const run = new ScriptedRun().ready();
    run.give({ type: 'command', command: 'start' });
    run.read(3);
    expect(run.effects.at(-1)).toMatchObject({ command: 'stop' });
    expect(run.shown.phase).toBe('ready');
    expect(run.shown.sentence).toMatch(/did not start the wheel/);
    run.give({ type: 'armed', key: '79' });
    expect(run.sent('go')).toBe(1);
  });

  it('is called off by Stop before the wheel turns', () => {
    const run = new ScriptedRun().ready();
    run.give({ type: 'command', command: 'stop' });
    expect(run.effects.slice(-2)).toEqual([{ type: 'send', command: 'stop' }, { type: 'close' }]);
    expect(run.shown).toMatchObject({ outcome: 'stopped', sentence: 'Stopped before the wheel turned.' });
  });

  it('a wheel that someone else set going is stopped', () => {
    const run = new ScriptedRun().ready();
    run.boardState = 'turning';
    run.read(0.1);
    expect(run.sent('stop')).toBe(1);
    expect(run.sent('go')).toBe(0);
    expect(run.shown.phase).toBe('taring');
  });
});
