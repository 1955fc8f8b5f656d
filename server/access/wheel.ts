/**
 * Who holds the wheel, where several may operate: pure. Only the holder gets the stand ready and starts; Stop is nobody's privilege and is not asked
 * about here. It passes on by being asked for and given, or is taken from a holder who does not answer. Times never go back.
 */

/** An unanswered question is as good as a yes after this. */
export const answerMillis = 30_000;
/** A holder without an open page for this long is away. */
export const awayMillis = 10_000;

export interface Asking {
  person: string;
  at: number;
}

export interface Wheel {
  holder: string | null;
  /** Oldest first; at most one of each person. */
  asking: readonly Asking[];
}

export const freeWheel: Wheel = { holder: null, asking: [] };

const without = (asking: readonly Asking[], person: string): Asking[] =>
  asking.filter((one) => one.person !== person);

/** In the hands of `person`; the others go on asking, and their waiting starts anew. */
export function heldBy(wheel: Wheel, person: string, now: number): Wheel {
  return { holder: person, asking: without(wheel.asking, person).map((one) => ({ ...one, at: now })) };
}

/** `person` asks for it; asking twice does not make the first question younger. */
export function askedBy(wheel: Wheel, person: string, now: number): Wheel {
  if (wheel.holder === person || wheel.asking.some((one) => one.person === person)) return wheel;
  return { ...wheel, asking: [...wheel.asking, { person, at: now }] };
}

/** The holder needs it still: all questions are answered with no. */
export const kept = (wheel: Wheel): Wheel => ({ ...wheel, asking: [] });

/** `person` has gone or puts it down. */
export function leftBy(wheel: Wheel, person: string): Wheel {
  const asking = without(wheel.asking, person);
  return { holder: wheel.holder === person ? null : wheel.holder, asking };
}

/**
 * Milliseconds until `person` may take it without a yes: 0 now, null where asking comes first.
 * @param awaySince when the holder's last page was closed; null while one is open.
 */
export function waitToTake(
  wheel: Wheel,
  person: string,
  awaySince: number | null,
  now: number,
): number | null {
  if (wheel.holder === null || wheel.holder === person) return 0;
  const waits: number[] = [];
  if (awaySince !== null) waits.push(awaySince + awayMillis - now);
  const asked = wheel.asking.find((one) => one.person === person);
  if (asked !== undefined) waits.push(asked.at + answerMillis - now);
  return waits.length === 0 ? null : Math.max(0, Math.min(...waits));
}
