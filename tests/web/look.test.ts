import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';

const web = fileURLToPath(new URL('../../web/', import.meta.url));

/** Colours of the style sheet for light and for dark; dark takes over what it does not set itself. */
function palettes(): Record<'light' | 'dark', Record<string, string>> {
  const css = readFileSync(`${web}styles/base.css`, 'utf8');
  const read = (text: string) =>
    Object.fromEntries(
      [...text.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, colour]) => [name!, colour!]),
    );
  const [lightPart, darkPart] = css.split('@media (prefers-color-scheme: dark)');
  const light = read(lightPart!);
  return { light, dark: { ...light, ...read(darkPart!.split('* {')[0]!) } };
}

/** Relative luminance and contrast ratio as defined in WCAG 2.2 (W3C Recommendation, 5 October 2023), section 6. */
function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

function contrast(one: string, other: string): number {
  const [lower, upper] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (upper! + 0.05) / (lower! + 0.05);
}

describe.each(Object.entries(palettes()))('the colours by %s', (_, palette) => {
  it('are all there', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(Object.keys(palette).length).toBeGreaterThan(15);
  });

  // WCAG 2.2, success criterion 1.4.6 (AAA): 7 to 1 for text.
  it.each([
    ['ink', 'ground'],
    ['ink', 'surface'],
    ['ink', 'sunk'],
    ['muted', 'ground'],
    ['muted', 'surface'],
    ['on-plum', 'plum'],
    ['on-sand', 'sand'],
    ['on-slate', 'slate'],
    ['on-dark', 'dark'],
    ['fault', 'surface'],
    ['plum', 'ground'],
  ])('%s on %s reads at AAA', (text, ground) => {
    expect(contrast(palette[text]!, palette[ground]!)).toBeGreaterThanOrEqual(7);
  });

  // WCAG 2.2, success criterion 1.4.11: 3 to 1 for what must be told apart.
  it.each([
    ['level', 'sunk'],
    ['plum', 'sunk'],
    ['trace', 'surface'],
    ['band-edge', 'surface'],
    ['focus', 'ground'],
  ])('%s stands out on %s', (mark, ground) => {
    expect(contrast(palette[mark]!, palette[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

describe('the built page', () => {
  const assets = `${web}dist/assets/`;

  const size = (name: string) => gzipSync(readFileSync(assets + name)).length;
  const scripts = readdirSync(assets).filter((name) => name.endsWith('.js'));

  /** Script fetched before the first place is there: what the page asks for, and what that imports. */
  function firstScripts(): string[] {
    const html = readFileSync(`${web}dist/index.html`, 'utf8');
    const asked = [...html.matchAll(/assets\/([\w-]+\.js)/g)].map(([, name]) => name!);
    const found = new Set<string>();
    for (let name = asked.pop(); name !== undefined; name = asked.pop()) {
      if (found.has(name)) continue;
      found.add(name);
      const text = readFileSync(assets + name, 'utf8');
      asked.push(
        ...[...text.matchAll(/(?:from|import)\s*["']\.\/([\w-]+\.js)["']/g)].map(([, part]) => part!),
      );
    }
    return [...found];
  }

  const sum = (names: string[]) => names.reduce((total, name) => total + size(name), 0);
  const texts = readdirSync(assets).filter((name) => /^texts-.*\.json$/.test(name));
  const textsOf = (...parts: string[]) =>
    sum(texts.filter((name) => parts.some((part) => name.startsWith(`texts-${part}-`))));

  it('is under 150 kB of script, gzipped, with every place; under 115 kB, the chart included, before the first', () => {
    const first = firstScripts();
    expect(first.length).toBeGreaterThan(2);
    expect(first.length).toBeLessThan(scripts.length / 2);
    const [atFirst, all] = [sum(first), sum(scripts)];
    console.info(`script, gzipped: ${atFirst} bytes for the first place, ${all} for every place`);
    expect(atFirst).toBeGreaterThan(20_000);
    expect(atFirst).toBeLessThan(115_000);
    expect(all).toBeLessThan(150_000);
  });

  it('keeps its texts out of the script: data of its own for each language', () => {
    const english = textsOf('en-index');
    const loads = { fr: textsOf('fr-all'), es: textsOf('es-all'), de: textsOf('de-all') };
    const others = Object.values(loads).map((one) => one + english + textsOf('en-told'));
    console.info(`texts, gzipped: ${english} bytes for English, ${others.join(', ')} for fr, es, de with it`);
    expect(english).toBeGreaterThan(10_000);
    expect(english).toBeLessThan(40_000);
    for (const one of others) expect(one).toBeLessThan(120_000);
    for (const name of scripts) {
      expect(readFileSync(assets + name, 'utf8'), name).not.toContain('The stand tares itself');
    }
  });

  it('refers to its parts by relative paths, and to nothing outside', () => {
    const html = readFileSync(`${web}dist/index.html`, 'utf8');
    const paths = [...html.matchAll(/(?:src|href)="([^"]+)"/g)].map(([, path]) => path!);
    expect(paths.length).toBeGreaterThanOrEqual(3);
    for (const path of paths) expect(path).toMatch(/^\.\//);
    for (const name of readdirSync(assets).filter((file) => file.endsWith('.css'))) {
      expect(readFileSync(assets + name, 'utf8')).not.toMatch(/url\(|@import/);
    }
  });
});
