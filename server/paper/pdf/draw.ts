import type { Paper } from '../compose/types.ts';
import { type PaperLanguage, paperWords } from '../words.ts';
import { drawCode, drawFacts, drawKeys, drawSection, drawSignature, drawWarning } from './blocks.ts';
import { Canvas, type PaperSize } from './canvas.ts';

/** Side of the code, points: 33 mm, so that its modules are half a millimetre wide. */
const codeSide = 94;

/** What is to be drawn, as plain data. */
export interface PrintJob {
  paper: Paper;
  size: PaperSize;
  language: PaperLanguage;
  /** ISO 8601. */
  madeAt: string;
}

/** A paper as PDF, tagged, its fonts embedded. The same paper gives the same bytes but for the file's own id. */
export async function drawPdf({ paper, size, language, madeAt }: PrintJob): Promise<Buffer> {
  const { title, madeBy } = paper;
  const words = paperWords(language);
  const canvas = new Canvas({ size, title, language, creator: 'Catchbench', madeAt: new Date(madeAt) });
  if (paper.demo) canvas.head = () => drawWarning(canvas, words.demo);
  canvas.paragraph(title, { size: 19, bold: true }, { kind: 'H1', after: 4 });
  for (const warning of paper.warnings) drawWarning(canvas, warning);
  const top = canvas.y;
  drawCode(canvas, paper.code, codeSide);
  const beside = canvas.width - codeSide - 8;
  drawKeys(canvas, paper.keys, beside);
  drawFacts(canvas, paper.facts, beside, paper.keys.length > 0 ? 2 : 1);
  canvas.y = Math.max(canvas.y, top + codeSide + 18);
  for (const section of paper.sections) drawSection(canvas, section);
  drawSignature(canvas, paper.signature);
  canvas.foot((page, pages) => [madeBy, words.page({ page: String(page), pages: String(pages) })]);
  return canvas.bytes();
}
