import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import jsQr from 'jsqr';

/** What poppler, a PDF reader that is none of ours, makes of a file; and what a QR reader makes of its picture. */

export interface ReadBack {
  /** Words of the whole file in the order in which they were drawn, white space between them as single spaces. */
  text: string;
  pages: number;
  /** Points. */
  size: [width: number, height: number];
  tagged: boolean;
  /** Each font by name, and whether it is inside the file. */
  fonts: { name: string; embedded: boolean }[];
}

/** White space of any kind, non-breaking included, as one space. */
export const plainSpaces = (text: string): string => text.replace(/[\s\u00a0\u202f]+/g, ' ').trim();

export function readPdf(bytes: Uint8Array, folder: string): ReadBack {
  const path = join(folder, 'read.pdf');
  writeFileSync(path, bytes);
  const run = (program: string, args: string[]) => execFileSync(program, args, { encoding: 'utf8' });
  const info = run('pdfinfo', [path]);
  const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(info)!;
  const fonts = run('pdffonts', [path]).trim().split('\n').slice(2);
  return {
    text: plainSpaces(run('pdftotext', ['-raw', '-enc', 'UTF-8', path, '-'])),
    pages: Number(/Pages:\s+(\d+)/.exec(info)![1]),
    size: [Number(width), Number(height)],
    tagged: /Tagged:\s+yes/.test(info),
    fonts: fonts.map((line) => ({ name: line.split(/\s+/)[0]!, embedded: /\syes yes yes\s/.test(line) })),
  };
}

/** The text of the QR code on the first page, read from a picture of the page at 200 dots an inch. */
export function readCode(bytes: Uint8Array, folder: string): string | null {
  const path = join(folder, 'code.pdf');
  writeFileSync(path, bytes);
  execFileSync('pdftoppm', ['-r', '200', '-gray', '-f', '1', '-l', '1', '-singlefile', path, path]);
  const { width, height, grey } = readPgm(readFileSync(`${path}.pgm`));
  const rgba = new Uint8ClampedArray(4 * width * height);
  for (const [at, value] of grey.entries()) rgba.set([value, value, value, 255], 4 * at);
  return jsQr(rgba, width, height)?.data ?? null;
}

/** Netpbm's grey picture, binary form (netpbm.sourceforge.net/doc/pgm.html). */
function readPgm(file: Buffer): { width: number; height: number; grey: Uint8Array } {
  const [head, width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(file.subarray(0, 60).toString('latin1'))!;
  return { width: Number(width), height: Number(height), grey: file.subarray(head.length) };
}
