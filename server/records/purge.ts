import type { Database, Query } from './database.ts';

/** What was deleted can be brought back for so long. */
export const undoDays = 30;

/**
 * Removes for good what was deleted more than 30 days before `now`, runs with their readings, everything with the notes about it; what something on
 * record still names stays.
 */
export async function purge(database: Database, now = Date.now()): Promise<number> {
  const limit = new Date(now - undoDays * 24 * 3600 * 1000).toISOString();
  const old = await database.read((query) =>
    query
      .selectFrom('items')
      .select('id')
      .where('deleted_at', 'is not', null)
      .where('deleted_at', '<', limit)
      .execute(),
  );
  let gone = 0;
  for (const { id } of old) if (await purgeOne(database, id)) gone++;
  return gone;
}

function purgeOne(database: Database, id: string): Promise<boolean> {
  return database.write(async (query) => {
    if (await isNamed(query, id)) return false;
    await query.deleteFrom('blocks').where('run_id', '=', id).execute();
    await query.deleteFrom('runs').where('id', '=', id).execute();
    const notes = await query.selectFrom('items').select('id').where('about_id', '=', id).execute();
    for (const gone of [id, ...notes.map((note) => note.id)]) {
      await query.deleteFrom('edits').where('item_id', '=', gone).execute();
      await query.deleteFrom('items').where('id', '=', gone).execute();
    }
    return true;
  });
}

async function isNamed(query: Query, id: string): Promise<boolean> {
  const row = await query
    .selectFrom('items')
    .select('id')
    .where((expression) =>
      expression.or([
        expression('drill_id', '=', id),
        expression('mix_id', '=', id),
        expression('calibration_id', '=', id),
        expression('stand_id', '=', id),
        // Configurations and lots are named in the fields alone.
        expression.and([
          expression('kind', 'in', ['calibration', 'mix']),
          expression('fields', 'like', `%"${id}"%`),
        ]),
      ]),
    )
    .executeTakeFirst();
  return row !== undefined;
}
