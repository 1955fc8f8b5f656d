import type { RandomStream } from './random.ts';
import { meanSeedGrams, type Species } from './scenario.ts';

/** One seed on its way. */
export interface Seed {
  /** Index into the scenario's mix. */
  species: number;
  grams: number;
}

/** The hopper's mix, from which seeds are drawn one by one. */
export class SeedLot {
  /** Mean mass of a seed by number, grams. */
  readonly meanGrams: number;
  private readonly cumulative: number[] = [];
  /** Log-normal parameters of each species' seed mass: exact mean and exact coefficient of variation. */
  private readonly logMeans: number[] = [];
  private readonly logSpreads: number[] = [];

  constructor(mix: readonly Species[]) {
    this.meanGrams = meanSeedGrams(mix);
    let sum = 0;
    for (const species of mix) {
      const meanGrams = species.thousandSeedGrams / 1000;
      // A share by mass becomes a share by number: lighter seeds are more.
      sum += (species.massShare * this.meanGrams) / meanGrams;
      this.cumulative.push(sum);
      const logVariance = Math.log1p(species.massCv ** 2);
      this.logMeans.push(Math.log(meanGrams) - logVariance / 2);
      this.logSpreads.push(Math.sqrt(logVariance));
    }
  }

  draw(random: RandomStream): Seed {
    const u = random.uniform() * this.cumulative[this.cumulative.length - 1]!;
    let species = 0;
    while (u > this.cumulative[species]!) species++;
    const grams = Math.exp(this.logMeans[species]! + this.logSpreads[species]! * random.normal());
    return { species, grams };
  }
}
