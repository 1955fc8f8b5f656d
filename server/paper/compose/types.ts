import type { paper } from '../../../web/texts/en/paper.ts';
import type { Spoken } from '../../../web/texts/messages.ts';
import type { CalibrationView } from '../../http/calibration-messages.ts';
import type { Plan } from '../../http/messages.ts';

/**
 * What goes on paper, as plain data: the page and the PDF lay out the same content, so that neither says what the other does not. Every text is
 * final: in the reader's language, with figures in the reader's units.
 */

/** The texts of one language. */
export type PaperWords = Spoken<typeof paper>;

/** All that a sheet or a lid chart is made from. */
export interface PaperFacts {
  view: CalibrationView;
  /** Plan of the calibration's newest run: drill and geometry. */
  plan: Plan;
  /** Whether any of it is demo data. */
  demo: boolean;
  /** Version of Catchbench. */
  version: string;
  /** When the paper is made, ISO 8601. */
  madeAt: string;
}

/** How the reader wants it. */
export interface PaperWish {
  words: PaperWords;
  /** Says a sentence of the server in that language. */
  tell: (sentence: string) => string;
  /** BCP 47, for figures and dates. */
  language: string;
  system: 'metric' | 'us';
}

/** A figure to be read from afar: its name, the figure, its unit, and a line beneath. */
export interface KeyFigure {
  name: string;
  value: string;
  unit: string;
  more: string;
}

/** How a row stands out: the one sought, or one that is not to be relied on. Said in its words too. */
export type RowLook = 'plain' | 'sought' | 'faint';

export interface PaperTable {
  columns: string[];
  rows: { look: RowLook; cells: string[] }[];
}

export interface PaperSection {
  title: string;
  paragraphs: string[];
  points: string[];
  /** Side by side where there are several and room. */
  tables: PaperTable[];
}

export interface Paper {
  title: string;
  /** BCP 47. */
  language: string;
  /** What must not be overlooked; at the head of every page the first of them where `demo`. */
  warnings: string[];
  demo: boolean;
  keys: KeyFigure[];
  facts: [name: string, value: string][];
  sections: PaperSection[];
  /** Lines to write on, by what belongs there; empty where none are wanted. */
  signature: string[];
  /** The key figures as text, for the code, and what to say beside it. */
  code: { text: string; caption: string };
  madeBy: string;
}
