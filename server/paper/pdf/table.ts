import type { PaperTable } from '../compose/types.ts';
import { type Canvas, inks, type TextStyle } from './canvas.ts';

const headStyle: TextStyle = { size: 7.5, bold: true };
const pad = { x: 4, y: 2 };

const styleOf = (look: PaperTable['rows'][number]['look'], size: number): TextStyle => ({
  size,
  bold: look === 'sought',
  colour: look === 'faint' ? inks.grey : inks.black,
});

/** Width of the widest word: a column may not be narrower. */
const leastWidth = (canvas: Canvas, text: string, style: TextStyle): number =>
  Math.max(0, ...text.split(/\s+/).map((word) => canvas.widthOf(word, style)));

/** Widths of the columns: as wide as their words where there is room, else in proportion, never below the widest word. */
function columnWidths(canvas: Canvas, table: PaperTable, width: number, size: number): number[] {
  const bold: TextStyle = { size, bold: true };
  const measured = table.columns.map((name, column) => {
    const texts = table.rows.map(({ cells }) => cells[column] ?? '');
    const wide = Math.max(
      canvas.widthOf(name, headStyle),
      ...texts.map((text) => canvas.widthOf(text, bold)),
    );
    const least = Math.max(
      leastWidth(canvas, name, headStyle),
      ...texts.map((text) => leastWidth(canvas, text, bold)),
    );
    return { wide: wide + 2 * pad.x + 1, least: least + 2 * pad.x + 1 };
  });
  const sum = (pick: 'wide' | 'least') => measured.reduce((total, one) => total + one[pick], 0);
  const spare = width - sum('wide');
  if (spare >= 0) return measured.map(({ wide }) => wide + (spare * wide) / sum('wide'));
  const share = Math.max(0, width - sum('least')) / Math.max(1, sum('wide') - sum('least'));
  return measured.map(({ wide, least }) => least + (wide - least) * share);
}

interface Place {
  x: number;
  width: number;
  size: number;
}

/** A table from the cursor down; returns where it ends. Its head comes again on every further page. */
function drawTable(canvas: Canvas, table: PaperTable, { x, width, size }: Place): void {
  const widths = columnWidths(canvas, table, width, size);
  const tag = canvas.tag('Table');
  const heightOf = (cells: readonly string[], style: TextStyle) =>
    2 * pad.y +
    Math.max(...cells.map((text, column) => canvas.heightOf(text, widths[column]! - 2 * pad.x, style)));
  const line = (y: number, thick: number) =>
    canvas.ornament((pdf) =>
      pdf
        .moveTo(x, y)
        .lineTo(x + width, y)
        .lineWidth(thick)
        .strokeColor(thick > 0.7 ? inks.black : inks.line)
        .stroke(),
    );
  const row = (cells: readonly string[], style: TextStyle, kind: 'TH' | 'TD', wash: boolean) => {
    const height = heightOf(cells, style);
    if (wash) canvas.ornament((pdf) => pdf.rect(x, canvas.y, width, height).fill(inks.wash));
    const rowTag = canvas.tag('TR', tag);
    let at = x;
    cells.forEach((text, column) => {
      const place = { x: at + pad.x, y: canvas.y + pad.y, width: widths[column]! - 2 * pad.x };
      canvas.write(text, place, style, canvas.tag(kind, rowTag));
      at += widths[column]!;
    });
    canvas.y += height;
    line(canvas.y, kind === 'TH' ? 1 : 0.5);
  };
  const head = () => row(table.columns, headStyle, 'TH', false);
  canvas.need(heightOf(table.columns, headStyle) + 2 * size * 2);
  head();
  for (const { look, cells } of table.rows) {
    const style = styleOf(look, size);
    if (canvas.need(heightOf(cells, style))) head();
    row(cells, style, 'TD', look === 'sought');
  }
}

/** Tables side by side (their rows must fit on a page), or one that may go on for pages. */
export function drawTables(canvas: Canvas, tables: readonly PaperTable[], size: number): void {
  const gap = 14;
  const width = (canvas.width - gap * (tables.length - 1)) / Math.max(1, tables.length);
  if (tables.length > 1)
    canvas.need((1 + Math.max(...tables.map(({ rows }) => rows.length))) * (size * 1.2 + 5));
  const top = canvas.y;
  let end = top;
  tables.forEach((table, index) => {
    if (tables.length > 1) canvas.y = top;
    drawTable(canvas, table, { x: canvas.left + index * (width + gap), width, size });
    end = tables.length > 1 ? Math.max(end, canvas.y) : canvas.y;
  });
  canvas.y = end + 4;
}
