import type { Role } from './roles.ts';

/** How a code is offered, tried and used up: pure. Times are milliseconds of a clock that never goes back. */

export const codeMillis = 5 * 60_000;
/** Wrong tries, from wherever they come, after which the code is void. */
export const codeTries = 5;
/** Wrong tries of one address after which it has to wait, so that one device cannot void every code. */
const addressTries = 5;
const addressWaitMillis = 10 * 60_000;
/** Addresses remembered; the one that erred longest ago is forgotten first. */
const mostAddresses = 500;

export interface Offer {
  /** Tells one code from the next. */
  number: number;
  role: Role;
  until: number;
  triesLeft: number;
}

interface Misses {
  count: number;
  until: number;
}

export interface Pairing {
  offer: Offer | null;
  offers: number;
  misses: ReadonlyMap<string, Misses>;
}

export const noPairing: Pairing = { offer: null, offers: 0, misses: new Map() };

/** The code that can be used now, if there is one. */
export function liveOffer({ offer }: Pairing, now: number): Offer | null {
  return offer !== null && now < offer.until && offer.triesLeft > 0 ? offer : null;
}

/** A new code takes the place of the one before. */
export function offered(pairing: Pairing, role: Role, now: number): Pairing & { offer: Offer } {
  const number = pairing.offers + 1;
  return {
    ...pairing,
    offers: number,
    offer: { number, role, until: now + codeMillis, triesLeft: codeTries },
  };
}

/** Why a try was not even looked at: no code to try, or too many wrong ones from this address. */
export type Unheard = 'no-code' | 'wait';

/**
 * Takes a try. It is spent before anything is compared, so that many at once have no more tries than one after the other.
 */
export function tried(
  pairing: Pairing,
  address: string,
  now: number,
): { pairing: Pairing; offer: Offer } | Unheard {
  const missed = pairing.misses.get(address);
  if (missed !== undefined && missed.count >= addressTries && now < missed.until) return 'wait';
  const offer = liveOffer(pairing, now);
  if (offer === null) return 'no-code';
  const spent = { ...offer, triesLeft: offer.triesLeft - 1 };
  return { pairing: { ...withMiss(pairing, address, now), offer: spent }, offer: spent };
}

function withMiss(pairing: Pairing, address: string, now: number): Pairing {
  const misses = new Map(pairing.misses);
  const before = misses.get(address);
  const count = before === undefined || now >= before.until ? 1 : before.count + 1;
  misses.delete(address);
  misses.set(address, { count, until: now + addressWaitMillis });
  if (misses.size > mostAddresses) misses.delete(misses.keys().next().value!);
  return { ...pairing, misses };
}

/** The try was right: the code is used up and the address forgiven. Null where the code was used up or replaced in the meantime. */
export function used(pairing: Pairing, { number }: Offer, address: string, now: number): Pairing | null {
  const { offer } = pairing;
  if (offer === null || offer.number !== number || now >= offer.until) return null;
  const misses = new Map(pairing.misses);
  misses.delete(address);
  return { ...pairing, offer: null, misses };
}
