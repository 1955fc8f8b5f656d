import { createHash } from 'node:crypto';

/**
 * Chance, seeded. One generator per source of chance, each found by its name: a new noise source takes its own stream and
 * leaves all others as they were.
 *
 * Generator: xoshiro128** 1.1 (Blackman and Vigna, prng.di.unimi.it). It is written out here, and not taken from a package,
 * because "same seed, same run" must outlive the packages: their distributions have changed between major versions.
 */
export class RandomStream {
  private s0: number;
  private s1: number;
  private s2: number;
  private s3: number;
  private spare = Number.NaN;

  /** `words`: four 32-bit words of state, not all zero. */
  constructor(words: readonly [number, number, number, number]) {
    [this.s0, this.s1, this.s2, this.s3] = words;
    if ((this.s0 | this.s1 | this.s2 | this.s3) === 0) this.s0 = 1;
  }

  /** The next 32 bits, as a whole number 0 to 4294967295. */
  bits(): number {
    const five = Math.imul(this.s1, 5);
    const result = Math.imul((five << 7) | (five >>> 25), 9) >>> 0;
    const shifted = this.s1 << 9;
    this.s2 ^= this.s0;
    this.s3 ^= this.s1;
    this.s1 ^= this.s2;
    this.s0 ^= this.s3;
    this.s2 ^= shifted;
    this.s3 = (this.s3 << 11) | (this.s3 >>> 21);
    return result;
  }

  /** Uniform strictly between 0 and 1, in steps of 2^-32. */
  uniform(): number {
    return (this.bits() + 0.5) / 4294967296;
  }

  /** Normal with mean 0 and standard deviation 1 (Marsaglia's polar method). */
  normal(): number {
    const kept = this.spare;
    if (!Number.isNaN(kept)) {
      this.spare = Number.NaN;
      return kept;
    }
    for (;;) {
      const x = 2 * this.uniform() - 1;
      const y = 2 * this.uniform() - 1;
      const square = x * x + y * y;
      if (square < 1 && square > 0) {
        const scale = Math.sqrt((-2 * Math.log(square)) / square);
        this.spare = y * scale;
        return x * scale;
      }
    }
  }

  /** Exponential with mean 1. */
  exponential(): number {
    return -Math.log(this.uniform());
  }
}

/** Finds a stream by its name; the same seed and name always give the same stream. */
export type Streams = (name: string) => RandomStream;

/** All streams of one seed. A stream's state is the first 16 bytes of SHA-256 over seed and name. */
export function randomStreams(seed: number | string): Streams {
  return (name) => {
    const digest = createHash('sha256').update(`${seed}\n${name}`).digest();
    return new RandomStream([
      digest.readUInt32LE(0),
      digest.readUInt32LE(4),
      digest.readUInt32LE(8),
      digest.readUInt32LE(12),
    ]);
  };
}
