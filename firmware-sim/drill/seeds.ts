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
  meanGrams = 0;
  /** Whether the mix changes as the hopper empties. */
  readonly separates: boolean;
  private readonly mix: readonly Species[];
  /** Shares by number, summed up. */
  private cumulative: number[] = [];
  /** Log-normal parameters of each species' seed mass: exact mean and exact coefficient of variation. */
  private readonly logMeans: number[] = [];
  private readonly logSpreads: number[] = [];

  constructor(mix: readonly Species[]) {
    this.mix = mix;
    this.separates = mix.some((species) => species.driftPerKilogram);
    this.separate(0);
    for (const species of mix) {
      const meanGrams = species.thousandSeedGrams / 1000;
      const logVariance = Math.log1p(species.massCv ** 2);
      this.logMeans.push(Math.log(meanGrams) - logVariance / 2);
      this.logSpreads.push(Math.sqrt(logVariance));
    }
  }

  /** Shifts the shares to what comes out of the hopper after so many kilograms. */
  separate(kilogramsGiven: number): void {
    const shares = this.mix.map((s) => s.massShare * Math.exp((s.driftPerKilogram ?? 0) * kilogramsGiven));
    const all = shares.reduce((sum, share) => sum + share, 0);
    const now = this.mix.map((species, i) => ({ ...species, massShare: shares[i]! / all }));
    this.meanGrams = meanSeedGrams(now);
    let sum = 0;
    this.cumulative = now.map((species) => {
      // A share by mass becomes a share by number: lighter seeds are more.
      sum += (1000 * species.massShare * this.meanGrams) / species.thousandSeedGrams;
      return sum;
    });
  }

  draw(random: RandomStream): Seed {
    const u = random.uniform() * this.cumulative[this.cumulative.length - 1]!;
    let species = 0;
    while (u > this.cumulative[species]!) species++;
    const grams = Math.exp(this.logMeans[species]! + this.logSpreads[species]! * random.normal());
    return { species, grams };
  }
}
