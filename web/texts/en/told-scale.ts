/** What the weighings of a scale check tell, and what is asked of whoever makes it. */
export const scale = {
  readsTooMuch:
    '{what} reads {grams} too much: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
  readsTooLittle:
    '{what} reads {grams} too little: is it the right mass, and does nothing touch? Weigh it again, or leave it out.',
  noLine: 'The weighings lie on no line. One of these is wrong: {which}. Weigh one more mass to see which.',
  scatter:
    'The weighings scatter too far about a line: most of all {what}, by {grams}. Look for something loose or touching, let it hang still, and start again.',
  tooLight: 'The masses are too light for the noise of this scale: its slope stays uncertain by {share}.',
  weighUpTo: 'Weigh up to about {grams}, more often, or calm the scale first.',
  twoNamed: 'Two check masses are called {name}: give each a name.',
  onlyOnce: 'A check mass can lie on the scale only once at a time.',
  noneNamed: 'No check mass is called {name}.',
  noneNamedHere: 'No check mass of this check is called {name}.',
  weighEmpty: 'Weigh the empty scale too: without a zero there is no line.',
  secondMass:
    'One check mass and zero always fit a line, right or wrong: weigh a second, different mass, better five.',
  countsRise:
    'The counts rise as the load grows: the cell is the other way up or two of its wires are swapped. Mend it, or say that it is meant so.',
  countsFall:
    'The counts fall as the load grows: the cell is the other way up or two of its wires are swapped. Mend it, or say that it is meant so.',
  noMore:
    'With {more} the scale shows no more than with {less}. Check which mass is which, and that nothing touches.',
  noClass:
    'Classes of weights go by 1, 2 and 5, from 1 g to 5 kg: for {grams} state the mass and its doubt instead.',
  fewMasses: 'Only {count} different loads: five show a wrong mass or a bend far more surely.',
  noReturn: 'No weighing on the way down: whether the scale comes back the way it went stays unknown.',
  spanBelowUse:
    'Loads up to {heaviest} are to be weighed, but the masses reach only to {span}: beyond them the line is a guess.',
  hysteresisMore:
    'At {load} the scale shows {grams} more coming down than going up: look for friction, a bag or cable that touches, a loose screw.',
  hysteresisLess:
    'At {load} the scale shows {grams} less coming down than going up: look for friction, a bag or cable that touches, a loose screw.',
  zeroHigher: 'The empty scale came back {grams} higher: it drifts, creeps or sticks.',
  zeroLower: 'The empty scale came back {grams} lower: it drifts, creeps or sticks.',
  bends:
    'The scale bends: a curve leaves the line by {grams}, and the weighings scatter by only {scatter} about it. Calibrate over the loads you weigh.',
  creeps:
    'At {load} the reading still moved by {grams} while it was averaged: wait longer, or the cell creeps.',
  oddMuch: 'Of all masses {what} fits the others worst: it reads {grams} too much. Is it the right one?',
  oddLittle: 'Of all masses {what} fits the others worst: it reads {grams} too little. Is it the right one?',
  slopeNotZero: 'The slope of the scale must not be 0.',
  valuesMissing:
    '{share} of the readings came without a value: check the cell’s plug and the converter’s supply.',
  clipped:
    '{share} of the readings are at the end of the converter’s range: too much load, or a broken wire.',
  slow: '{rate} readings a second instead of {wanted}: check the converter’s rate strap and the line.',
  gap: 'No reading came for {seconds}: check the cable between board and computer.',
  stuck: 'Every reading is the same: the converter or the cell is dead, for a live one always trembles.',
  coarse: 'The readings take only a few different values: the converter does not resolve its own noise.',
  noisy:
    'Readings scatter by {grams} instead of {wanted}: look for vibration, wind, mains near the cell’s cable.',
  drifts:
    'The load drifts by {grams} a minute: let the cell warm up, keep sun and draught off, and look for something that slips.',
  driftUnclear: 'Whether the load drifts cannot be told yet: leave it still and watch for longer.',
  silent: 'No reading came: check cable, port and supply.',
  tooShort: '{count} readings are too few to judge a scale by: watch it for ten seconds or more.',
  noZeroYet: 'There is no weight to take zero from yet: leave the scale alone for a second.',
  cells: 'This stand has {count} cells.',
  fullCheck: 'This check has as many weighings as one may have: keep it or begin another.',
  weighingAlready: 'A weighing is being taken already.',
  otherStand: 'This check was made on the stand “{one}”, not on “{other}”.',
  noWriting: 'This stand takes no settings from the page: keep the check without writing.',
  noWeight: 'The scale gave no weight: check the cell’s plug, and that the stand is connected.',
  noScale: 'There is no scale to ask.',
  runUnderWay: 'A run is under way on this scale.',
  noCheck: 'No scale check is under way.',
  sayHowSure: 'Say how sure the mass is, in grams: at most a tenth of it.',
} as const;

/** Parts of these. */
export const scaleParts = {
  theMass: 'the {mass} mass',
  TheMass: 'The {mass} mass',
  emptyScale: 'the empty scale',
  EmptyScale: 'The empty scale',
  weighing: 'the {ordinal} weighing, of {mass},',
  Weighing: 'The {ordinal} weighing, of {mass},',
  byGrams: '{what} by {grams}',
  first: 'first',
  second: 'second',
  third: 'third',
  fourth: 'fourth',
  fifth: 'fifth',
  sixth: 'sixth',
  seventh: 'seventh',
  eighth: 'eighth',
  ninth: 'ninth',
  laterOrdinal: '{number}th',
  tooLittle: 'too little',
  tooMuch: 'too much',
} as const;
