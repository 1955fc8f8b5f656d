/**
 * In place of the library by which charts reckon with colours: they mix them for movement and for pointing, and the charts here do neither. It saves
 * 4 kB of script, gzipped. A colour that is asked for is given back as it came.
 */
export class Color {
  readonly valid = false;
  readonly #colour: unknown;

  constructor(colour: unknown) {
    this.#colour = colour;
  }

  hexString(): unknown {
    return this.#colour;
  }

  saturate(): this {
    return this;
  }

  darken(): this {
    return this;
  }

  mix(): this {
    return this;
  }
}
