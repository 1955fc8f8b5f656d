import { qrPath } from '../compose/qr.ts';
import type { KeyFigure, Paper, PaperSection } from '../compose/types.ts';
import { type Canvas, inks, type TextStyle } from './canvas.ts';
import { drawTables } from './table.ts';

/** The parts of a paper, drawn one below the other. */

const body: TextStyle = { size: 8.5 };
const small: TextStyle = { size: 7.5, colour: inks.grey };

/** In a dashed box, so that no colour is needed to see it. */
export function drawWarning(canvas: Canvas, text: string): void {
  const style: TextStyle = { size: 9, bold: true };
  const width = canvas.width - 12;
  const height = canvas.heightOf(text, width, style) + 8;
  canvas.need(height);
  const { left, y } = canvas;
  canvas.ornament((pdf) =>
    pdf.rect(left, y, canvas.width, height).lineWidth(1.2).dash(4, { space: 3 }).stroke(inks.black).undash(),
  );
  canvas.write(text, { x: left + 6, y: y + 4, width }, style, canvas.tag('P'));
  canvas.y += height + 5;
}

function drawKey(canvas: Canvas, key: KeyFigure, x: number, width: number, height: number): void {
  const { y } = canvas;
  canvas.ornament((pdf) => pdf.rect(x, y, width, height).lineWidth(1.2).stroke(inks.black));
  const tag = canvas.tag('P');
  const inner = { x: x + 7, width: width - 14 };
  canvas.write(key.name, { ...inner, y: y + 5 }, { size: 8.5 }, tag);
  canvas.write(key.value, { ...inner, y: y + 16 }, { size: 25, bold: true }, tag);
  if (key.unit !== '') {
    const after = inner.x + canvas.widthOf(key.value, { size: 25, bold: true }) + 4;
    const unit = { x: after, y: y + 29.5, width: inner.x + inner.width - after };
    canvas.write(key.unit, unit, { size: 12, bold: true }, tag);
  }
  canvas.write(key.more, { ...inner, y: y + 47 }, { size: 7.5 }, tag);
}

/** The code at the right of the page, its words below it. Returns its width. */
export function drawCode(canvas: Canvas, { text, caption }: Paper['code'], side: number): void {
  const { path, size } = qrPath(text);
  const x = canvas.left + canvas.width - side;
  const { y } = canvas;
  const figure = canvas.pdf.struct('Figure', { alt: text }, () => {
    canvas.pdf
      .save()
      .translate(x, y)
      .scale(side / size)
      .path(path)
      .fill(inks.black)
      .restore();
  });
  canvas.root.add(figure);
  canvas.write(
    caption,
    { x: x + 4, y: y + side - 2, width: side - 8 },
    { ...small, size: 6.5 },
    canvas.tag('Caption'),
  );
}

export function drawKeys(canvas: Canvas, keys: readonly KeyFigure[], width: number): void {
  if (keys.length === 0) return;
  const gap = 8;
  const each = (width - gap * (keys.length - 1)) / keys.length;
  const height =
    50 + Math.max(...keys.map(({ more }) => canvas.heightOf(more, each - 14, { size: 7.5 }))) + 5;
  keys.forEach((key, index) => {
    drawKey(canvas, key, canvas.left + index * (each + gap), each, height);
  });
  canvas.y += height + 7;
}

/** Names and figures in columns, filled downwards. */
export function drawFacts(canvas: Canvas, facts: Paper['facts'], width: number, columns: number): void {
  const each = width / columns;
  const perColumn = Math.ceil(facts.length / columns);
  const nameWidth = Math.min(each * 0.48, 8 + Math.max(...facts.map(([name]) => canvas.widthOf(name, body))));
  const top = canvas.y;
  let end = top;
  for (let column = 0; column < columns; column++) {
    canvas.y = top;
    for (const [name, value] of facts.slice(column * perColumn, (column + 1) * perColumn)) {
      const x = canvas.left + column * each;
      const valueWidth = each - nameWidth - 8;
      const bold = { ...body, bold: true };
      const tag = canvas.tag('P');
      canvas.write(name, { x, y: canvas.y, width: nameWidth - 4 }, { ...body, colour: inks.grey }, tag);
      canvas.write(value, { x: x + nameWidth, y: canvas.y, width: valueWidth }, bold, tag);
      canvas.y +=
        Math.max(canvas.heightOf(name, nameWidth - 4, body), canvas.heightOf(value, valueWidth, bold)) + 1.5;
    }
    end = Math.max(end, canvas.y);
  }
  canvas.y = end + 5;
}

export function drawSection(canvas: Canvas, section: PaperSection): void {
  canvas.need(40);
  canvas.paragraph(section.title, { size: 10.5, bold: true }, { kind: 'H2', after: 2 });
  for (const text of section.paragraphs) canvas.paragraph(text, body, { after: 1.5 });
  for (const text of section.points) {
    canvas.need(canvas.heightOf(text, canvas.width - 10, body));
    const { y } = canvas;
    canvas.ornament((pdf) => pdf.rect(canvas.left + 1, y + 4, 3, 3).fill(inks.black));
    canvas.paragraph(text, body, { indent: 10, after: 1.5 });
  }
  if (section.tables.length > 0) drawTables(canvas, section.tables, 8);
  canvas.y += 4;
}

/** Lines to write on, kept together. */
export function drawSignature(canvas: Canvas, names: readonly string[]): void {
  if (names.length === 0) return;
  const room = 28;
  canvas.need(room + 12);
  const gap = 14;
  const each = (canvas.width - gap * (names.length - 1)) / names.length;
  names.forEach((name, index) => {
    const x = canvas.left + index * (each + gap);
    const y = canvas.y + room;
    canvas.ornament((pdf) =>
      pdf
        .moveTo(x, y)
        .lineTo(x + each, y)
        .lineWidth(0.8)
        .stroke(inks.black),
    );
    canvas.write(name, { x, y: y + 2, width: each }, small, canvas.tag('P'));
  });
  canvas.y += room + 14;
}
