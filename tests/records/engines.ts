import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll } from 'vitest';
import { openDatabase } from '../../server/records/engine.ts';
import { openRecords, recordsFile } from '../../server/records/open.ts';
import { openPostgres } from '../../server/records/postgres.ts';
import type { RecordsStore } from '../../server/records/store.ts';
import { needs } from '../needs.ts';
import { temporaryFolders } from './folders.ts';
import { TestPostgres } from './postgres.ts';

/** The store by each engine that it runs on: what is expected of the one is expected of the other. */
export interface StoreEngine {
  name: string;
  /** Somewhere with nothing in it. */
  newPlace(): Promise<string>;
  open(place: string): Promise<RecordsStore>;
  /** Makes all deletions there so many days older, behind the store's back. */
  age(place: string, days: number): Promise<void>;
}

function sqlite(): StoreEngine {
  const folder = temporaryFolders();
  return {
    name: 'SQLite',
    newPlace: async () => folder(),
    open: openRecords,
    async age(place, days) {
      const database = openDatabase(join(place, recordsFile), 100);
      database.prepare(`UPDATE items SET deleted_at = datetime(deleted_at, '-' || ? || ' days')`).run(days);
      database.close();
    },
  };
}

async function tell(address: string, statement: string, values: unknown[] = []): Promise<void> {
  const client = new pg.Client({ connectionString: address });
  await client.connect();
  try {
    await client.query(statement, values);
  } finally {
    await client.end();
  }
}

/** A server of its own for the file that asks for it, with a database for each place. */
function postgres(): StoreEngine {
  const server = new TestPostgres();
  beforeAll(() => server.start());
  afterAll(() => server.end());
  let made = 0;
  return {
    name: 'PostgreSQL',
    async newPlace() {
      const name = `place_${++made}`;
      await tell(server.address, `CREATE DATABASE ${name}`);
      return server.address.replace(/\/postgres$/, `/${name}`);
    },
    open: openPostgres,
    age: (place, days) =>
      tell(
        place,
        `UPDATE catchbench_records.items
           SET deleted_at = to_char(deleted_at::timestamp - $1 * interval '1 day', 'YYYY-MM-DD"T"HH24:MI:SS"Z"')`,
        [days],
      ),
  };
}

/** To be called once, at the top of a file of tests. */
export const storeEngines = (): StoreEngine[] => [sqlite(), ...(needs('postgres') ? [postgres()] : [])];
