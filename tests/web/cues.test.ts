import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cue, cueBetween } from '../../web/src/state/cues.ts';

const at = (turnsDone: number, phase: 'ready' | 'turning' | 'settling' = 'turning') => ({
  phase,
  turnsDone,
  turnsPreset: 25,
});

/** What is heard over these readings of the turns. */
function heard(turns: number[]): Cue[] {
  const cues: Cue[] = [];
  for (let index = 1; index < turns.length; index++) {
    const cue = cueBetween(at(turns[index - 1]!), at(turns[index]!));
    if (cue !== null) cues.push(cue);
  }
  return cues;
}

describe('what is heard of a wheel turned by hand', () => {
  it('is each of the last three turns and the end, and nothing before', () => {
    expect(heard([0, 5.2, 21.9])).toEqual([]);
    expect(heard([21.9, 22.05, 22.9, 23.1, 23.98, 24, 24.7, 25.02, 25.3])).toEqual([
      'turn',
      'turn',
      'turn',
      'end',
    ]);
  });

  it('is the same however often the wheel is looked at', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.001, max: 0.9, noNaN: true }), { minLength: 40 }), (steps) => {
        let turns = 0;
        const seen = [0, ...steps.map((step) => (turns += step))].filter((value) => value < 26);
        const wanted = seen.at(-1)! >= 25 ? 4 : Math.max(0, Math.floor(seen.at(-1)!) - 21);
        expect(heard(seen)).toHaveLength(wanted);
      }),
      { numRuns: 200 },
    );
  });

  it('is the end when the last reading comes after it', () =>
    expect(cueBetween(at(24.9), at(25.1, 'settling'))).toBe('end'));

  it('is nothing before the start and after the end', () => {
    expect(cueBetween(at(0, 'ready'), at(0))).toBeNull();
    expect(cueBetween(at(25.1, 'settling'), at(25.3, 'settling'))).toBeNull();
  });

  it('is nothing when the wheel goes back', () => expect(cueBetween(at(23.2), at(22.8))).toBeNull());
});
