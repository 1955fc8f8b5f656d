import { beforeAll, describe, expect, it } from 'vitest';
import type { FindingKind } from '../../server/domain/trace/finding.ts';
import { bundled, whole } from './bundled.ts';
import type { Kind, Outcome } from './wheel-campaign.ts';

/**
 * The wheel sensor and the clock against themselves, on seeded runs of the imagined drill over an ideal board: 4 to 60 magnets, 10
 * to 80 turns a minute, by motor and by hand, evenly and not. Whole with CATCHBENCH_WHOLE=1: 2 000 sound runs, 100 of each fault.
 */
const runs = whole ? { sound: 2000, alike: 100, fault: 100 } : { sound: 120, alike: 12, fault: 24 };

type Campaign = typeof import('./wheel-campaign.ts');
let campaign: Campaign;
beforeAll(async () => {
  campaign = await bundled<Campaign>(new URL('wheel-campaign.ts', import.meta.url));
});

/** What is told of a flow or a frame that does swing is no false alarm. */
const isFalse = (kind: FindingKind, { pulsating, rocking }: Outcome) =>
  !(kind === 'pulse-per-flute' && pulsating) && !(kind === 'pulse-per-turn' && rocking);

const falseAlarms = (outcomes: Outcome[]) =>
  outcomes.filter((outcome) => outcome.kinds.some((kind) => isFalse(kind, outcome)));

/** The fault was named in time: within 1.5 turns or 2 s of the first wrong pulse or time. */
const inTime = ({ late }: Outcome) => late !== null && (late.turns <= 1.5 || late.seconds <= 2);
const namedRightly = ({ kinds }: Outcome, wanted: FindingKind) =>
  kinds.includes(wanted) && kinds.every((kind) => kind === wanted || kind.startsWith('pulse-per'));

/** With fewer magnets than these, a turn and a half is too few pulses to tell. */
const enoughMagnets = 14;

function row(name: string, outcomes: Outcome[]): string {
  const tally = new Map<string, number>();
  for (const { kinds } of outcomes) {
    const told = kinds.filter((kind) => !kind.startsWith('pulse-per')).join(' + ') || 'none';
    tally.set(told, (tally.get(told) ?? 0) + 1);
  }
  return `${name}: ${[...tally].map(([told, count]) => `${told} ${count}`).join(', ')}`;
}

const timeout = 900_000;

describe('a wheel sensor and a clock with nothing wrong', () => {
  it('give no finding, however the wheel is turned and whatever lines are lost', { timeout }, () => {
    const outcomes = campaign.wheelCampaign(campaign.sound, runs.sound);
    const alarms = falseAlarms(outcomes);
    const swings = outcomes.filter(({ kinds }) => kinds.length > 0).length - alarms.length;
    console.info(`${row('sound', outcomes)}; false alarms ${alarms.length}; true swings told ${swings}`);
    expect(alarms.length / outcomes.length).toBeLessThan(1 / 400);
  });

  it('are not blamed for a jam, a magnet off its place or very uneven turning', { timeout }, () => {
    for (const kind of campaign.alike) {
      const outcomes = campaign.wheelCampaign(kind, runs.alike);
      console.info(row(kind.name, outcomes));
      expect(falseAlarms(outcomes).length, kind.name).toBeLessThanOrEqual(0.02 * outcomes.length);
    }
  });
});

function judge(kind: Kind): { named: number; soon: number; fewSoon: number; harmed: number } {
  const harmed = campaign.wheelCampaign(kind, runs.fault).filter(({ harmed }) => harmed);
  const named = harmed.filter((outcome) => namedRightly(outcome, kind.wanted!)).length;
  const many = harmed.filter(({ pulsesPerTurn }) => pulsesPerTurn >= enoughMagnets);
  const few = harmed.filter(({ pulsesPerTurn }) => pulsesPerTurn < enoughMagnets);
  const soon = many.filter(inTime).length / Math.max(1, many.length);
  const fewSoon = few.filter(inTime).length;
  console.info(
    `${row(kind.name, harmed)}; in time ${(100 * soon).toFixed(0)} % of ${many.length} with ${enoughMagnets} magnets or more, ` +
      `${fewSoon} of ${few.length} with fewer`,
  );
  return {
    named: named / harmed.length,
    soon,
    fewSoon: fewSoon / Math.max(1, few.length),
    harmed: harmed.length,
  };
}

describe('a wheel sensor with a fault', () => {
  it('is found out, named rightly, and in time', { timeout }, () => {
    for (const kind of campaign.sensorFaults) {
      const { named, soon, harmed } = judge(kind);
      expect(harmed, kind.name).toBeGreaterThan(runs.fault / 2);
      expect(named, kind.name).toBeGreaterThanOrEqual(0.95);
      expect(soon, kind.name).toBeGreaterThanOrEqual(0.95);
    }
  });
});

describe('a clock with a fault', () => {
  it('is found out, named rightly, and in time', { timeout }, () => {
    for (const kind of campaign.clockFaults) {
      const { named, soon, fewSoon, harmed } = judge(kind);
      expect(harmed, kind.name).toBe(runs.fault);
      expect(named, kind.name).toBeGreaterThanOrEqual(0.95);
      expect(Math.min(soon, fewSoon), kind.name).toBeGreaterThanOrEqual(0.95);
    }
  });
});
