import { v7 } from 'uuid';
import { randomStreams } from '../../firmware-sim/drill/random.ts';
import { type Edit, fold } from '../records/edits.ts';
import type { ExportedItem } from '../records/export-schema.ts';
import type { Fields, Kind } from '../records/model.ts';

/** Ids and edits of a week that is the same each time it is made: drawn from a seed, dated by the week's own clock. */

const here = 'the imagined shop';

export class Chronicle {
  readonly #random;
  readonly #edits = new Map<string, { kind: Kind; edits: Edit[] }>();
  #drawn = 0;

  constructor(seed: string) {
    this.#random = randomStreams(seed)('ids');
  }

  /** A new id of version 7 (RFC 9562) at this moment. */
  id(at: string): string {
    const random = Uint8Array.from({ length: 16 }, () => Math.floor(256 * this.#random.uniform()));
    return v7({ msecs: Date.parse(at), seq: this.#drawn++, random });
  }

  /** Puts something on record. */
  create<K extends Kind>(kind: K, at: string, fields: Fields<K>, by = 'the shop', id = this.id(at)): string {
    this.#edits.set(id, { kind, edits: [] });
    this.change(id, at, fields, by);
    return id;
  }

  /** Changes some fields of it. */
  change(id: string, at: string, changes: object, by = 'the shop', place = here): void {
    const item = this.#edits.get(id)!;
    const edit = { id: this.id(at), changes: { ...changes }, by, place, at };
    item.edits.push({ ...edit, kind: item.kind, itemId: id });
  }

  /** All of it as it leaves the records. */
  item(id: string): ExportedItem {
    const { kind, edits } = this.#edits.get(id)!;
    const plain = edits.map(({ id: edit, changes, by, place: where, at }) => ({
      ...{ id: edit, changes, by, place: where, at },
    }));
    return { id, kind, ...fold(edits), edits: plain };
  }
}
