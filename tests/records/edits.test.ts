import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Edit, EditClock, fold, historyOf } from '../../server/records/edits.ts';

const field = fc.constantFrom('name', 'slip', 'note', 'deletedAt');
const changes = fc.dictionary(field, fc.oneof(fc.string(), fc.integer(), fc.constant(null)), { minKeys: 1 });

/** Edits of one item as several computers make them, their ids in order. */
const edits = fc.array(changes, { minLength: 1, maxLength: 12 }).map((list) => {
  const clock = new EditClock(() => 1_000_000);
  return list.map((each, index): Edit => {
    const at = new Date(index * 1000).toISOString();
    return { id: clock.next(), kind: 'drill', itemId: 'x', changes: each, by: `${index}`, place: '', at };
  });
});

describe('the edits of an item', () => {
  it('make the same item in whatever order they arrive, however often', () => {
    fc.assert(
      fc.property(edits, fc.infiniteStream(fc.nat()), (list, dice) => {
        const shuffled = [...list, ...list]
          .map((edit) => ({ edit, at: dice.next().value! }))
          .toSorted((a, b) => a.at - b.at)
          .map(({ edit }) => edit);
        expect(fold(shuffled)).toEqual(fold(list));
        const { deletedAt: _, ...fields } = Object.assign({}, ...list.map((edit) => edit.changes));
        expect(fold(list).fields).toEqual(fields);
      }),
    );
  });

  it('tell their history: what counts is what the item is', () => {
    fc.assert(
      fc.property(edits, (list) => {
        const { fields, deletedAt } = fold(list);
        const history = historyOf(list.toReversed());
        for (const { field: name, after, counts } of history) {
          if (counts) expect(after).toEqual(name === 'deletedAt' ? deletedAt : fields[name]);
        }
        const changed = list.slice(1).flatMap((edit) => Object.keys(edit.changes));
        expect(history.map(({ field: name }) => name).toSorted()).toEqual(changed.toSorted());
        expect(history.filter(({ counts }) => counts)).toHaveLength(new Set(changed).size);
      }),
    );
  });
});

describe('the clock of edits', () => {
  it('gives ids that grow, also while the host clock stands or goes back', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 2 ** 40 }), { minLength: 2 }), (times) => {
        let now = 0;
        const clock = new EditClock(() => now);
        const ids = times.map((time) => {
          now = time;
          return clock.next();
        });
        expect(ids.toSorted()).toEqual(ids);
        expect(new Set(ids).size).toBe(ids.length);
      }),
    );
  });

  it('puts an edit after those that were met, from a computer whose clock is ahead', () => {
    const ahead = new EditClock(() => 5_000_000).next();
    const clock = new EditClock(() => 1_000_000);
    clock.met(ahead);
    expect(clock.next() > ahead).toBe(true);
  });

  it('puts an edit after those that it changes, however far their clock was ahead', () => {
    const far: Edit = {
      ...{ id: new EditClock(() => 2 ** 45).next(), kind: 'drill', itemId: 'x', changes: {} },
      ...{ by: '', place: '', at: '' },
    };
    const clock = new EditClock(() => 1_000_000);
    const first = clock.nextAfter([far]);
    expect(first > far.id).toBe(true);
    expect(clock.nextAfter([far, { ...far, id: first }]) > first).toBe(true);
    // Other items go by the clock as ever.
    expect(clock.next() < new EditClock(() => 2_000_000).next()).toBe(true);
  });

  it('is not pushed into the next century by a made-up edit', () => {
    const clock = new EditClock(() => 1_000_000);
    clock.met(new EditClock(() => 2 ** 45).next());
    expect(clock.next() < new EditClock(() => 2_000_000).next()).toBe(true);
  });
});
