/** Everything that the page says in French, by topic. */
export const fr = {} as const;
