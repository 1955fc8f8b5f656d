/** What a person typed where a number goes, taken apart. */
export interface Typed {
  /** The number as read with a decimal point or decimal comma. */
  value: number;
  /** The other reading, where the mark may also group thousands (`1,250` where decimals stand behind a point, `1.250` where they stand behind a comma). */
  grouped: number | null;
  /** What stands behind the number, trimmed; empty when nothing does. */
  unit: string;
}

const vulgar: Record<string, string> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const fraction = /^([+-]?)(?:(\d+)[ -]+)?(\d+) ?\/ ?(\d+)(?![\d.,])\s*(\D.*)?$/;
const decimal = /^([+-]?)((?:\d{1,3}(?: \d{3})+|\d+)(?:[.,][\d.,]*)?|[.,]\d+)\s*([^\d\s.,+-].*)?$/;

/**
 * Reads a number with an optional unit behind it: `7.5`, `7,5`, `1 234,5`, `1,234.5`, `7 1/2 in`, `190mm`. Null when it is none.
 * `decimalSign`: the mark that the writer's language puts before decimals; it is never taken to group.
 * No exponents: nobody writes a row spacing as 1e-1.
 */
export function readNumber(text: string, decimalSign: '.' | ',' = '.'): Typed | null {
  const plain = tidy(text);
  const parts = fraction.exec(plain);
  if (parts !== null) return readFraction(parts);
  const match = decimal.exec(plain);
  if (match === null) return null;
  const [, sign, digits, unit] = match;
  const readings = readDigits(digits!.replaceAll(' ', ''), decimalSign);
  if (readings === null || !Number.isFinite(readings.value)) return null;
  const signed = (value: number) => (sign === '-' ? -value : value);
  return {
    value: signed(readings.value),
    grouped: readings.grouped === null ? null : signed(readings.grouped),
    unit: (unit ?? '').trim(),
  };
}

function tidy(text: string): string {
  return text
    .replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => ` ${vulgar[sign]}`)
    .replace(/[\u00a0\u2000-\u200a\u202f\u3000\t]/g, ' ')
    .replace(/(\d)['’](?=\d{3})/g, '$1')
    .replace(/[−–]/g, '-')
    .replace(/[″”]/g, '"')
    .replace(/[′’]/g, "'")
    .replace(/⁄/g, '/')
    .replace(/ +/g, ' ')
    .trim();
}

function readFraction([, sign, whole, top, bottom, unit]: RegExpExecArray): Typed | null {
  if (Number(bottom) === 0) return null;
  const size = Number(whole ?? 0) + Number(top) / Number(bottom);
  return { value: sign === '-' ? -size : size, grouped: null, unit: (unit ?? '').trim() };
}

/** The last of comma and point is the decimal sign; the other groups thousands and must do so properly. */
function readDigits(digits: string, decimalSign: string): { value: number; grouped: number | null } | null {
  const at = Math.max(digits.lastIndexOf(','), digits.lastIndexOf('.'));
  if (at < 0) return { value: Number(digits), grouped: null };
  const mark = digits[at]!;
  const other = mark === ',' ? '.' : ',';
  const whole = digits.slice(0, at);
  const rest = digits.slice(at + 1);
  if (whole.includes(mark)) {
    // The same mark twice can only group: 1,234,567.
    const groups = digits.split(mark);
    return digits.includes(other) || !isGrouped(groups)
      ? null
      : { value: Number(groups.join('')), grouped: null };
  }
  const groups = whole.split(other);
  if (groups.length > 1 && !isGrouped(groups)) return null;
  const value = Number(`${groups.join('') || '0'}.${rest || '0'}`);
  const mayGroup = mark !== decimalSign && groups.length === 1 && isGrouped([whole, rest]);
  return { value, grouped: mayGroup ? Number(whole + rest) : null };
}

const isGrouped = ([first, ...rest]: string[]): boolean =>
  first !== undefined && /^[1-9]\d{0,2}$/.test(first) && rest.every((group) => /^\d{3}$/.test(group));
