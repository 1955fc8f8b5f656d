export const phases = {
  idle: 'Standing by',
  taring: 'Taring',
  ready: 'Ready',
  turning: 'Turning',
  settling: 'Settling',
  finished: 'Finished',
} as const;

export const outcomes = {
  complete: 'Done',
  stopped: 'Stopped',
  'stop-button': 'Stop button',
  'host-silent': 'Stopped by the board',
  reversed: 'Ran backwards',
  stalled: 'Wheel stalled',
  expired: 'Not started in time',
  refused: 'Refused',
  'link-lost': 'Stand lost',
  'board-reset': 'Board restarted',
  aborted: 'Thrown away',
  interrupted: 'Interrupted',
} as const;

export const conditions = {
  searching: 'No stand',
  opening: 'Opening',
  asking: 'Asking who is there',
  connected: 'Stand connected',
  silent: 'Stand silent',
  lost: 'Stand lost',
  'wrong-device': 'Not a stand',
  'wrong-version': 'Wrong version',
} as const;

export const acts = { arm: 'Get ready', start: 'Start', stop: 'Stop', abort: 'Throw away' } as const;

export const hints = {
  'no-page': 'No word from Catchbench. If anything turns, use the stop button wired to the stand.',
  connect: 'Next: connect the stand.',
  'save-plan': 'Next: save the plan. It has changes that a run would not use yet.',
  arm: 'Next: hang the empty bag, then get ready. The stand tares itself.',
  'arm-again': 'Next: empty the bag, change the setting if need be, then get ready again.',
  'use-setting':
    'Next: use the setting shown above, set the lever, empty the bag. Or get ready again as it is.',
  taring: 'Wait: taring. Leave the bag alone.',
  'start-motor': 'Next: everyone clear of the wheel? Then start.',
  'start-hand': 'Next: start, then turn the wheel.',
  'turning-motor': 'The stand stops by itself at the count.',
  'turning-hand': 'Keep turning evenly. The lamp blinks before the last turn and stays on at the end.',
  'no-stand': 'The stand does not answer. If the wheel turns, use the stop button wired to it.',
  settling: 'Wait: the last seed falls and the bag comes to rest. Leave it alone.',
} as const;

export const verdicts = {
  right: 'The setting is right: the whole 95 % interval lies within the tolerance.',
  high: 'Too much seed: set the drill to give less.',
  low: 'Too little seed: set the drill to give more.',
  open: 'Too close to call: the doubt reaches across the edge of the tolerance. More turns or another run would tell.',
} as const;

export const verdictWords = {
  right: 'Within tolerance',
  high: 'Too much',
  low: 'Too little',
  open: 'Undecided',
} as const;
