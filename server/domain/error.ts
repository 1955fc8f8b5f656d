/** What can be wrong with a figure handed to the computation; `inconsistent`: figures that contradict each other. */
export type DomainCode = 'not-a-number' | 'out-of-range' | 'too-few' | 'inconsistent';

/**
 * A figure that cannot be computed with. `message` is a sentence for the person who typed it: what is wrong, what to do.
 * `field` names the input at fault where one can be named.
 */
export class DomainError extends Error {
  readonly code: DomainCode;
  readonly field: string | undefined;

  constructor(code: DomainCode, message: string, field?: string) {
    super(message);
    this.name = 'DomainError';
    this.code = code;
    this.field = field;
  }
}

/** What a checked figure may be. Bounds are included unless named `above` or `below`. */
export interface Bounds {
  above?: number;
  below?: number;
  least?: number;
  most?: number;
  /** Whole numbers only. */
  whole?: boolean;
}

/**
 * `value` itself when it is a finite number within `bounds`.
 * @throws DomainError `not-a-number` or `out-of-range`, with `subject` ('The circumference') in its sentence.
 */
export function checked(value: number, bounds: Bounds, subject: string, field?: string): number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new DomainError('not-a-number', `${subject} must be a number.`, field);
  }
  if (bounds.above !== undefined && !(value > bounds.above)) {
    throw new DomainError('out-of-range', `${subject} must be more than ${bounds.above}.`, field);
  }
  if (bounds.least !== undefined && !(value >= bounds.least)) {
    throw new DomainError('out-of-range', `${subject} must be at least ${bounds.least}.`, field);
  }
  if (bounds.below !== undefined && !(value < bounds.below)) {
    throw new DomainError('out-of-range', `${subject} must be less than ${bounds.below}.`, field);
  }
  if (bounds.most !== undefined && !(value <= bounds.most)) {
    throw new DomainError('out-of-range', `${subject} must be at most ${bounds.most}.`, field);
  }
  if (bounds.whole && !Number.isInteger(value)) {
    throw new DomainError('out-of-range', `${subject} must be a whole number.`, field);
  }
  return value;
}
