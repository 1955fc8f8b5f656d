/** Where in the page one is; kept behind the # of the address, so that reload and the back button work without the server. */
export const places = ['run', 'setting', 'plan', 'stand', 'field', 'runs', 'sheet', 'preferences'] as const;
export type Place = (typeof places)[number];

export interface Route {
  place: Place;
  /** A field of the plan to start at, or the id of a run to look at. */
  detail: string | null;
}

/** The route that an address's # part names; what is unknown leads to the run. */
export function readRoute(hash: string): Route {
  const [name, detail] = hash.replace(/^#\/?/, '').split('/');
  const place = places.find((one) => one === name) ?? 'run';
  return { place, detail: detail ? decoded(detail) : null };
}

function decoded(text: string): string | null {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
}

export const address = (place: Place, detail?: string): string =>
  `#/${place}${detail === undefined ? '' : `/${encodeURIComponent(detail)}`}`;
