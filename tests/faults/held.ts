import { json } from 'node:stream/consumers';
import { getHeapSnapshot } from 'node:v8';

interface Snapshot {
  snapshot: { meta: { node_fields: string[]; node_types: [string[]] } };
  /** One record after the other, as `node_fields` says. */
  nodes: number[];
}

/** What the engine keeps for itself: it goes on compiling as one function after the other becomes hot, and notes what each piece rests on. */
const ofTheEngine = new Set(['code', 'hidden', 'object shape', 'synthetic']);

/** Bytes of all objects, strings, closures and buffers that something holds on to, by a snapshot of the heap. Takes a second or two. */
export async function heldBytes(): Promise<number> {
  const { snapshot, nodes } = (await json(getHeapSnapshot())) as Snapshot;
  const { node_fields: fields, node_types: types } = snapshot.meta;
  const [type, size] = [fields.indexOf('type'), fields.indexOf('self_size')];
  let bytes = 0;
  for (let node = 0; node < nodes.length; node += fields.length)
    if (!ofTheEngine.has(types[0][nodes[node + type]!]!)) bytes += nodes[node + size]!;
  return bytes;
}
