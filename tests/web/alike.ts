/** Texts that are the same in English and another language, each with the reason; anything else that is the same was left behind. */

/** In every language. */
export const alikeEverywhere: Record<string, string> = {
  Catchbench: 'a name',
  'Catchbench {version}, {at}': 'a name and figures',
  'Catchbench {version}, {date}': 'a name and figures',
  'PDF, {paper}': 'a kind of file',
  'kg/ha': 'a unit',
  'lb/ac': 'a unit',
  'st/ac': 'a unit',
  '{figure} MB': 'a unit',
  '{minutes, number} min': 'a unit',
};

/** In one language, which has the word in common with English. */
export const alike: Record<'fr' | 'es' | 'de', Record<string, string>> = {
  fr: {
    Second: 'the same word',
    note: 'the same word',
    distance: 'the same word',
    Code: 'the same word',
    Port: 'the same word',
    Date: 'the same word',
    Signature: 'the same word',
  },
  es: {
    Demo: 'the usual short word',
    demo: 'the usual short word',
    Plan: 'the same word',
    Motor: 'the same word',
    Firmware: 'the usual word',
    'no: {why}': 'the same word',
    No: 'the same word',
    sensor: 'the same word',
  },
  de: {
    Code: 'the same word',
    Demo: 'the usual short word',
    Motor: 'the same word',
    Firmware: 'the usual word',
    Hand: 'the same word',
    Drift: 'the same word',
    Reserve: 'the same word',
    '{figure} in {source}': 'the same word',
  },
};
