/** What the watch over the stand takes for a press of the stop button. */
import { describe, expect, it } from 'vitest';
import { type Reading, readingFlags } from '../../server/link/readings.ts';
import { ScaleWatch } from '../../server/scale/watch.ts';

function watched() {
  let hear: (reading: Reading) => void = () => {};
  const session = {
    readings(listener: (reading: Reading) => void) {
      hear = listener;
      return () => {};
    },
    listen: () => () => {},
    view: () => {
      throw new Error('not asked');
    },
  };
  const watch = new ScaleWatch(session);
  let boardMicros = 0;
  const read = (open: boolean) => {
    boardMicros += 12_500;
    hear({ boardMicros, flags: open ? readingFlags.stopOpen : 0, counts: [] } as unknown as Reading);
  };
  return { watch, read };
}

describe('the stop button', () => {
  it('is seen pressed where its contact opens', () => {
    const { watch, read } = watched();
    for (const open of [false, true]) read(open);
    expect(watch.seen.stopOpenAt).not.toBeNull();
  });

  it('is not seen pressed where the contact was open from the first reading on: a wire may be off', () => {
    const { watch, read } = watched();
    for (const open of [true, true, false]) read(open);
    expect(watch.seen.stopOpenAt).toBeNull();
    read(true);
    expect(watch.seen.stopOpenAt).not.toBeNull();
  });
});
