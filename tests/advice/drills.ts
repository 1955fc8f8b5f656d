import { type RandomStream, randomStreams } from '../../firmware-sim/drill/random.ts';
import { type Meter, settingCurve } from '../../firmware-sim/drill/scenario.ts';

/**
 * Imagined drills for judging advice: each with its own true curve, play and noise, of which the advice knows nothing. Curve and random
 * numbers are those of the imagined drill (firmware-sim/drill); rates are g/m², settings are marks.
 */

/** How wild the drills are. Pairs are the ends of uniform draws, or of log-uniform ones where said. */
export interface World {
  /** g/m² per mark, log-uniform. */
  perMark: [number, number];
  /** Shape of the draws of offset and bend about 0: most near it and few far (normal), or all alike up to a wall (uniform). */
  shape: 'normal' | 'uniform';
  /** Standard deviation of the offset, as a fraction of slope times the right setting. */
  offset: number;
  /** Standard deviation of what the bend adds at the right setting, as a fraction of slope times that setting. */
  bend: number;
  /** Lever play in steps, standard, log-uniform. */
  leverPlay: [number, number];
  /** From run to run, relative, log-uniform. */
  repeatability: [number, number];
  /** Seed sampling of a stand run of the planned turns, relative, log-uniform. */
  sampling: [number, number];
  /** The right setting, as a share of the scale. */
  right: [number, number];
  /** The first guess is off by up to this factor either way, log-uniform. */
  guess: number;
  /** Relative error of wheel, spacing and scale together, standard: the same in all runs. */
  common: number;
  /** What its user takes repeatability and lever play (in steps) to be, for all drills alike. */
  stated: { repeatability: number; leverPlay: number };
}

/**
 * Ranges by published figures where there are any: evenness of flow 0.3 to 5.5 % from run to run for barley, vetch and their mixes (Yazgi
 * et al., PeerJ 13:e19014, 2025; Appl. Eng. Agric. 33(1):63-71, 2017), seed sampling included. Here 0.4 to 2 % besides 0.3 to 1.2 % of
 * sampling. The rest: common practice, no source.
 */
export const ordinaryWorld: World = {
  perMark: [0.05, 0.8],
  shape: 'normal',
  offset: 0.15,
  bend: 0.06,
  leverPlay: [0.05, 0.4],
  repeatability: [0.004, 0.02],
  sampling: [0.003, 0.012],
  right: [0.25, 0.65],
  guess: 2,
  common: 0.003,
  stated: { repeatability: 0.009, leverPlay: 0.2 },
};

/** The same, but offset and bend drawn evenly up to a wall: what the advice takes for a bell is none. */
export const evenWorld: World = { ...ordinaryWorld, shape: 'uniform' };

/** Awkward seed in worn drills: twice the offset and bend, 1 to 4 % from run to run, a loose lever. Beyond what the advice expects. */
export const roughWorld: World = {
  ...ordinaryWorld,
  offset: 0.3,
  bend: 0.12,
  leverPlay: [0.1, 0.8],
  repeatability: [0.01, 0.04],
  stated: { repeatability: 0.02, leverPlay: 0.35 },
};

/** The same rough drills in the hands of someone who takes them for ordinary ones. */
export const flatteredWorld: World = { ...roughWorld, stated: ordinaryWorld.stated };

/** Scales that drills have: marks from 0 to `high`, in steps. */
const scales = [
  { high: 100, step: 1 },
  { high: 100, step: 0.5 },
  { high: 60, step: 0.5 },
  { high: 50, step: 0.25 },
  { high: 120, step: 1 },
] as const;

export interface ImaginedDrill {
  index: number;
  high: number;
  step: number;
  meter: Meter;
  /** Relative error that all its rates share: true rate = (1 + common) x the rate of the curve. */
  common: number;
  sampling: number;
  /** g/m²: what the drill truly gives at some setting about the middle of its scale. */
  target: number;
  firstGuess: number;
  stated: World['stated'];
  random: RandomStream;
}

const between = (random: RandomStream, [low, high]: readonly [number, number]) =>
  low + (high - low) * random.uniform();
const logBetween = (random: RandomStream, [low, high]: readonly [number, number]) =>
  Math.exp(between(random, [Math.log(low), Math.log(high)]));

