import type { Evidence, Finding, Instant } from './finding.ts';
import type { Account } from './wheel-account.ts';
import { countOf, evidence } from './wheel-accounts.ts';
import { placesOf } from './wheel-magnets.ts';
import { chatterEnough, keeping, type Picture, type WheelSense } from './wheel-sense.ts';

/** What the wheel sensor's own pulses tell, in words. Instants count from the run's first reading. */

/** Among so many times more false pulses it cannot be told whether any was missed, nor the other way round. */
const outweighed = 3;
/** Share of all pulses from which on wrong ones make the rate doubtful. */
const spoilingShare = 0.005;
/** What goes on has happened within so many turns, and seconds. */
const freshTurns = 2;
const freshSeconds = 4;
const mostShown = 64;
/** A false pulse so soon after a true one is chatter that a longer debounce would take out, seconds. */
const chatterSeconds = 0.015;

/** Pulses missed and pulses doubled, each at most once; of the two only what is beyond doubt beside the other. */
export function senseFindings(state: WheelSense): Finding[] {
  const { missed, doubled } = state.accounts[0]!;
  const surely = chattersSurely(state);
  const found = [
    missed > (surely ? doubled * outweighed : doubled / outweighed) ? missedFinding(state) : null,
    surely || doubled > missed / outweighed ? doubledFinding(state) : null,
  ];
  return found.filter((finding) => finding !== null);
}

const chattersSurely = ({ chatter }: WheelSense) => chatter !== null && chatter.times >= chatterEnough;

function missedFinding(state: WheelSense): Finding | null {
  const account = state.accounts[0]!;
  const proof = evidence(state.accounts, 'missed');
  const { missed: picture } = state;
  if (picture === null || account.missed === 0 || proof < keeping) return null;
  const count = countOf(state.accounts, 'missed');
  const pulses = pulsesOf(state);
  const place = placesOf(account.magnets.timesMissing);
  const where =
    place === 0
      ? 'at no fixed place of the turn. Look at the gap between sensor and magnets, at its plug and at its cable'
      : `always at the same ${place === 1 ? 'place' : `${place} places`} of the turn. Look for a magnet that is missing, loose or the wrong way round`;
  const sentence =
    `The wheel sensor missed about ${numbered(count)} of ${pulses} pulses, ${where}. ` +
    `${effect(state, account)} Then repeat the run.`;
  return {
    kind: 'pulses-missed',
    cell: null,
    from: account.firstMissed!,
    until: endOf(state, account.newestMissed!),
    sure: sureness(proof),
    spoils: count.mean > spoilingShare * pulses,
    evidence: place === 0 ? intervals(picture) : byMagnet(account.magnets.timesMissing),
    sentence,
  };
}

function doubledFinding(state: WheelSense): Finding | null {
  const account = state.accounts[0]!;
  const proof = evidence(state.accounts, 'doubled');
  const told = state.doubled !== null && account.doubled > 0 && proof >= keeping;
  const chatters = chattersSurely(state);
  if (!told && !chatters) return null;
  const { chatter } = state;
  const least = chatter?.times ?? 0;
  const counted = told ? countOf(state.accounts, 'doubled') : { mean: least, deviation: least };
  const pulses = pulsesOf(state);
  const place = placesOf(account.magnets.timesDoubled);
  const sentence =
    `The wheel sensor gave about ${numbered(counted)} false pulses among ${pulses}${whereFalse(account, place)}. ` +
    `${effect(state, account)} Then repeat the run.`;
  return {
    kind: 'pulses-doubled',
    cell: null,
    from: told ? account.firstDoubled! : chatter!.first,
    until: endOf(state, told ? account.newestDoubled! : chatter!.newest),
    sure: chatters ? 0.9999 : sureness(proof),
    spoils: counted.mean > spoilingShare * pulses,
    evidence: place > 0 ? byMagnet(account.magnets.timesDoubled) : intervals(state.doubled ?? state.recent),
    sentence,
  };
}

function whereFalse({ falseDelay }: Account, place: number): string {
  if (place > 0) {
    return ', always at the same place of the turn. Look for a cracked magnet or one too many';
  }
  if (falseDelay > 0 && falseDelay < chatterSeconds) {
    const debounce = Math.max(1, Math.ceil(falseDelay * 1500));
    return `, mostly within ${debounce} ms of a true one. Set the debounce time of the board longer, mend a loose plug or sensor, and keep its cable away from the motor's`;
  }
  return ', at no fixed place of the turn. Look at the plug, the cable and the sensor for something loose';
}

const pulsesOf = ({ reader }: WheelSense) => Math.max(1, reader.forward + reader.backward);

/** What all wrong pulses together do to the turns and to the rate. */
function effect({ pulsesPerTurn, reader }: WheelSense, { missed, doubled, falseBackward }: Account): string {
  const wrong = missed - doubled + 2 * falseBackward;
  const turns = Math.abs(wrong / pulsesPerTurn).toFixed(2);
  const percent = ((100 * Math.abs(wrong)) / Math.max(1, reader.forward - reader.backward)).toFixed(1);
  if (wrong === 0) return 'In sum the turns are still counted right.';
  return wrong > 0
    ? `So the wheel made about ${turns} turns more than were counted, and the rate shown is about ${percent} % too high.`
    : `So the wheel made about ${turns} turns fewer than were counted, and the rate shown is about ${percent} % too low.`;
}

function numbered({ mean, deviation }: { mean: number; deviation: number }): string {
  return `${Math.round(mean)} (± ${Math.max(1, Math.ceil(2 * deviation))})`;
}

function endOf(state: WheelSense, newest: Instant): Instant | null {
  const turns = (state.reader.forward - state.reader.backward) / state.pulsesPerTurn;
  const past = turns - newest.turns > freshTurns && state.reader.micros / 1e6 - newest.seconds > freshSeconds;
  return past ? newest : null;
}

const sureness = (proof: number): number => Math.max(0.5, Math.min(0.9999, 1 - Math.exp(2 - proof)));

function intervals({ turns, shares }: Picture): Evidence {
  const ends = [turns[0] ?? 0, turns.at(-1) ?? 0];
  return {
    x: 'turns',
    y: 'share-of-usual',
    series: [
      { role: 'seen', x: turns, y: shares },
      { role: 'expected', x: ends, y: [1, 1] },
    ],
  };
}

/** Where in the turn it happens: each place's share of all. */
function byMagnet(times: number[]): Evidence {
  const all = times.reduce((sum, count) => sum + count, 0);
  const shown = times.slice(0, mostShown);
  return {
    x: 'pulse-in-turn',
    y: 'share-of-usual',
    series: [
      { role: 'seen', x: shown.map((_, place) => place), y: shown.map((count) => count / all) },
      { role: 'expected', x: [0, shown.length - 1], y: [1 / times.length, 1 / times.length] },
    ],
  };
}
