import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hashCode, isCode, newCode, shownCode, typedCode } from '../../server/access/code.ts';
import {
  codeMillis,
  codeTries,
  liveOffer,
  noPairing,
  offered,
  type Pairing,
  tried,
  used,
} from '../../server/access/pairing.ts';
import { hashToken, newSessionId, newToken, sameHash } from '../../server/access/token.ts';

describe('a code', () => {
  it('has eight signs, none like another, and is understood however it is typed', () => {
    for (let round = 0; round < 200; round++) {
      const code = newCode();
      expect(code).toMatch(/^[2-9A-HJKMNP-TV-Z]{8}$/);
      expect(code).not.toMatch(/[01ILOU]/);
      const shown = shownCode(code);
      expect(shown).toMatch(/^.{4}-.{4}$/);
      for (const typed of [shown, code, shown.toLowerCase(), ` ${code.slice(0, 2)} ${code.slice(2)} `]) {
        expect(typedCode(typed)).toBe(code);
      }
    }
  });

  it('is nothing else: too short, too long, other signs', () => {
    for (const text of ['', '2222222', '222222222', '2222222O', '2222-222１', '--------']) {
      expect(typedCode(text)).toBeNull();
    }
  });

  it('is drawn evenly: each sign about as often as another', () => {
    const counts = new Map<string, number>();
    const codes = 3000;
    for (let round = 0; round < codes; round++) {
      for (const sign of newCode()) counts.set(sign, (counts.get(sign) ?? 0) + 1);
    }
    const expected = (codes * 8) / counts.size;
    const chiSquare = [...counts.values()].reduce(
      (sum, count) => sum + (count - expected) ** 2 / expected,
      0,
    );
    expect(counts.size).toBe(30);
    // 29 degrees of freedom: 70 is passed by chance in some three of 100 000 draws.
    expect(chiSquare).toBeLessThan(70);
  });

  it('is known by its hash alone, salted', async () => {
    const [one, again] = [await hashCode('22223333'), await hashCode('22223333')];
    expect(one.hash.equals(again.hash)).toBe(false);
    expect(await isCode('22223333', one)).toBe(true);
    expect(await isCode('22223334', one)).toBe(false);
  });
});

describe('a secret', () => {
  it('has 256 bits, never the same, and is kept as its hash', () => {
    const tokens = Array.from({ length: 500 }, newToken);
    expect(new Set(tokens).size).toBe(500);
    for (const token of tokens) expect(Buffer.from(token, 'base64url')).toHaveLength(32);
    expect(new Set(Array.from({ length: 500 }, newSessionId)).size).toBe(500);
    // FIPS 180-2, appendix B.1: SHA-256 of "abc".
    expect(hashToken('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it('is the same only as itself, whatever it is compared with', () => {
    const hash = hashToken('x');
    expect(sameHash(hash, hashToken('x'))).toBe(true);
    for (const other of [hashToken('y'), '', 'zz', hash.slice(2), `${hash}00`])
      expect(sameHash(hash, other)).toBe(false);
  });
});

const address = fc.constantFrom('a', 'b', 'c', 'd');
const step = fc.record({
  what: fc.constantFrom('offer', 'wrong', 'wrong', 'wrong', 'wrong', 'wrong', 'right', 'wait'),
  from: address,
  millis: fc.constantFrom(0, 1000, codeMillis, 600_000),
});

describe('trying a code', () => {
  it('is possible five times in its five minutes, from wherever, and lets in once', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        let pairing: Pairing = noPairing;
        let now = 0;
        const offers = new Map<number, { tries: number; letIn: number; at: number }>();
        for (const { what, from, millis } of steps) {
          if (what === 'wait') now += millis;
          if (what === 'offer') {
            pairing = offered(pairing, 'operate', now);
            offers.set(pairing.offers, { tries: 0, letIn: 0, at: now });
          }
          if (what !== 'right' && what !== 'wrong') continue;
          const attempt = tried(pairing, from, now);
          if (typeof attempt === 'string') continue;
          pairing = attempt.pairing;
          const known = offers.get(attempt.offer.number)!;
          known.tries += 1;
          const after = what === 'right' ? used(pairing, attempt.offer, from, now) : null;
          if (after !== null) {
            known.letIn += 1;
            pairing = after;
          }
          expect(known.tries).toBeLessThanOrEqual(codeTries);
          expect(known.letIn).toBeLessThanOrEqual(1);
          expect(now - known.at).toBeLessThan(codeMillis);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('is over after five wrong tries, each from another address', () => {
    let pairing: Pairing = offered(noPairing, 'operate', 0);
    for (let device = 0; device < codeTries; device++) {
      const attempt = tried(pairing, `device ${device}`, 0);
      if (typeof attempt === 'string') throw new Error(attempt);
      pairing = attempt.pairing;
    }
    expect(liveOffer(pairing, 0)).toBeNull();
    expect(tried(pairing, 'another', 0)).toBe('no-code');
  });

  it('lets nobody in by a code that was replaced while it was being compared', () => {
    const first = offered(noPairing, 'manage', 0);
    const attempt = tried(first, 'a', 0);
    if (typeof attempt === 'string') throw new Error(attempt);
    const replaced = offered(attempt.pairing, 'watch', 1);
    expect(used(replaced, attempt.offer, 'a', 2)).toBeNull();
    expect(liveOffer(replaced, 2)?.role).toBe('watch');
  });

  it('remembers no more than five hundred addresses', () => {
    let pairing: Pairing = noPairing;
    for (let device = 0; device < 2000; device++) {
      const attempt = tried(offered(pairing, 'watch', device), `10.0.0.${device}`, device);
      if (typeof attempt !== 'string') pairing = attempt.pairing;
    }
    expect(pairing.misses.size).toBe(500);
  });
});
