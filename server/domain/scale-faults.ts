import { DomainError } from './error.ts';
import { type LoadedStep, type LoadLevel, nameOfLoad } from './scale-steps.ts';

/** Which mass, or which weighing, spoils a line: the one without which the others agree. */

/** Something that may be wrong, and how wrong it would be. */
export interface Suspect {
  /** 'the 200 g mass', 'the empty scale'; for a single weighing 'the third weighing, of 200 g'. */
  name: string;
  /** The mass, where it is one. */
  mass: string | null;
  /** By how much the scale shows it too heavy, if all else is right. Grams. */
  grams: number;
  /** Student's t of that against what scatter is left; infinite where none is. */
  t: number;
  /** Largest residual that is left without it, grams. */
  left: number;
  /** Residual degrees of freedom that are left. */
  freedom: number;
  leftSquares: number;
}

/** Departure from the line, as a share of the span, that no sound scale shows: ten times the combined error of a cheap cell. Common practice,
 * no source. */
export const mostDeparture = 0.005;

/** Student's t from which on a fault is believed: chance seldom goes so far, even for the worst of a dozen weighings. */
const convincing = 4;

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth'];

/** The line through all steps, of which suspects are tried. Counts against grams. */
export interface TriedLine {
  line: { slope: number };
  centre: number;
  /** Sum of the squared distances of all loads from the centre. */
  squares: number;
  residuals: readonly number[];
}

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/**
 * What the line would be were the `marked` steps free to lie off it by one unknown amount. Null where the others leave no line.
 * The unknown's column less its own line through the loads tells all. Source: R. Frisch and F. V. Waugh, Econometrica 1 (1933) 387-401
 * (from memory).
 */
function freed(
  steps: readonly LoadedStep[],
  marked: readonly boolean[],
  tried: TriedLine,
): Omit<Suspect, 'name' | 'mass'> | null {
  const share = marked.filter(Boolean).length / steps.length;
  const tilt = sum(steps.map(({ load }, i) => (marked[i] ? load - tried.centre : 0))) / tried.squares;
  const own = steps.map(({ load }, i) => Number(marked[i]) - share - tilt * (load - tried.centre));
  const square = sum(own.map((each) => each ** 2));
  if (!(square > 1e-9 * share)) {
    return null;
  }
  const off = sum(own.map((each, i) => each * tried.residuals[i]!)) / square;
  const left = tried.residuals.map((residual, i) => residual - off * own[i]!);
  const slope = tried.line.slope - off * tilt;
  const leftSquares = sum(left.map((each) => each ** 2));
  const freedom = steps.length - 3;
  const doubt = freedom > 0 ? Math.sqrt(leftSquares / freedom / square) : 0;
  return {
    grams: off / slope,
    t: doubt === 0 ? Number.POSITIVE_INFINITY : Math.abs(off) / doubt,
    left: Math.max(...left.map(Math.abs)) / Math.abs(slope),
    freedom,
    leftSquares,
  };
}

/** Everything that may be wrong by itself: each mass, the empty scale. */
export function suspects(steps: readonly LoadedStep[], tried: TriedLine): readonly Suspect[] {
  const names = [...new Set(steps.flatMap(({ masses }) => masses))];
  const candidates = [
    ...names.map((mass) => ({
      name: `the ${mass} mass`,
      mass,
      marked: steps.map(({ masses }) => masses.includes(mass)),
    })),
    { name: 'the empty scale', mass: null, marked: steps.map(({ masses }) => masses.length === 0) },
  ];
  return candidates.flatMap(({ name, mass, marked }) => {
    const found = freed(steps, marked, tried);
    return found === null ? [] : [{ name, mass, ...found }];
  });
}

/** Each weighing by itself. */
function singleWeighings(steps: readonly LoadedStep[], tried: TriedLine): readonly Suspect[] {
  return steps.flatMap((step, index) => {
    const found = freed(
      steps,
      steps.map((_, i) => i === index),
      tried,
    );
    const name = `the ${ordinals[index] ?? `${index + 1}th`} weighing, of ${nameOfLoad(step.masses)},`;
    return found === null ? [] : [{ name, mass: null, ...found }];
  });
}

const inWords = (grams: number): string => `${Number(Math.abs(grams).toPrecision(2))} g`;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Those of `list` that explain the trouble: wrong by more than `limit` and than chance, and without them the rest agrees within it. Best
 * first. */
function culprits(list: readonly Suspect[], limit: number): readonly Suspect[] {
  const able = list
    .filter(({ grams, left, t }) => Math.abs(grams) > limit && left <= limit && t > convincing)
    .sort((a, b) => a.leftSquares - b.leftSquares);
  const best = able[0]?.leftSquares ?? 0;
  // Others that do nearly as well cannot be told from the best.
  return able.filter(({ leftSquares, left }) => leftSquares <= 4 * best || left < limit / 100);
}

function sentenceFor(found: readonly Suspect[]): string {
  const [one] = found;
  if (found.length === 1 && one !== undefined) {
    const wrong = `${capital(one.name)} reads ${inWords(one.grams)} too ${one.grams > 0 ? 'much' : 'little'}`;
    return `${wrong}: is it the right mass, and does nothing touch? Weigh it again, or leave it out.`;
  }
  const each = found.map(({ name, grams }) => `${name} by ${inWords(grams)}`).join(', or ');
  return `The weighings lie on no line. One of these is wrong: ${each}. Weigh one more mass to see which.`;
}

/**
 * Refuses weighings that lie farther off their line than a sound scale puts them, and names what is at fault where one thing is.
 * @throws DomainError `inconsistent` with that sentence.
 */
export function checkDepartures(
  steps: readonly LoadedStep[],
  levels: readonly LoadLevel[],
  tried: TriedLine,
): void {
  const limit = mostDeparture * levels.at(-1)!.load;
  const off = tried.residuals.map((counts) => counts / tried.line.slope);
  const worst = off.reduce((most, grams, i) => (Math.abs(grams) > Math.abs(off[most]!) ? i : most), 0);
  for (const list of [suspects(steps, tried), singleWeighings(steps, tried)]) {
    const found = culprits(list, limit);
    if (found.length > 0) {
      throw new DomainError('inconsistent', sentenceFor(found), found[0]!.mass === null ? 'steps' : 'masses');
    }
  }
  if (Math.abs(off[worst]!) > limit) {
    const load = nameOfLoad(steps[worst]!.masses);
    throw new DomainError(
      'inconsistent',
      `The weighings scatter too far about a line: most of all ${load}, by ${inWords(off[worst]!)}. Look for something loose or touching, let it hang still, and start again.`,
      'steps',
    );
  }
}
