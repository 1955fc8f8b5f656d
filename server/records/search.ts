import { type Selectable, type SelectQueryBuilder, sql } from 'kysely';
import type { Query, SqlEngine } from './database.ts';
import { FieldError } from './errors.ts';
import type { Kind } from './model.ts';
import type { ItemsTable, Tables } from './tables.ts';
import type { FindQuery } from './types.ts';

const usualLimit = 50;
const mostAtOnce = 500;
/** Words of a search that are looked for; more make no difference to people. */
const mostWords = 8;

/** What is looked for, word by word: letters and digits only, so that nothing in it means anything to the index. */
export const wordsIn = (text: string): string[] => allWordsIn(text).slice(0, mostWords);

/** All words of a text as both engines compare them: small letters without accents, and digits. */
export function allWordsIn(text: string): string[] {
  const plain = text
    .normalize('NFD')
    .replaceAll(/\p{M}+/gu, '')
    .toLowerCase();
  return plain.match(/[\p{L}\p{N}]+/gu) ?? [];
}

type ItemQuery = SelectQueryBuilder<Tables, 'items', Selectable<ItemsTable>>;

/** Items of one kind, newest first, from `after` on. @throws FieldError for a place to go on that was never given out. */
export async function listItems(query: Query, engine: SqlEngine, kind: Kind, wish: FindQuery) {
  const limit = Math.min(mostAtOnce, Math.max(1, Math.floor(wish.limit ?? usualLimit)));
  let select: ItemQuery = query.selectFrom('items').selectAll('items').where('items.kind', '=', kind);
  select = select.where('items.deleted_at', wish.deleted ? 'is not' : 'is', null);
  select = inTime(select, wish);
  select = about(select, kind, wish);
  select = withWords(select, engine, kind, wordsIn(wish.text ?? ''));
  const found = await select
    .orderBy('items.happened_at', 'desc')
    .orderBy('items.id', 'desc')
    .limit(limit + 1)
    .execute();
  const rows = found.slice(0, limit);
  const last = rows.at(-1);
  return { rows, next: found.length > limit && last ? `${last.happened_at}_${last.id}` : null };
}

function inTime(select: ItemQuery, { from, before, after }: FindQuery): ItemQuery {
  let narrowed = select;
  if (from !== undefined) narrowed = narrowed.where('items.happened_at', '>=', from);
  if (before !== undefined) narrowed = narrowed.where('items.happened_at', '<', before);
  if (after === undefined || after === null) return narrowed;
  const [moment, id, ...more] = after.split('_');
  if (!moment || !id || more.length > 0) {
    throw new FieldError('/after', 'This list cannot be gone on with: begin it again.');
  }
  return narrowed.where(sql<boolean>`(items.happened_at, items.id) < (${moment}, ${id})`);
}

/** A run or a field check belongs to the drill and the mix of its calibration. */
function about(select: ItemQuery, kind: Kind, wish: FindQuery): ItemQuery {
  const { drillId, mixId, calibrationId, standId, aboutId } = wish;
  const direct = kind === 'calibration' || kind === 'configuration';
  let narrowed = select;
  for (const [column, id] of [
    ['drill_id', drillId],
    ['mix_id', mixId],
  ] as const) {
    if (id === undefined) continue;
    narrowed = direct
      ? narrowed.where(`items.${column}`, '=', id)
      : narrowed.where('items.calibration_id', 'in', (expression) =>
          expression
            .selectFrom('items as calibration')
            .select('calibration.id')
            .where('calibration.kind', '=', 'calibration')
            .where(`calibration.${column}`, '=', id),
        );
  }
  if (calibrationId !== undefined) narrowed = narrowed.where('items.calibration_id', '=', calibrationId);
  if (standId !== undefined) narrowed = narrowed.where('items.stand_id', '=', standId);
  return aboutId === undefined ? narrowed : narrowed.where('items.about_id', '=', aboutId);
}

const beginning = (word: string): string => `"${word}" *`;

/** Where all words, or the beginnings of some, stand in the item itself, or for a calibration in its drill or mix as well. */
function withWords(select: ItemQuery, engine: SqlEngine, kind: Kind, words: string[]): ItemQuery {
  if (words.length === 0) return select;
  if (kind === 'calibration') {
    return words.reduce((narrowed, word) => withWordNearby(narrowed, engine, word), select);
  }
  // SQLite's index of words takes them all at once.
  const wanted = engine === 'sqlite' ? [words.map(beginning).join(' ')] : words;
  return wanted.reduce((narrowed, word) => narrowed.where(holds(engine, kind, 'items', word)), select);
}

/** PostgreSQL looks through the rows: letters and digits alone mean nothing to LIKE. */
function holds(engine: SqlEngine, kind: Kind, table: 'items' | 'named', word: string) {
  if (engine === 'postgres') {
    return sql<boolean>`(' ' || ${sql.ref(`${table}.search`)}) LIKE ${`% ${word}%`}`;
  }
  const number = sql.ref(`${table}.number`);
  return kind === 'run'
    ? sql<boolean>`${number} IN (SELECT rowid FROM run_words WHERE run_words MATCH ${word})`
    : sql<boolean>`${number} IN (SELECT rowid FROM words WHERE words MATCH ${word})`;
}

function withWordNearby(select: ItemQuery, engine: SqlEngine, word: string): ItemQuery {
  const wanted = engine === 'sqlite' ? beginning(word) : word;
  const itself = holds(engine, 'calibration', 'items', wanted);
  const ids = sql`(SELECT id FROM items AS named WHERE ${holds(engine, 'drill', 'named', wanted)})`;
  return select.where(sql<boolean>`(${itself} OR items.drill_id IN ${ids} OR items.mix_id IN ${ids})`);
}
