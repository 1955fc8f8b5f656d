import { say } from '../state/say.ts';

/** A unit as the page writes it: a symbol in every language, or a word in its own. */
export const unitWords = (label: string): string => (label === 'turns' ? say.units.turns : label);
