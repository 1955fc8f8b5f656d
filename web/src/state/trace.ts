/** Seconds, turns and grams since the run's start, as the socket sends them. */
export type Point = [seconds: number, turns: number, grams: number];

/** Most points kept; when reached, every second one goes, so memory is bounded however long a run is. */
export const keptPoints = 2400;
/** Most points drawn. */
export const drawnPoints = 600;

/** The trace with `more` at its end, thinned when it has grown too long. Points that go back in time (a repeat after a reconnect) are left out. */
export function extend(trace: readonly Point[], more: readonly Point[]): Point[] {
  let latest = trace.at(-1)?.[0] ?? Number.NEGATIVE_INFINITY;
  const all = trace.slice();
  for (const point of more) {
    if (point[0] <= latest) continue;
    latest = point[0];
    all.push(point);
  }
  return bounded(all);
}

/** At most `keptPoints` of these, first and last among them. */
export function bounded(points: Point[]): Point[] {
  let kept = points;
  while (kept.length > keptPoints) {
    const last = kept.length - 1;
    kept = kept.filter((_, index) => index % 2 === 0 || index === last);
  }
  return kept;
}

/**
 * At most `count` points that keep the look of the line: first, last, and from each of `count - 2` equal slices the point that spans
 * the largest triangle with its neighbours in turns and grams (largest-triangle-three-buckets; S. Steinarsson, 2013).
 */
export function thin(points: readonly Point[], count = drawnPoints): readonly Point[] {
  if (points.length <= count || count < 3) return points;
  const slice = (points.length - 2) / (count - 2);
  const drawn: Point[] = [points[0]!];
  for (let bucket = 0; bucket < count - 2; bucket++) {
    const from = 1 + Math.floor(bucket * slice);
    const to = 1 + Math.floor((bucket + 1) * slice);
    const after = middle(points, to, Math.min(points.length, 1 + Math.floor((bucket + 2) * slice)));
    drawn.push(farthest(points, from, to, drawn.at(-1)!, after));
  }
  drawn.push(points.at(-1)!);
  return drawn;
}

function middle(points: readonly Point[], from: number, to: number): [turns: number, grams: number] {
  let turns = 0;
  let grams = 0;
  const end = Math.max(to, from + 1);
  for (let index = from; index < end; index++) {
    const point = points[Math.min(index, points.length - 1)]!;
    turns += point[1];
    grams += point[2];
  }
  return [turns / (end - from), grams / (end - from)];
}

function farthest(
  points: readonly Point[],
  from: number,
  to: number,
  before: Point,
  after: [number, number],
): Point {
  let best = points[from]!;
  let largest = -1;
  for (let index = from; index < to; index++) {
    const [, turns, grams] = points[index]!;
    const area = Math.abs(
      (before[1] - after[0]) * (grams - before[2]) - (before[1] - turns) * (after[1] - before[2]),
    );
    if (area > largest) {
      largest = area;
      best = points[index]!;
    }
  }
  return best;
}
