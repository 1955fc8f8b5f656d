import type { Finding } from '../src/state/evidence-plot.ts';

type Axis = Finding['evidence']['x'] | Finding['evidence']['y'];

/** English for what the trace of a run shows, and for the offer to end a run early. */
export const findings = {
  title: 'What the trace shows',
  kinds: {
    'flow-stopped': 'Nothing falls',
    'tube-blocked': 'Tube blocked',
    leak: 'Seed falls while the wheel stands',
    'bag-knocked': 'Bag knocked',
    'bag-leaned-on': 'Bag leaned on',
    'bag-touching': 'Bag touches something',
    'flow-drifts': 'Flow creeps up or down',
    'cell-dead': 'Load cell dead',
    'scale-noisy': 'Scale shakes',
    'pulse-per-turn': 'Flow swells once a turn',
    'pulse-per-flute': 'Flow swells with each flute or cell',
    'pulses-missed': 'Wheel sensor misses pulses',
    'pulses-doubled': 'Wheel sensor sees pulses twice',
    'wheel-reversed': 'Wheel rolled back',
    'clock-trouble': 'Times do not fit',
  } satisfies Record<Finding['kind'], string>,
  spoils: 'Spoils this run',
  harmless: 'Worth knowing',
  bag: (number: number) => `bag ${number}`,
  when: (from: string, until: string) => (from === until ? `at turn ${from}` : `turns ${from} to ${until}`),
  since: (from: string) => `from turn ${from} on`,
  sure: (percent: string) => `${percent} % sure`,
  picture: {
    axes: {
      turns: 'turns',
      seconds: 'seconds',
      'cycles-per-turn': 'swells a turn',
      'pulse-in-turn': 'pulse within the turn',
      grams: 'grams',
      'grams-per-turn': 'grams a turn',
      'grams-per-second': 'grams a second',
      'share-of-usual': 'share of the usual',
      milliseconds: 'milliseconds',
      strength: 'strength',
    } satisfies Record<Axis, string>,
    roles: { seen: 'seen', expected: 'expected', limit: 'limit' },
    label: (up: string, across: string) =>
      `Small chart of ${up} against ${across}: what was seen beside what was expected.`,
  },
};

export const offer = {
  chance: (percent: string) => `Chance to end within tolerance: ${percent} %.`,
  stopAndUse: (mark: string) => `Stop now and set ${mark}`,
  stopAndStay: (mark: string) => `Stop now, stay at ${mark}`,
};
