import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { ChartPoint } from './types.ts';

/** A chart has at most some 1 200 points, of three numbers each; far more than that is damage. */
const greatestChart = 4 * 1024 * 1024;

export const packChart = (points: readonly ChartPoint[]): Uint8Array =>
  deflateRawSync(JSON.stringify(points));

/** The points, to the last digit. Throws where the bytes are not those of a chart. */
export function unpackChart(bytes: Uint8Array): ChartPoint[] {
  return JSON.parse(inflateRawSync(bytes, { maxOutputLength: greatestChart }).toString());
}
