/** What of the records is looked at, as the address says beside the name of the place. */
export type RecordsRoute =
  | { view: 'search' }
  | { view: 'run'; id: string }
  | { view: 'calibration'; id: string }
  | { view: 'compare'; ids: [first: string, second: string] }
  | { view: 'keeping' }
  | { view: 'deleted' };

/** A bare number is a run's. What makes no sense leads to the search. */
export function readRecordsRoute(detail: string | null): RecordsRoute {
  const [name = '', first = '', second = ''] = (detail ?? '').split(':');
  switch (name) {
    case '':
      return { view: 'search' };
    case 'keeping':
    case 'deleted':
      return { view: name };
    case 'calibration':
      return first === '' ? { view: 'search' } : { view: 'calibration', id: first };
    case 'compare':
      return first === '' || second === '' ? { view: 'search' } : { view: 'compare', ids: [first, second] };
    default:
      return { view: 'run', id: name };
  }
}

/** What the address says beside the name of the place; nothing for the search. */
export function recordsDetail(route: RecordsRoute): string | undefined {
  switch (route.view) {
    case 'search':
      return undefined;
    case 'run':
      return route.id;
    case 'calibration':
      return `calibration:${route.id}`;
    case 'compare':
      return `compare:${route.ids.join(':')}`;
    default:
      return route.view;
  }
}
