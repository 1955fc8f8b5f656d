import type { Query } from './database.ts';

/** The value kept under this key, or null. */
export async function settingOf(query: Query, key: string): Promise<unknown> {
  const row = await query.selectFrom('settings').select('value').where('key', '=', key).executeTakeFirst();
  return row === undefined ? null : JSON.parse(row.value);
}

/** Keeps a value that JSON can carry under this key, in the place of the one before. */
export async function putSetting(query: Query, key: string, value: unknown): Promise<void> {
  const row = { key, value: JSON.stringify(value) };
  await query
    .insertInto('settings')
    .values(row)
    .onConflict((conflict) => conflict.column('key').doUpdateSet({ value: row.value }))
    .execute();
}
