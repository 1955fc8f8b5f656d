import { LineDecoder } from '../../server/link/decoder.ts';
import { LineAssembler } from '../../server/link/lines.ts';
import { checked } from './board-lines.ts';

/** How fast the link decodes: bytes in, typed and unwrapped readings out. */
export interface DecodeFigures {
  framesPerSecond: number;
  bytesPerFrame: number;
  /** What a line of 115 200 baud, 10 bits a byte, can carry of such frames. */
  lineFramesPerSecond: number;
}

const lineBytesPerSecond = 11_520;

/** Decodes `frames` readings of `cells` cells; the best of three rounds after one to warm up. */
export function measureDecode(frames = 100_000, cells = 6): DecodeFigures {
  const bytes = stream(frames, cells);
  const seconds = [0, 1, 2, 3].map(() => secondsFor(bytes, frames)).slice(1);
  const bytesPerFrame = bytes.length / frames;
  return {
    framesPerSecond: frames / Math.min(...seconds),
    bytesPerFrame,
    lineFramesPerSecond: lineBytesPerSecond / bytesPerFrame,
  };
}

function stream(frames: number, cells: number): Buffer {
  const lines = [
    checked(
      `I 0 catchbench-stand proto=1 fw=1.0.0 name=bench settings=ok boot=1 reset=P ppt=24 cells=${cells} direction=1 debounce=2500`,
    ),
  ];
  for (let n = 1; n < frames; n++) {
    const counts = Array.from({ length: cells }, (_, cell) => (n * 7919 + cell * 104_729) % 8_000_000);
    lines.push(
      checked(`R ${n % 65536} ${(n * 12_500) % 2 ** 32} ${n} 0 ${n % 9000} turning - 01 ${counts.join(' ')}`),
    );
  }
  return Buffer.from(`${lines.join('\r\n')}\r\n`, 'latin1');
}

function secondsFor(bytes: Buffer, frames: number): number {
  const assembler = new LineAssembler();
  const decoder = new LineDecoder();
  let taken = 0;
  const from = performance.now();
  for (let at = 0; at < bytes.length; at += 4096) {
    assembler.push(bytes.subarray(at, at + 4096), (text) => {
      if (decoder.decode(text).ok) taken++;
    });
  }
  const seconds = (performance.now() - from) / 1000;
  if (taken !== frames) throw new Error(`${taken} of ${frames} frames were taken`);
  return seconds;
}
