export const live = {
  stopKeys: 'Esc or space',
  catch: 'Catch',
  targetCatch: 'Target catch',
  grams: 'g',
  target: 'target {grams} g',
  right: 'right from {low} to {high} g',
  turns: 'Turns',
  ofTurns: 'of {preset}',
  toGo: 'to go',
  allTurned: 'All turned',
  backward: '{turns} turns ran backwards',
  rate: 'Rate',
  interval: '95 %: {low} to {high}',
  noRate: 'Comes with the first turns',
  rateBand: 'wanted {low} to {high} {unit}',
  speed: 'Wheel speed',
  perMinute: 'turns a minute',
  stands: 'stands for {speed}',
  planned: 'planned {speed}',
  targetRange: 'target {grams} ({low} to {high} g)',
  forecast: 'will end at {grams} ± {half} g',
  speedNow: { slow: '▼ too slow', fast: '▲ too fast' },
  kept: 'kept for {percent, number} %',
  shareOnPlan: '{percent, number} % of turns at the planned speed',
  chart: 'Catch against turns',
  chartNow: 'Line chart of the catch against turns. Latest: {grams} g at {turns} turns.',
  chartEmpty: 'Line chart of the catch against turns. Nothing caught yet.',
  chartBand: 'within tolerance',
  gramsAxis: 'Grams',
  motorOn: 'Motor on',
  motorOff: 'Motor off',
  lost: '{count, plural, one {# reading was lost; the totals make good for it.} other {# readings were lost; the totals make good for them.}}',
  none: '–',
} as const;

export const throwAway = {
  ask: 'Throw this run away? It stays on record, marked so.',
  yes: 'Yes, throw away',
  no: 'Keep',
} as const;

export const caution = {
  title: 'Before the wheel turns',
  motor: [
    'Drill on stands, other wheels chocked, power and drive line secured.',
    'Nobody near the wheel, chains or metering shafts; loose clothing away.',
    'The stop button wired to the stand is the safety device. This page is not: a page can hang.',
  ],
  hand: ['Drill on stands, other wheels chocked.', 'Fingers clear of chains, gears and metering shafts.'],
  more: 'Follow the drill’s manual and the rules of your workplace. Treated seed: follow its label.',
} as const;

export const result = {
  title: 'Result',
  titleAt: 'Result at setting {setting}',
  doubt: 'Where the doubt comes from',
  doubtIntro:
    'What each part alone would leave unsure, as a share of the rate (one standard uncertainty). The largest is where care pays.',
  common: 'same in every run on this drill',
  largest: 'largest',
  parts: {
    weighing: 'Weighing',
    scale: 'The scale itself',
    turns: 'Counting turns',
    circumference: 'Wheel circumference',
    'row-spacing': 'Row spacing',
    slip: 'Wheel slip',
    'seed-sampling': 'Seeds come in lumps',
    repeatability: 'One run to the next',
  },
  percent: '{share} %',
  caught: '{grams} g in {turns} turns',
} as const;

export const strip = {
  title: 'Plan',
  next: 'Next run',
  now: 'This run',
  was: 'This run’s plan',
  setting: 'setting {setting}',
  noSetting: 'no setting noted',
  turns: { motor: '{turns} turns by motor', hand: '{turns} turns by hand' },
  target: '{rate} ± {tolerance} %',
  change: 'Change the plan',
} as const;

export const runs = {
  title: 'Runs so far',
  none: 'No runs yet.',
  loading: 'Reading the records …',
  columns: { when: 'When', setting: 'Setting', caught: 'Caught', rate: 'Rate', outcome: 'Outcome' },
  demo: 'demo',
  open: 'Run of {when}',
  back: 'All runs',
  missing: 'This run is not on record.',
  unclosed: 'not closed',
} as const;
