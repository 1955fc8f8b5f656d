/**
 * Draws the notes' pictures: each `<name>.txt` here becomes `<name>.svg` beside it. `npx tsx hardware-notes/drawings/draw.ts` writes
 * them all. A source has one thing a line, coordinates in pixels, texts in double quotes with `|` between their lines:
 *
 *   size <width> <height>             title "text"                      first of all
 *   box <x> <y> <w> <h> "text"        a part                            text <x> <y> "text"
 *   wire <x> <y> <x> <y> ...          a wire, corner by corner          heavy ...  the same at mains voltage or motor current
 *   dot <x> <y>                       wires joined                      pin <x> <y> "text"   a terminal, named to its right
 *   resistor|diode <x> <y> "text"     upright, 40 high, from its top    ground <x> <y>
 *   closed|open <x> <y> "text"        contact in a wire going right, 40 long, from its left
 *   coil <x> <y> "text"               upright, 40 high                  npn <x> <y> "text"   base left, 40 high
 *   circle <x> <y> <r>                dashed <x> <y> <x> <y>            acts on, or measured along
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const markup = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

function label(x: number, y: number, text: string, anchor = 'start', weight = ''): string {
  const rows = text.split('|').map((row, n) => `<tspan x="${x}" y="${y + 16 * n}">${markup(row)}</tspan>`);
  return `<text text-anchor="${anchor}"${weight}>${rows.join('')}</text>`;
}

const path = (d: string, kind = ''): string => `<path${kind ? ` class="${kind}"` : ''} d="${d}"/>`;

function polyline(points: readonly number[], kind = ''): string {
  const pairs = Array.from({ length: points.length / 2 }, (_, n) => `${points[2 * n]} ${points[2 * n + 1]}`);
  return path(`M${pairs.join('L')}`, kind);
}

function box([x = 0, y = 0, w = 0, h = 0]: readonly number[], text: string): string {
  const rows = text.split('|').length;
  const middle = y + h / 2 - 8 * (rows - 1) + 5;
  return `<rect x="${x}" y="${y}" width="${w}" height="${h}"/>${label(x + w / 2, middle, text, 'middle')}`;
}

function contact([x = 0, y = 0]: readonly number[], text: string, closed: boolean): string {
  const blade = closed
    ? `M${x + 8} ${y}L${x + 34} ${y + 1}M${x + 32} ${y - 6}v6`
    : `M${x + 8} ${y}L${x + 30} ${y - 12}`;
  return path(`M${x} ${y}h8m24 0h8`) + path(blade) + label(x + 20, y - 16, text, 'middle');
}

type Draw = (n: readonly number[], text: string) => string;

/** Upright parts take 40 from their top; their text stands to the right. */
const symbols: Record<string, Draw> = {
  box,
  text: ([x = 0, y = 0], text) => label(x, y, text),
  wire: (points) => polyline(points),
  heavy: (points) => polyline(points, 'heavy'),
  dashed: (points) => polyline(points, 'dashed'),
  dot: ([x = 0, y = 0]) => `<circle class="dot" cx="${x}" cy="${y}" r="3.5"/>`,
  circle: ([x = 0, y = 0, r = 0]) => `<circle cx="${x}" cy="${y}" r="${r}"/>`,
  pin: ([x = 0, y = 0], text) =>
    `<circle class="pin" cx="${x}" cy="${y}" r="4"/>${label(x + 9, y + 5, text)}`,
  resistor: ([x = 0, y = 0], text) =>
    `${path(`M${x} ${y}v8m0 24v8`)}<rect x="${x - 6}" y="${y + 8}" width="12" height="24"/>${label(x + 12, y + 25, text)}`,
  diode: ([x = 0, y = 0], text) =>
    path(`M${x} ${y}v12m0 14v14M${x - 8} ${y + 12}h16M${x - 8} ${y + 26}h16l-8 -14z`) +
    label(x + 14, y + 24, text),
  coil: ([x = 0, y = 0], text) =>
    `${path(`M${x} ${y}v10m0 20v10`)}<rect x="${x - 16}" y="${y + 10}" width="32" height="20"/>${label(x + 24, y + 25, text)}`,
  npn: ([x = 0, y = 0], text) =>
    path(
      `M${x - 24} ${y + 20}h14M${x - 10} ${y + 8}v24M${x - 10} ${y + 14}L${x} ${y + 6}v-6M${x - 10} ${y + 26}L${x} ${y + 34}v6m0 -6l-7 -1m7 1l-3 -6`,
    ) + label(x + 8, y + 25, text),
  ground: ([x = 0, y = 0]) => path(`M${x} ${y}v8m-9 0h18m-15 4h12m-9 4h6`),
  closed: (n, text) => contact(n, text, true),
  open: (n, text) => contact(n, text, false),
};

const style =
  'text{font:13px sans-serif;fill:#111}path,rect,circle{fill:none;stroke:#111;stroke-width:1.5}.heavy{stroke-width:4}' +
  '.dashed{stroke-dasharray:5 4}.dot{fill:#111}.pin{fill:#fff}.title{font-size:16px;font-weight:bold}';

/**
 * The picture of a source.
 * @throws Error that names the line which is none of the forms above.
 */
export function drawing(source: string): string {
  let size: readonly number[] = [];
  let title = '';
  const parts: string[] = [];
  for (const [index, line] of source.split('\n').entries()) {
    const row = line.trim();
    if (row === '' || row.startsWith('#')) continue;
    const [, word = '', numbers = '', , text = ''] = /^([a-z]+)((?: -?\d+)*)( "([^"]*)")?$/.exec(row) ?? [];
    const values = numbers.trim() === '' ? [] : numbers.trim().split(' ').map(Number);
    const draw = symbols[word];
    if (word === 'size') size = values;
    else if (word === 'title') title = text;
    else if (draw) parts.push(draw(values, text));
    else throw new Error(`Line ${index + 1} of the drawing is no part of one: ${line}`);
  }
  const [width = 0, height = 0] = size;
  const head = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img"><title>${markup(title)}</title><style>${style}</style><rect width="${width}" height="${height}" style="fill:#fff;stroke:none"/>`;
  const caption = label(16, 26, title, 'start', ' class="title"');
  return `${[head, caption, ...parts].join('\n')}\n</svg>\n`;
}

export const drawingsFolder = fileURLToPath(new URL('./', import.meta.url));

/** Names of the sources, without their ending. */
export function drawingNames(): string[] {
  return readdirSync(drawingsFolder)
    .filter((name) => name.endsWith('.txt'))
    .map((name) => name.slice(0, -4));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const name of drawingNames()) {
    writeFileSync(
      `${drawingsFolder}${name}.svg`,
      drawing(readFileSync(`${drawingsFolder}${name}.txt`, 'utf8')),
    );
  }
}
