import { nominalMasses } from '../domain/check-masses.ts';

/** Which check masses to take, and in which order to put them on. */

/** A set of weights by its lightest: 1, 2, 2 or 2, 2, 5 or 5, 10, 10 times a power of ten make five even loads. */
const multiples = (lightest: number): readonly number[] =>
  String(lightest).startsWith('2') ? [1, 1, 2.5] : [1, 2, 2];

/** The lightest set of nominal masses, grams, that reaches the `heaviest` load, or else the heaviest set there is. */
export function suggestedMasses(heaviest: number): readonly number[] {
  const sets = nominalMasses
    .map((lightest) => multiples(lightest).map((times) => times * lightest))
    .filter((set) => set.every((mass) => nominalMasses.includes(mass)));
  const sum = (set: readonly number[]) => set.reduce((total, mass) => total + mass, 0);
  return sets.find((set) => sum(set) >= heaviest) ?? sets.at(-1)!;
}

interface NamedMass {
  name: string;
  grams: number;
}

const loadOf = (masses: readonly NamedMass[]): number => masses.reduce((sum, { grams }) => sum + grams, 0);

/** All loads that can be made of the masses, each once, lightest first; of two ways to one load the one with fewer masses. */
function loadsOf(masses: readonly NamedMass[]): readonly (readonly NamedMass[])[] {
  const found = new Map<string, readonly NamedMass[]>();
  for (let chosen = 1; chosen < 2 ** Math.min(masses.length, 10); chosen++) {
    const these = masses.filter((_, index) => (chosen & (1 << index)) !== 0);
    const key = loadOf(these).toPrecision(9);
    const known = found.get(key);
    if (known === undefined || these.length < known.length) found.set(key, these);
  }
  return [...found.values()].sort((a, b) => loadOf(a) - loadOf(b));
}

/** Loads of a good check: common practice, no source. */
const wantedLoads = 5;

/**
 * Weighings of a good check, each as the names of the masses on the scale: empty, about five loads spread over the span going up, two of them coming
 * down, empty again.
 */
export function suggestedSteps(masses: readonly NamedMass[]): readonly (readonly string[])[] {
  const loads = loadsOf(masses);
  const span = loadOf(loads.at(-1)!);
  const wanted = Array.from({ length: wantedLoads }, (_, index) => (span * (index + 1)) / wantedLoads);
  const nearest = wanted.map((load) =>
    loads.reduce((best, each) =>
      Math.abs(loadOf(each) - load) < Math.abs(loadOf(best) - load) ? each : best,
    ),
  );
  const up = nearest.filter((each, index) => nearest.indexOf(each) === index);
  const down = up
    .slice(0, -1)
    .reverse()
    .filter((_, index) => index % 2 === 1 || up.length < 4);
  return [[], ...up, ...down, []].map((step) => step.map(({ name }) => name));
}
