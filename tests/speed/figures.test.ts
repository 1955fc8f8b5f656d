import { describe, expect, it } from 'vitest';
import { judged } from './figures.ts';

const figure = { id: 'x', unit: 'ms', how: 'invented' };

describe('a measured figure', () => {
  it('is judged by its ratio where it has a reference', () => {
    expect(judged({ ...figure, value: 3, reference: 2, aim: '<= 1.5' })).toMatchObject({
      ratio: 1.5,
      holds: true,
    });
    expect(judged({ ...figure, value: 3.1, reference: 2, aim: '<= 1.5' }).holds).toBe(false);
  });

  it('is judged by its value where it has none', () => {
    expect(judged({ ...figure, value: 21, aim: '>= 15' }).holds).toBe(true);
    expect(judged({ ...figure, value: 14.9, aim: '>= 15' }).holds).toBe(false);
  });

  it('is not judged without an aim', () => {
    expect(judged({ ...figure, value: 1 })).not.toHaveProperty('holds');
  });

  it('refuses an aim that it cannot read', () => {
    expect(() => judged({ ...figure, value: 1, aim: 'fast' })).toThrow(RangeError);
  });
});
