import { measureEmulation } from '../board/measure.ts';
import { boardBeforeLastPulse, randomEdges, runToConverterRead, sweep } from '../board/motor-bound.ts';
import { measureDecode } from '../link/measure.ts';
import { measureLatency } from '../session/measure.ts';
import { type Figure, judged, machine } from './figures.ts';
import { firmware } from './firmware.ts';
import { underLoad } from './load/index.ts';
import { readingCosts } from './readings.ts';
import { records } from './records.ts';

/** Prints the project's figures of speed: `npm run bench`, or `npm run bench -- --json` for one JSON object. */

function emulation(): Figure[] {
  return [1, 6].map((cells) =>
    judged({
      id: `emulation-${cells}-cells`,
      value: measureEmulation(cells, 30),
      unit: 'times real time',
      ...(cells === 6 ? { aim: '>= 15' } : {}),
      how: '30 s of the stand, wheel turning, host beating; firmware in emulation and imagined drill together',
    }),
  );
}

function decoding(): Figure[] {
  return [1, 6].map((cells) => {
    const { framesPerSecond, lineFramesPerSecond } = measureDecode(100_000, cells);
    return judged({
      id: `decode-${cells}-cells`,
      value: framesPerSecond,
      unit: 'frames/s',
      reference: lineFramesPerSecond,
      aim: '>= 100',
      how: 'bytes to typed, unwrapped readings, best of three times 100 000; reference: what the line can carry at 115 200 baud',
    });
  });
}

function motorBound(): Figure[] {
  const random = randomEdges(boardBeforeLastPulse(1), 1, 2000, 6000);
  const board = boardBeforeLastPulse(11);
  const swept = sweep(board, runToConverterRead(board) + 300);
  const how = 'six cells, both directions of the line saturated; emulated cycles, 16 a microsecond';
  return [
    judged({
      id: 'motor-random',
      value: random.worst,
      unit: 'cycles',
      aim: '<= 200',
      how: `2 000 edges at random; ${how}`,
    }),
    judged({
      id: 'motor-sweep',
      value: swept.worst,
      unit: 'cycles',
      aim: '<= 200',
      how: `every cycle of a converter read; ${how}`,
    }),
  ];
}

async function latency(): Promise<Figure[]> {
  const { medianMillis, p99Millis, readings } = await measureLatency();
  const how = `last byte of a reading to the page's socket, ${readings} readings, real time, emulated stand in the same process; a live message waits for its turn, 20 a second`;
  return [
    judged({ id: 'reading-to-socket', value: medianMillis, unit: 'ms', how: `median; ${how}` }),
    judged({ id: 'reading-to-socket-p99', value: p99Millis, unit: 'ms', aim: '<= 100', how }),
  ];
}

function lineOf({ id, value, unit, reference, ratio, aim, holds, how }: Figure): string {
  const against =
    ratio === undefined ? '' : `, ${ratio.toPrecision(3)} times the reference ${reference?.toPrecision(4)}`;
  const verdict = aim === undefined ? '' : ` (aim ${aim}: ${holds ? 'holds' : 'MISSED'})`;
  return `${id}: ${value.toPrecision(4)} ${unit}${against}${verdict}\n    ${how}`;
}

const figures = [
  ...emulation(),
  ...decoding(),
  ...readingCosts(),
  ...motorBound(),
  ...firmware(),
  ...(await latency()),
  ...(await records()),
  ...(await underLoad()),
];
if (process.argv.includes('--json')) {
  console.log(JSON.stringify({ machine: machine(), figures }));
} else {
  console.log(
    Object.entries(machine())
      .map(([key, value]) => `${key}: ${value}`)
      .join(', '),
  );
  for (const figure of figures) console.log(lineOf(figure));
}
