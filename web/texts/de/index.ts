/** Everything that the page says in German, by topic. */
export const de = {} as const;
