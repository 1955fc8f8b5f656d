import { describe, expect, it } from 'vitest';
import { OpenedPort, type PortObject } from '../../server/link/port.ts';
import type { Trouble } from '../../server/link/trouble.ts';

type Handlers = Record<string, (argument?: unknown) => void>;

/** A port object that does as it is told. */
function puppet() {
  const handlers: Handlers = {};
  const written: string[] = [];
  const object = {
    isOpen: true,
    writableLength: 0,
    open: (done: (error: Error | null) => void) => done(null),
    write: (text: string) => written.push(text) > 0,
    close: (done: (error: Error | null) => void) => {
      object.isOpen = false;
      done(null);
    },
    on: (event: string, listener: (argument?: unknown) => void) => {
      handlers[event] = listener;
    },
  };
  return { object, handlers, written };
}

async function opened() {
  const { object, handlers, written } = puppet();
  const troubles: Trouble[] = [];
  const chunks: Uint8Array[] = [];
  const events = {
    bytes: (bytes: Uint8Array) => chunks.push(bytes),
    ended: (trouble: Trouble) => troubles.push(trouble),
  };
  const port = await OpenedPort.open(() => object as unknown as PortObject, '/dev/a', events);
  return { port, object, handlers, written, troubles, chunks };
}

describe('one port object', () => {
  it('writes only while it is open: the driver would keep the bytes for the next opening', async () => {
    const { port, object, written } = await opened();
    expect(port.write('a')).toBe(true);
    object.isOpen = false;
    expect(port.write('b')).toBe(false);
    expect(written).toEqual(['a']);
  });

  it('tells of its end once, though the driver says close, error and close after a failed write', async () => {
    const { port, handlers, troubles, written } = await opened();
    handlers.close!(Object.assign(new Error('gone'), { disconnected: true }));
    handlers.error!(new Error('write failed'));
    handlers.close!();
    expect(troubles).toEqual([{ kind: 'unplugged', detail: 'gone' }]);
    expect(port.write('a')).toBe(false);
    expect(written).toEqual([]);
  });

  it('says nothing more after it was closed, and closes twice without harm', async () => {
    const { port, handlers, troubles, chunks } = await opened();
    await port.close();
    await port.close();
    handlers.data!(Buffer.from('late'));
    handlers.close!();
    expect(troubles).toEqual([]);
    expect(chunks).toEqual([]);
  });

  it('is given up when the other side takes no more bytes', async () => {
    const { port, object, written, troubles } = await opened();
    object.writableLength = 1025;
    expect(port.write('a')).toBe(false);
    expect(troubles).toMatchObject([{ kind: 'stuck' }]);
    expect(written).toEqual([]);
  });
});
