export const page = {
  name: 'Catchbench',
  skip: 'Skip to the run',
  demo: 'Demo',
  menu: 'Places',
  loading: 'One moment …',
  notLoaded: 'This place could not be fetched. Is Catchbench still running?',
  again: 'Try again',
  demoNote: 'An imagined stand and drill: nothing real turns.',
} as const;

export const places = {
  run: 'Run',
  setting: 'Setting',
  plan: 'Plan',
  stand: 'Stand',
  field: 'Field',
  runs: 'Records',
  sheet: 'Sheet',
  preferences: 'Preferences',
} as const;

export const units = { choose: 'Units', metric: 'kg/ha', us: 'lb/ac', turns: 'turns' } as const;

export const problem = {
  unreachable: 'Catchbench does not answer. Is it still running?',
  unreachableStop:
    'Stop did not get through: Catchbench does not answer. Use the stop button wired to the stand.',
  unknown: 'Catchbench refused without saying why (status {status, number}).',
  close: 'Close',
} as const;

export const age = {
  never: 'not heard yet',
  heard: 'last heard {ago} ago',
  seconds: '{seconds, number} s',
  minutes: '{minutes, number} min',
} as const;

export const socket = {
  connecting: 'Reaching Catchbench …',
  lostWord: 'No connection',
  lost: 'This page does not reach Catchbench: its program may have ended, or the network is out.',
  lostTurning:
    'This page does not reach Catchbench, and the wheel may be turning. To stop it use the stop button wired to the stand.',
  notSetUp: 'Stand not set up',
  waiting: 'Next try in {seconds, number} s.',
  trying: 'Trying …',
  tryNow: 'Try now',
  old: 'Old figures: {age}.',
} as const;
