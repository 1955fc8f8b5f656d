/** Everything that the page says in Spanish, by topic. */
export const es = {} as const;
