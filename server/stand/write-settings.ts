import { type SettingKey, settingFits } from '../link/settings.ts';
import type { Outcome, SessionFace } from '../run/session-types.ts';

/** A cell's straight line as the board keeps it: whole nanograms a count, whole counts. */
export function lineSettings(
  cell: number,
  gramsPerCount: number,
  zeroCount: number,
): Partial<Record<SettingKey, string>> {
  return {
    [`slope${cell + 1}`]: String(Math.round(gramsPerCount * 1e9)),
    [`zero${cell + 1}`]: String(Math.round(zeroCount)),
  };
}

/**
 * Puts a cell's line into the board: `cell` from 0, grams a count (below 0 where counts fall under load), the empty cell's counts. Refused where
 * the board cannot hold such a line, or anything is under way.
 */
export async function writeScaleLine(
  session: Pick<SessionFace, 'writeSettings'>,
  cell: number,
  gramsPerCount: number,
  zeroCount: number,
): Promise<Outcome<null>> {
  const changes = lineSettings(cell, gramsPerCount, zeroCount);
  const fits = (Object.entries(changes) as [SettingKey, string][]).every(([key, value]) =>
    settingFits(key, value),
  );
  if (!fits) {
    const message = `The board cannot hold a slope of ${gramsPerCount} g a count with its zero at ${zeroCount} counts.`;
    return { ok: false, problem: { code: 'refused', message } };
  }
  return session.writeSettings(changes);
}
