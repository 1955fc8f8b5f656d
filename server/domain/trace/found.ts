import type { Finding, FindingKind, Instant } from './finding.ts';

/** The findings of a run so far: a list of bounded length. */

/** A stand on which more is wrong than this is not judged by a longer list. */
const mostFindings = 40;

/** The list with one more finding, unless it is full. */
export function add(found: readonly Finding[], finding: Finding): readonly Finding[] {
  return found.length >= mostFindings ? found : [...found, finding];
}

const concerns = (finding: Finding, kind: FindingKind, cell: number | null): boolean =>
  finding.kind === kind && finding.cell === cell && finding.until === null;

/** True while a finding of this kind and cell goes on. */
export function isOpen(found: readonly Finding[], kind: FindingKind, cell: number | null): boolean {
  return found.some((finding) => concerns(finding, kind, cell));
}

/** The list with the finding of this kind and cell, if one goes on, ended at `until`. */
export function end(
  found: readonly Finding[],
  kind: FindingKind,
  cell: number | null,
  until: Instant,
): readonly Finding[] {
  return isOpen(found, kind, cell)
    ? found.map((finding) => (concerns(finding, kind, cell) ? { ...finding, until } : finding))
    : found;
}

/** Chance of a normal deviate beyond `sigmas`, one side, to a per mille for sigmas above 2: the leading term of its tail. */
function tail(sigmas: number): number {
  return Math.exp(-(sigmas ** 2) / 2) / (sigmas * Math.sqrt(2 * Math.PI));
}

/** Looks at the same question that a run amounts to. */
const looks = 300;

/** How sure one may be of what stands out by so many standard deviations, after many looks: 0.5 to 1. */
export function sureness(sigmas: number): number {
  return sigmas > 2 ? 1 - Math.min(0.5, looks * tail(sigmas)) : 0.5;
}
