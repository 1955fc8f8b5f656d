import type { Reading } from '../link/readings.ts';
import { placeShare, pulsesBeside, wheelTurns } from './limits.ts';
import {
  type Figure,
  figure,
  grave,
  judged,
  type Remark,
  remark,
  type StandKnown,
  type StepLogic,
} from './types.ts';
import { noPulses, type Pulses, type WheelPattern, wheelPattern, withPulses } from './wheel-pattern.ts';

/** Three turns by hand, from mark to mark: every magnet seen once a turn, and the direction told. */

export interface WheelWork {
  watching: boolean;
  /** The person says that the wheel has been turned; a reading of it at rest is still to come. */
  turned: boolean;
  /** Board time of the first reading after that. */
  turnedMicros: number | null;
  first: Reading | null;
  last: Reading | null;
  pulses: Pulses;
  bouncedAtFirst: number | null;
  bounced: number | null;
}

type Way = 'forward' | 'back';

const idle: WheelWork = {
  watching: false,
  turned: false,
  turnedMicros: null,
  first: null,
  last: null,
  pulses: noPulses(0),
  bouncedAtFirst: null,
  bounced: null,
};

const totalOf = (reading: Reading, way: Way): number =>
  way === 'forward' ? reading.forwardPulses : reading.backwardPulses;

function countsOf({ first, last }: WheelWork, way: Way): { right: number; wrong: number } {
  if (first === null || last === null) return { right: 0, wrong: 0 };
  const other: Way = way === 'forward' ? 'back' : 'forward';
  return {
    right: totalOf(last, way) - totalOf(first, way),
    wrong: totalOf(last, other) - totalOf(first, other),
  };
}

function withReading(work: WheelWork, reading: Reading, way: Way): WheelWork {
  const first = work.first ?? reading;
  const pulses =
    work.first === null
      ? noPulses(totalOf(reading, way))
      : withPulses(work.pulses, reading, totalOf(reading, way));
  const turnedMicros = work.turned ? (work.turnedMicros ?? reading.boardMicros) : null;
  return { ...work, first, last: reading, pulses, turnedMicros };
}

/** Beyond so many magnets it is not the magnets. */
const mostNamed = 4;

/** What the pattern shows, each with its place counted from the first pulse. */
function patternRemarks(pattern: WheelPattern | null): Remark[] {
  if (pattern === null) return [];
  const { missingAfter, doubledAt, worstPlace } = pattern;
  if (doubledAt.length > mostNamed) return [grave('pulses-doubled')];
  if (missingAfter.length > mostNamed) return [grave('pulses-missed')];
  const remarks = [
    ...missingAfter.map((at) => grave('magnet-missing', { place: at + 1 })),
    ...doubledAt.map((at) => grave('magnet-doubled', { place: at + 1 })),
  ];
  if (worstPlace > placeShare)
    remarks.push(remark('magnet-off-place', { percent: Math.round(100 * worstPlace) }));
  return remarks;
}

function countRemarks(right: number, wrong: number, way: Way, { identity }: StandKnown): Remark[] {
  const expected = wheelTurns * identity.pulsesPerTurn;
  if (right + wrong === 0) return [grave('no-pulses')];
  if (wrong > right)
    return [grave(identity.direction === 0 ? 'direction-missing' : 'direction-wrong', { way })];
  const remarks: Remark[] = [];
  if (wrong > pulsesBeside) remarks.push(grave('both-ways', { wrong }));
  if (Math.abs(right - expected) > pulsesBeside) {
    remarks.push(
      grave('pulses-differ', {
        counted: right,
        expected,
        perTurn: Math.round((10 * right) / wheelTurns) / 10,
      }),
    );
  }
  return remarks;
}

function resultOf(work: WheelWork, way: Way, known: StandKnown) {
  const { right, wrong } = countsOf(work, way);
  const pattern = wheelPattern(work.pulses.times, wheelTurns);
  const bounced =
    work.bounced === null || work.bouncedAtFirst === null ? null : work.bounced - work.bouncedAtFirst;
  const remarks = [...countRemarks(right, wrong, way, known), ...patternRemarks(pattern)];
  if (bounced !== null && bounced > right) remarks.push(remark('bounce-much', { bounced }));
  const figures: Figure[] = [
    figure('counted', right),
    figure('expected', wheelTurns * known.identity.pulsesPerTurn),
    figure('other-way', wrong),
  ];
  if (pattern !== null) {
    figures.push(
      figure('magnets-seen', pattern.perTurn + pattern.missingAfter.length - pattern.doubledAt.length),
    );
    figures.push(figure('worst-place', 100 * pattern.worstPlace, '%'));
    figures.push(figure('shortest-interval', pattern.shortestMicros / 1000, 'ms'));
  }
  if (bounced !== null) figures.push(figure('bounced', bounced));
  return judged(figures, remarks);
}

/** Readings come late through a busy computer: one that saw no pulse for so long has them all. */
const restMicros = 500_000;
/** Readings from before the turning may still be on their way; without a pulse for so long there is none. */
const noPulseMicros = 2_000_000;

/** Whether the newest reading is one of the wheel at rest after the turning. */
function isAtRest(work: WheelWork, way: Way): boolean {
  const { last, turnedMicros } = work;
  if (last === null || turnedMicros === null) return false;
  const { right, wrong } = countsOf(work, way);
  if (right + wrong === 0) return last.boardMicros - turnedMicros >= noPulseMicros;
  return last.pulseAgeMicros === null || last.pulseAgeMicros >= restMicros;
}

function wheelStep(way: Way): StepLogic<WheelWork> {
  return {
    begin: () => idle,
    take(work, input, known) {
      if (input.type === 'reading' && work.watching) {
        const read = withReading(work, input.reading, way);
        return isAtRest(read, way) ? { work: read, result: resultOf(read, way, known) } : { work: read };
      }
      if (input.type === 'health' && work.watching) {
        const bounced = input.health.figures.bounced ?? 0;
        return { work: { ...work, bounced, bouncedAtFirst: work.bouncedAtFirst ?? bounced } };
      }
      if (input.type !== 'act' || input.act.do !== 'go') return { work };
      if (!work.watching) return { work: { ...idle, watching: true }, send: [{ command: 'health' }] };
      return { work: { ...work, turned: true } };
    },
    ask: (work) => ({
      code: work.turned ? 'wheel-at-rest' : work.watching ? `turn-${way}` : `wheel-${way}`,
      values: { turns: wheelTurns },
      acts: work.turned ? [] : ['go'],
    }),
    live: (work) => {
      const { right, wrong } = countsOf(work, way);
      return work.watching ? [figure('counted', right), figure('other-way', wrong)] : [];
    },
  };
}

export const wheelForwardStep = wheelStep('forward');
export const wheelBackStep = wheelStep('back');
