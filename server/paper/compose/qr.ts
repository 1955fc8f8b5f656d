import { encode } from 'uqr';

/** A QR code (ISO/IEC 18004) as one path of unit squares, for SVG and PDF alike. */
export interface QrPath {
  /** Side of the whole, quiet zone included, in modules. */
  size: number;
  /** Path data of the dark modules. */
  path: string;
}

/** Light modules that ISO/IEC 18004 wants on each side. From memory. */
const quietZone = 4;

/** The dark modules, row by row, quiet zone included. Level M: 15 % may be lost to dirt. */
export function qrModules(text: string): boolean[][] {
  return encode(text, { ecc: 'M', border: quietZone }).data;
}

export function qrPath(text: string): QrPath {
  const rows = qrModules(text);
  const runs = rows.flatMap((row, y) => {
    const found: string[] = [];
    for (let x = 0; x < row.length; x++) {
      if (!row[x]) continue;
      const from = x;
      while (row[x + 1]) x++;
      const length = x + 1 - from;
      found.push(`M${from} ${y}h${length}v1h-${length}z`);
    }
    return found;
  });
  return { size: rows.length, path: runs.join('') };
}
