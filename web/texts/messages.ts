/**
 * What the texts are, as types. A text is a message in ICU's form (unicode-org.github.io/icu, "Formatting Messages"): `{name}` stands for words or
 * a figure written out already, `{name, number}` and `{name, plural, …}` for a number, `{name, select, …}` for one of some words.
 */

/** The next brace of a text: which, what stands before it, what after. */
type Next<Text extends string> = Text extends `${infer Before}{${infer After}`
  ? Before extends `${infer Earlier}}${infer Later}`
    ? ['}', Earlier, `${Later}{${After}`]
    : ['{', Before, After]
  : Text extends `${infer Before}}${infer After}`
    ? ['}', Before, After]
    : null;

/** Name and type of a value that takes no choices: `grams` or `count, number`. */
type Plain<Inside extends string> = Inside extends `${infer Name},${string}`
  ? [Name, number]
  : [Inside, string];

/** Name and type of a value with choices: `count, plural, one`. */
type Choosing<Inside extends string> = Inside extends `${infer Name}, select,${string}`
  ? [Name, string]
  : Inside extends `${infer Name},${string}`
    ? [Name, number]
    : never;

/** Pairs of name and type that a text wants. `Open`: the braces open, innermost first; m stands for words, c for the choices between them. */
type Wanted<Text extends string, Open extends string, Found> =
  Next<Text> extends [infer Brace, string, infer After extends string]
    ? Brace extends '}'
      ? Open extends `${infer _}${infer Outer}`
        ? Wanted<After, Outer, Found>
        : Found
      : Open extends `c${string}`
        ? Wanted<After, `m${Open}`, Found>
        : Next<After> extends [infer Then, infer Inside extends string, infer Rest extends string]
          ? Then extends '}'
            ? Wanted<Rest, Open, Found | Plain<Inside>>
            : Wanted<Rest, `mc${Open}`, Found | Choosing<Inside>>
          : Found
    : Found;

/** The values that a text wants, by name. */
export type Values<Text extends string> = {
  [Pair in Wanted<Text, 'm', never> as Pair extends [infer Name extends string, unknown]
    ? Name
    : never]: Pair extends [unknown, infer Type] ? Type : never;
};

/** A text as the page uses it: words, or a function of the values that it wants. */
export type Said<Text extends string> = keyof Values<Text> extends never
  ? string
  : (values: Values<Text>) => string;

/** A tree of texts as the page uses it. */
export type Spoken<Tree> = {
  readonly [Key in keyof Tree]: Tree[Key] extends string
    ? Said<Tree[Key]>
    : Tree[Key] extends readonly string[]
      ? readonly string[]
      : Spoken<Tree[Key]>;
};

/** Paths at which two trees of texts differ in keys, in the values that a text wants, or in the length of a list. */
export type Differences<One, Other, Path extends string = ''> = {
  [Key in (keyof One | keyof Other) & string]: Key extends keyof One & keyof Other
    ? Difference<One[Key], Other[Key], `${Path}${Key}`>
    : `${Path}${Key}`;
}[(keyof One | keyof Other) & string];

type Difference<One, Other, Path extends string> = One extends string
  ? Other extends string
    ? Same<Values<One>, Values<Other>> extends true
      ? never
      : Path
    : Path
  : One extends readonly unknown[]
    ? Other extends readonly unknown[]
      ? Same<One['length'], Other['length']> extends true
        ? never
        : Path
      : Path
    : Differences<One, Other, `${Path}.`>;

type Same<One, Other> = [One, Other] extends [Other, One] ? true : false;
