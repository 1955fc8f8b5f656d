/** What the check of a stand remarks of its steps. */
export const stand = {
  firmwareOlder:
    'The board has firmware {firmware}, older than {shipped}, which comes with this program. It works, but flash it: hardware-notes/README.md says how.',
  firmwareNewer:
    'The board has firmware {firmware}, newer than this program knows ({shipped}). It works as far as both understand each other; update this program.',
  settingsBlank: 'The board has no settings yet.',
  settingsCorrupt: 'The board’s settings are damaged: enter and save them again.',
  resetWatchdog: 'The board’s program hung and was restarted. Write down what led to it and report it.',
  resetBrownOut:
    'The board’s supply sagged at its last reset: supply of its own for coils, a diode across each.',
  settingRefused: 'The board did not take the setting {key}.',
  settingsSaved: 'The settings were saved in the board.',
  debounceLong:
    'The debounce of {debounce} µs is half the time between two pulses or more at 60 turns a minute: keep it below {most} µs.',
  rateOff:
    '{rate} readings a second instead of {least} to {most}: check the converters’ rate pins (high) and the line.',
  valuesMissing: '{missing} values did not come: check the data wires and the converters’ supply.',
  healthNotHeard: 'The board did not tell its health twice.',
  converterLate: 'A converter was late {late} times: rate pin, or one slower than the others.',
  converterDesync: 'A converter fell out of step {desync} times: clock wire too long or beside the motor’s.',
  receivedLost: 'The board lost {lost} bytes from the computer.',
  readingsLost: '{lost} readings were dropped for want of room on the line.',
  loopSlow: 'The board’s program took {worst} µs for one pass.',
  stackShort: 'Only {stack} bytes of the board’s stack were never used.',
  noPulses: 'No pulse came: check the sensor’s plug, supply and gap.',
  directionWrong:
    'Turned {way}, the other count grew: exchange the two sensor leads or set direction 2 instead of 1.',
  directionMissing: 'Turned back without a direction sensor: set direction 1 where one is fitted.',
  bothWays:
    '{wrong} pulses counted the other way: sensor B is not a quarter of a pulse beside A, or the wheel swung back.',
  pulsesDiffer:
    '{counted} pulses instead of {expected}: {perTurn} a turn. Turned exactly three turns? Then a magnet is missing or seen twice, or the setting is wrong.',
  magnetMissing:
    'After pulse {place} of the turn one is missing each time: magnet lost or too far from the sensor.',
  magnetDoubled: 'Pulse {place} of the turn comes too soon each time: a magnet seen twice.',
  pulsesDoubled:
    'Pulses come twice all around the wheel: the debounce is shorter than the bounce, or the bracket is loose.',
  pulsesMissed: 'Pulses are missing all around the wheel: the gap is too wide, or the debounce too long.',
  magnetOffPlace: 'A magnet stands {percent} % of the spacing off its place.',
  bounceMuch:
    '{bounced} edges were rejected as bounce: more than one a pulse. A firmer bracket, a smaller gap, or a sensor without contacts.',
  zeroFar:
    'Cell {cell} stands at {counts} counts with nothing on: no room for a load. Bent cell or wrong wiring.',
  massOff: 'Cell {cell} shows {off} g off at {load} g; {allowed} g is allowed.',
  ofCell: 'Cell {cell}: {sentence}',
  slopeDiffers: 'Cell {cell}: the board’s slope is {percent} % beside the one found.',
  lineWritten: 'The lines found were saved in the board.',
  lineNotWritten: 'The lines could not be saved in the board; those before stay in use.',
  lineKeptHere: 'The board keeps its lines as they were.',
  buttonNotSeen: 'The stop button was not seen: its second contact, the wire to PD3.',
  buttonStays: 'The stop contact stayed open: PD3 to ground with a wire; does it close then?',
  armNotRefused: 'With the stop button in, the board did not refuse to be armed ({word}).',
  armNotTried: 'Without settings the board cannot be armed, so its refusal with the button in was not tried.',
  lampUnknown: 'This firmware cannot try the lamp by itself: watch it in the first run turned by hand.',
  lampRefused: 'The board did not light the lamp: {word}.',
  lampDark: 'Nothing to be seen or heard: bulb, its transistor, its supply, the wire to PB1.',
  lampFlagMissing: 'The board did not tell that the lamp was on.',
  motorRefused: 'The motor was not started: {word}.',
  motorHalted: 'The board stopped the motor before the count: {why}.',
  motorStopped: 'Stopped by hand.',
  motorNoEnd: 'The wheel did not come to its count within a minute: stopped.',
  motorFlagMissing: 'The board did not tell that the motor was on.',
  motorStaysOn:
    'THE MOTOR OUTPUT STAYS ON after the count. Stop button, unplug; replace relay and contactor.',
  coastLong:
    'The wheel went on for {turns} turns after the count: half a turn is the most. A brake, or a slower wheel.',
  standLost: 'The stand went away during this step.',
  noCheck: 'There is no check under way.',
  beginOne: 'Begin one first.',
  noneReadable: 'No stand is connected whose settings could be read.',
  keeping: 'Putting the check on record.',
  cannotHold: 'The board cannot hold a slope of {slope} g a count with its zero at {zero} counts.',
  notSurelySaved: 'The settings may not be saved: look at them again.',
  noSuchCheck: 'There is no such check of a stand.',
  noValues: 'Cell {cell} gave no good value for {seconds} s: check its wires and its converter.',
  motorGoesOn:
    'THE WHEEL GOES ON TURNING after the count, as far again as it was driven. Stop button, unplug; look for a relay or contactor that sticks, then for a brake.',
} as const;

/** Parts of these. */
export const standParts = {
  forward: 'forward',
  back: 'back',
  itArmed: 'it armed',
  noAnswerWord: 'no answer',
} as const;
