import type { PaperFacts } from '../../../../server/paper/compose/types.ts';
import { calibration } from '../calibration.ts';
import { live } from '../store.ts';

/** What is to be looked at on the place for paper, as its address says: `lid`, the number of a calibration, `lid:` and that number, or nothing. */
export interface PaperRoute {
  kind: 'sheet' | 'lid';
  /** Null: the calibration in hand. */
  calibrationId: string | null;
}

export function readPaperRoute(detail: string | null): PaperRoute {
  const [first = '', second = ''] = (detail ?? '').split(':');
  const kind = first === 'lid' ? 'lid' : 'sheet';
  const id = first === 'lid' ? second : first;
  return { kind, calibrationId: id === '' ? null : id };
}

/** What the address says beside the name of the place; nothing for the sheet in hand. */
export function paperDetail({ kind, calibrationId }: PaperRoute): string | undefined {
  if (kind === 'lid') return calibrationId === null ? 'lid' : `lid:${calibrationId}`;
  return calibrationId ?? undefined;
}

/** Where the server makes the PDF. */
export function pdfPath(
  { kind, calibrationId }: PaperRoute,
  more: { paper: 'A4' | 'Letter'; units: string; language: string },
): string {
  const query = new URLSearchParams({
    ...(calibrationId === null ? {} : { calibration: calibrationId }),
    ...more,
  });
  return `./api/paper/${kind}.pdf?${query}`;
}

/** What the page itself knows of the calibration in hand; null before there is anything. */
export function factsInHand(madeAt: string): PaperFacts | null {
  const view = calibration.value;
  const { plan, demo, version } = live.value;
  return view === null || plan === null ? null : { view, plan, demo, version, madeAt };
}