/** A draw about 0 with standard deviation `spread`. */
const aboutZero = (random: RandomStream, shape: World['shape'], spread: number) =>
  spread * (shape === 'normal' ? random.normal() : Math.sqrt(3) * (2 * random.uniform() - 1));

/** Offset and bend of a drill, both as fractions of slope times right setting; together they leave it at least a third of its rate. */
function imagineShape(random: RandomStream, world: World): { offset: number; bend: number } {
  for (;;) {
    const offset = aboutZero(random, world.shape, world.offset);
    const bend = aboutZero(random, world.shape, world.bend);
    if (1 + offset + bend > 1 / 3) return { offset, bend };
  }
}

/** Drill number `index` of a campaign; the same seed and index give the same drill. */
export function imagineDrill(world: World, seed: string, index: number): ImaginedDrill {
  const random = randomStreams(`${seed} ${index}`)('drill');
  const { high, step } = scales[Math.floor(random.uniform() * scales.length)]!;
  const right = high * between(random, world.right);
  const perMark = logBetween(random, world.perMark);
  const { offset, bend } = imagineShape(random, world);
  const meter: Meter = {
    setting: 0,
    offsetGrams: offset * perMark * right,
    gramsPerMark: perMark,
    bendGramsPerMarkSquared: (bend * perMark) / right,
    leverPlayMarks: step * logBetween(random, world.leverPlay),
    repeatability: logBetween(random, world.repeatability),
    flutesPerTurn: 0,
    pulsationDepth: 0,
    packing: 1,
    speedEffect: 0,
    referenceTurnsPerMinute: 20,
  };
  const common = world.common * random.normal();
  const guess = right * world.guess ** between(random, [-1, 1]);
  const firstGuess = Math.min(high, Math.max(step, step * Math.round(guess / step)));
  const target = settingCurve(meter, right) * (1 + common);
  const sampling = logBetween(random, world.sampling);
  return { index, high, step, meter, common, sampling, target, firstGuess, stated: world.stated, random };
}

/** The lever of a drill: where it really stands. */
export class LeverAtWork {
  readonly drill: ImaginedDrill;
  private standsAt = 0;

  constructor(drill: ImaginedDrill) {
    this.drill = drill;
  }

  /** Sets the lever to a mark, with its play. */
  moveTo(setting: number): void {
    this.standsAt = setting + this.drill.meter.leverPlayMarks * this.drill.random.normal();
  }

  /** What the drill would give in the field as it stands, in the long run. g/m². */
  trueRate(): number {
    return settingCurve(this.drill.meter, this.standsAt) * (1 + this.drill.common);
  }

  /** Rate by one run on the stand: seed sampling grows as the rate falls; weighing is a small part. */
  standRun(): { rate: number; ownDoubt: number } {
    const { drill } = this;
    const curve = settingCurve(drill.meter, this.standsAt);
    const delivered = curve * Math.max(0, 1 + drill.meter.repeatability * drill.random.normal());
    const ownDoubt = drill.sampling * Math.sqrt(drill.target / Math.max(delivered, 0.05 * drill.target));
    return { rate: Math.max(0, delivered * (1 + ownDoubt * drill.random.normal())), ownDoubt };
  }

  /**
   * Rate by a kitchen scale and counted turns: 25 turns and about 86 g, weighed to whole grams; one run in twenty has a turn too many or
   * too few; the wheel stops within a twentieth of a turn. Common practice, no source.
   */
  handRun(): number {
    const { random } = this.drill;
    const { rate } = this.standRun();
    const miscount = random.uniform() < 0.05 ? Math.sign(random.uniform() - 0.5) : 0;
    const turns = 25 + miscount + 0.05 * random.normal();
    const grams = (rate / this.drill.target) * 86 * (turns / 25);
    return (Math.round(grams) / 86) * this.drill.target;
  }
}

/** True rate at a mark when the lever is set to it once more, without a drill's lever being touched. */
export function rateAtMark(drill: ImaginedDrill, setting: number): number {
  const stands = setting + drill.meter.leverPlayMarks * drill.random.normal();
  return settingCurve(drill.meter, stands) * (1 + drill.common);
}
