import type { CalibrationView } from '../../../server/http/calibration-messages.ts';
import type { FieldId } from './fields.ts';

/** What a calibration says is to be done now: one thing. */
export type NextAct =
  /** Nothing can be said; `field` of the plan is what is missing, null where that is not known. */
  | { kind: 'no-advice'; why: string; field: FieldId | null }
  /** A first run is wanted, at a setting of the user's own choice. */
  | { kind: 'first-run'; why: string }
  | { kind: 'set'; setting: number; leverStays: boolean; sentence: string; reason: string }
  | { kind: 'done'; setting: number; sentence: string; reason: string | null }
  /** More runs would hardly tell more: a setting to end with, and what stands in the way of more. */
  | { kind: 'settle'; setting: number; sentence: string; reason: string | null }
  /** The scale does not hold the target. */
  | { kind: 'out-of-reach'; sentence: string };

/** The next act by this calibration. */
export function nextAct({ advice, whyNoAdvice, scale }: CalibrationView): NextAct {
  if (advice === null) {
    return { kind: 'no-advice', why: whyNoAdvice ?? '', field: scale === null ? 'scaleLow' : null };
  }
  const { next, stop, state } = advice;
  const setting = stop.setting ?? next?.setting ?? null;
  if (state === 'out-of-reach') {
    return { kind: 'out-of-reach', sentence: stop.sentence };
  }
  if (stop.done && setting !== null) {
    return { kind: 'done', setting, sentence: stop.sentence, reason: next?.reason ?? null };
  }
  if (stop.asGoodAsItGets && setting !== null) {
    return { kind: 'settle', setting, sentence: stop.sentence, reason: next?.reason ?? null };
  }
  if (next === null) return { kind: 'first-run', why: stop.sentence };
  const { leverStays, sentence, reason } = next;
  return { kind: 'set', setting: next.setting, leverStays, sentence, reason };
}

/** Marks of a scale where they have names. */
export type Named = { low: number; step: number; marks?: readonly string[] } | null | undefined;

/** What is written at a mark, null where that is its number. */
export function markName(scale: Named, mark: number): string | null {
  if (scale?.marks === undefined) return null;
  return scale.marks[Math.round((mark - scale.low) / scale.step)] ?? null;
}

/** Names of the marks that a stretch of the scale lies between, null where they have none. */
export function marksAround(scale: Named, low: number, high: number): [from: string, to: string] | null {
  if (scale?.marks === undefined) return null;
  const { marks } = scale;
  const nameAt = (place: number) => marks[Math.min(marks.length - 1, Math.max(0, place))]!;
  const placeOf = (mark: number) => (mark - scale.low) / scale.step;
  return [nameAt(Math.floor(placeOf(low))), nameAt(Math.ceil(placeOf(high)))];
}

/** The mark that a name stands for, null where it is none of the scale's. */
export function markOf(scale: Named, name: string): number | null {
  const wanted = name.trim().toLowerCase();
  const place = scale?.marks?.findIndex((mark) => mark.toLowerCase() === wanted) ?? -1;
  return place < 0 || scale == null ? null : scale.low + place * scale.step;
}

/** Whether a setting as it is written in the plan (`30`, `30,5`, `C`) is this mark. */
export function means(written: string, mark: number, scale?: Named): boolean {
  const named = markOf(scale, written);
  if (named !== null) return Math.abs(named - mark) < 1e-9;
  const plain = written.trim().replace(',', '.');
  return /^[+-]?\d+(\.\d+)?$/.test(plain) && Math.abs(Number(plain) - mark) < 1e-9;
}
