import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import PdfDocument from 'pdfkit';

/** A PDF in the making: a cursor that goes down the page, fonts with every letter that we write, and the tags that a reader of the screen needs. */

export const paperSizes = ['A4', 'Letter'] as const;
export type PaperSize = (typeof paperSizes)[number];

type Pdf = InstanceType<typeof PdfDocument>;
type Tag = ReturnType<Pdf['struct']>;

/** Points. */
export const margin = 40;
const footHeight = 24;
export const inks = { black: '#000000', grey: '#4d4d4d', line: '#8a8a8a', wash: '#e6e6e6' } as const;

export interface TextStyle {
  size: number;
  bold?: boolean;
  colour?: string;
}

const require = createRequire(import.meta.url);
const fontFolder = () => join(dirname(require.resolve('dejavu-fonts-ttf/package.json')), 'ttf');

export interface CanvasOptions {
  size: PaperSize;
  title: string;
  language: string;
  creator: string;
  madeAt: Date;
}

export class Canvas {
  readonly pdf: Pdf;
  readonly root: Tag;
  y = margin;
  /** Draws what every further page begins with. */
  #head: () => void = () => {};

  constructor({ size, title, language, creator, madeAt }: CanvasOptions) {
    this.pdf = new PdfDocument({
      size: size === 'Letter' ? 'LETTER' : 'A4',
      margin: 0,
      bufferPages: true,
      pdfVersion: '1.7',
      tagged: true,
      lang: language,
      displayTitle: true,
      info: { Title: title, Creator: creator, CreationDate: madeAt, ModDate: madeAt },
    });
    this.pdf.registerFont('plain', join(fontFolder(), 'DejaVuSansCondensed.ttf'));
    this.pdf.registerFont('bold', join(fontFolder(), 'DejaVuSansCondensed-Bold.ttf'));
    this.root = this.pdf.struct('Document');
    this.pdf.addStructure(this.root);
  }

  get left(): number {
    return margin;
  }

  get width(): number {
    return this.pdf.page.width - 2 * margin;
  }

  get bottom(): number {
    return this.pdf.page.height - margin - footHeight;
  }

  set head(draw: () => void) {
    this.#head = draw;
  }

  /** Goes to the next page unless so much room is left; true where it did. */
  need(height: number): boolean {
    if (this.y + height <= this.bottom) return false;
    this.pdf.addPage();
    this.y = margin;
    this.#head();
    return true;
  }

  #use({ size, bold = false, colour = inks.black }: TextStyle): Pdf {
    return this.pdf
      .font(bold ? 'bold' : 'plain')
      .fontSize(size)
      .fillColor(colour);
  }

  widthOf(text: string, style: TextStyle): number {
    return this.#use(style).widthOfString(text);
  }

  heightOf(text: string, width: number, style: TextStyle): number {
    return this.#use(style).heightOfString(text, { width });
  }

  /** Words at a place, under a tag of this kind below `parent`. */
  write(text: string, at: { x: number; y: number; width: number }, style: TextStyle, tag: Tag): void {
    tag.add(this.pdf.struct('Span', {}, () => this.#use(style).text(text, at.x, at.y, { width: at.width })));
  }

  /** A new tag below `parent`, the document where it is left out. */
  tag(kind: string, parent: Tag = this.root): Tag {
    const tag = this.pdf.struct(kind);
    parent.add(tag);
    return tag;
  }

  /** Lines and washes that say nothing by themselves. */
  ornament(draw: (pdf: Pdf) => void): void {
    this.pdf.markContent('Artifact', { type: 'Layout' });
    draw(this.pdf);
    this.pdf.endMarkedContent();
  }

  /** A paragraph at the cursor. */
  paragraph(text: string, style: TextStyle, { kind = 'P', indent = 0, after = 3 } = {}): void {
    const width = this.width - indent;
    const height = this.heightOf(text, width, style);
    this.need(height);
    this.write(text, { x: this.left + indent, y: this.y, width }, style, this.tag(kind));
    this.y += height + after;
  }

  /** A line at the foot of each page, once all are there. */
  foot(words: (page: number, pages: number) => [left: string, right: string]): void {
    const { start, count } = this.pdf.bufferedPageRange();
    for (let page = 0; page < count; page++) {
      this.pdf.switchToPage(start + page);
      const [left, right] = words(page + 1, count);
      const y = this.pdf.page.height - margin - 10;
      this.pdf.markContent('Artifact', { type: 'Pagination' });
      this.#use({ size: 7.5, colour: inks.grey });
      this.pdf.text(left, this.left, y, { width: this.width, lineBreak: false });
      this.pdf.text(right, this.left, y, { width: this.width, align: 'right', lineBreak: false });
      this.pdf.endMarkedContent();
    }
  }

  /** The whole file. */
  async bytes(): Promise<Buffer> {
    const parts: Buffer[] = [];
    const done = new Promise<Buffer>((resolve, reject) => {
      this.pdf.on('data', (part: Buffer) => parts.push(part));
      this.pdf.once('end', () => resolve(Buffer.concat(parts)));
      this.pdf.once('error', reject);
    });
    this.root.end();
    this.pdf.end();
    return done;
  }
}
