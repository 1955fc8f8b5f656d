import { DomainError } from '../domain/error.ts';
import { checkPlan } from '../run/plan.ts';
import { figures, initialRun } from '../run/reduce.ts';
import { formulaVersion, replay } from '../run/session-replay.ts';
import { type RunOutcome, type RunPlan, runOutcomes, type StandFacts } from '../run/types.ts';
import { checkedBy, shapedFields } from './check.ts';
import { type Edit, fold } from './edits.ts';
import { FieldError } from './errors.ts';
import {
  type ExportedItem,
  type ExportedRun,
  ExportFile,
  exportVersion,
  formatName,
} from './export-schema.ts';
import { referencesIn } from './items.ts';
import { namesOf } from './model.ts';
import type { JournalEntry } from './types.ts';

/** Whether a file may come in: all of it is looked through before any of it is taken. Everything here throws FieldError. */

/** A larger file is not read as one text; a whole store travels better as a backup. */
export const greatestImport = 256 * 1024 * 1024;

function parsed(text: string): unknown {
  if (text.length > greatestImport) {
    throw new FieldError(
      '',
      'This file is too large to be imported in one piece. Use a backup and restore it.',
    );
  }
  try {
    return JSON.parse(text);
  } catch {
    throw new FieldError('', 'This file is no export of Catchbench: it is no JSON, or it was cut short.');
  }
}

/** The file's content, of the right form throughout. */
export function readExport(text: string): ExportFile {
  const content = parsed(text) as Partial<ExportFile> | null;
  if (typeof content !== 'object' || content === null || content.format !== formatName) {
    throw new FieldError('/format', 'This file is no export of Catchbench.');
  }
  if ((content.version as number) > exportVersion) {
    throw new FieldError(
      '/version',
      `This file was written by a newer Catchbench (its form is version ${content.version}, this one reads ${exportVersion}). Import it there.`,
    );
  }
  const file = checkedBy<ExportFile>(ExportFile, content, 'the file');
  file.items.forEach(checkItem);
  checkWhole(file);
  return file;
}

export const editsOfItem = ({ id, kind, edits }: ExportedItem): Edit[] =>
  edits.map((edit) => ({ ...edit, kind, itemId: id }));

function checkItem(item: ExportedItem, index: number): void {
  const at = `/items/${index}`;
  const folded = fold(editsOfItem(item));
  const { deletedAt } = folded;
  if (deletedAt !== null && (typeof deletedAt !== 'string' || Number.isNaN(Date.parse(deletedAt)))) {
    throw new FieldError(
      `${at}/deletedAt`,
      `A ${namesOf[item.kind]} in the file was deleted at no moment at all.`,
    );
  }
  try {
    shapedFields(item.kind, folded.fields);
  } catch (error) {
    if (error instanceof FieldError) throw new FieldError(`${at}/fields${error.field}`, error.message);
    throw error;
  }
  if (JSON.stringify(sorted(folded.fields)) !== JSON.stringify(sorted(item.fields))) {
    throw new FieldError(
      `${at}/fields`,
      `A ${namesOf[item.kind]} in the file is not what its edits make it.`,
    );
  }
}

const sorted = (values: object): [string, unknown][] =>
  Object.entries(values).toSorted(([a], [b]) => (a < b ? -1 : 1));

/** Each id once, each run with its item and the other way round. */
function checkWhole({ items, runs }: ExportFile): void {
  const kindOf = new Map(items.map(({ id, kind }) => [id, kind]));
  if (kindOf.size !== items.length) throw new FieldError('/items', 'One item stands twice in the file.');
  const runIds = new Set(runs.map(({ id }) => id));
  if (runIds.size !== runs.length) throw new FieldError('/runs', 'One run stands twice in the file.');
  const edits = items.flatMap((item) => item.edits.map(({ id }) => id));
  if (new Set(edits).size !== edits.length)
    throw new FieldError('/items', 'One edit stands twice in the file.');
  for (const { id, kind } of items) {
    if (kind === 'run' && !runIds.has(id))
      throw new FieldError('/runs', 'A run is named and not in the file.');
  }
  for (const id of runIds) {
    if (kindOf.get(id) !== 'run') throw new FieldError('/items', 'A run in the file lacks its labels.');
  }
}

/** Ids that the file names and does not hold. */
export function missingIn({ items }: ExportFile): string[] {
  const held = new Set(items.map(({ id }) => id));
  const named = items.flatMap(({ kind, fields }) => referencesIn(kind, fields).map(({ id }) => id));
  return [...new Set(named.filter((id) => !held.has(id)))];
}

export const journalOf = ({ journal }: ExportedRun): JournalEntry[] =>
  journal.map(([hostMillis, kind, text], position) => ({
    position,
    hostMillis,
    kind: kind as JournalEntry['kind'],
    text,
  }));

/** True where `given` has all that `model` has, each of the same type or null. */
function isShapedLike(given: unknown, model: unknown): boolean {
  if (model === null || given === null) return true;
  if (Array.isArray(model)) return Array.isArray(given);
  if (typeof model !== 'object') return typeof given === typeof model;
  if (typeof given !== 'object') return false;
  return Object.entries(model).every(([key, part]) =>
    // A list that earlier editions did not have is an empty one.
    Object.hasOwn(given, key)
      ? isShapedLike((given as Record<string, unknown>)[key], part)
      : Array.isArray(part),
  );
}

function replayedOf(run: ExportedRun) {
  try {
    return JSON.parse(JSON.stringify(replay(journalOf(run)))) as ReturnType<typeof replay>;
  } catch {
    throw new FieldError('/runs', `The readings of the run of ${run.startedAt} cannot be computed with.`);
  }
}

/** A run in the file: its plan can be reckoned with, and its readings give its figures. */
export function checkRun(run: ExportedRun): void {
  const at = `the run of ${run.startedAt}`;
  if (!(runOutcomes as readonly string[]).includes(run.outcome as RunOutcome)) {
    throw new FieldError('/runs', `No run ends as ${at} is said to have.`);
  }
  if (run.source === 'hand') {
    if (run.hand === null || !(run.hand.turns > 0) || run.journal.length > 0) {
      throw new FieldError('/runs', `The catch weighed by hand in ${at} is missing or makes no sense.`);
    }
    if (!isShapedLike(run.figures, figures(initialRun()))) {
      throw new FieldError('/runs', `The figures of ${at} are not what figures are.`);
    }
    return;
  }
  checkStandRun(run, at);
}

function checkStandRun(run: ExportedRun, at: string): void {
  try {
    checkPlan(run.plan as RunPlan, run.stand as StandFacts);
  } catch (error) {
    if (error instanceof DomainError) throw new FieldError('/runs', `In ${at}: ${error.message}`);
    throw error;
  }
  const made = replayedOf(run);
  const same =
    JSON.stringify(sorted(made.figures)) === JSON.stringify(sorted(run.figures)) &&
    JSON.stringify(made.trace) === JSON.stringify(run.trace);
  if (run.formulaVersion === formulaVersion && !same) {
    throw new FieldError('/runs', `The readings of ${at} do not give the figures that stand beside them.`);
  }
  if (!same && !isShapedLike(run.figures, figures(initialRun()))) {
    throw new FieldError('/runs', `The figures of ${at} are not what figures are.`);
  }
}
