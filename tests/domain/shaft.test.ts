import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cellRounding,
  shaftRatio,
  shaftTurnsFromWheel,
  wheelTurnsFromShaft,
} from '../../server/domain/shaft.ts';
import { turns } from '../../server/domain/units.ts';
import { between, near, refused } from './lots.ts';

const teeth = fc.integer({ min: 5, max: 100 });
const pair = fc.record({ driving: teeth, driven: teeth });

describe('turns at another shaft', () => {
  it('go there and back', () => {
    fc.assert(
      fc.property(between(0.1, 1000).map(turns), between(0.01, 100), (count, ratio) => {
        near(wheelTurnsFromShaft(shaftTurnsFromWheel(count, ratio), ratio), count);
      }),
    );
  });

  it('a 12-tooth sprocket on a 24-tooth one turns it half as often', () => {
    expect(shaftRatio([{ driving: 12, driven: 24 }])).toBe(0.5);
    expect(shaftTurnsFromWheel(turns(25), 0.5)).toBe(12.5);
    expect(wheelTurnsFromShaft(turns(12.5), 0.5)).toBe(25);
    expect(shaftRatio([])).toBe(1);
  });

  it('pairs multiply in any order, and an idler changes nothing', () => {
    fc.assert(
      fc.property(pair, pair, teeth, (a, b, idler) => {
        near(shaftRatio([a, b]), shaftRatio([b, a]));
        near(shaftRatio([a, b]), shaftRatio([a]) * shaftRatio([b]));
        const through = [
          { driving: a.driving, driven: idler },
          { driving: idler, driven: a.driven },
        ];
        near(shaftRatio(through), shaftRatio([a]));
      }),
    );
  });

  it('twice the turns halve what one cell can do', () => {
    near(cellRounding(turns(40), 0.5, 12), cellRounding(turns(20), 0.5, 12) / 2);
  });

  it('refuses what no gear is', () => {
    refused(() => shaftRatio([{ driving: 0, driven: 12 }]), 'out-of-range', 'driving');
    refused(() => shaftRatio([{ driving: 12, driven: 11.5 }]), 'out-of-range', 'driven');
    refused(() => shaftRatio(Array(9).fill({ driving: 100, driven: 5 })), 'out-of-range', 'shaftRatio');
    refused(() => wheelTurnsFromShaft(turns(3), 0), 'out-of-range', 'shaftRatio');
    refused(() => shaftTurnsFromWheel(turns(3), Number.NaN), 'not-a-number', 'shaftRatio');
    refused(() => cellRounding(turns(0), 1, 12), 'out-of-range', 'turns');
    refused(() => cellRounding(turns(1), 1, 0.5), 'out-of-range', 'cells');
  });
});
