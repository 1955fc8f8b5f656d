import { readRecordsRoute } from '../state/records/route.ts';
import { CalibrationPage } from './records/calibration-page.tsx';
import { ComparePage } from './records/compare-page.tsx';
import { DeletedPage } from './records/deleted-page.tsx';
import { KeepingPage } from './records/keeping-page.tsx';
import { RecordedRun } from './records/run-page.tsx';
import { SearchPage } from './records/search-page.tsx';

/** The records, or what of them the address names: `id` is what stands beside the name of the place. */
export function RunsPage({ id }: { id: string | null }) {
  const route = readRecordsRoute(id);
  switch (route.view) {
    case 'run':
      return <RecordedRun id={route.id} />;
    case 'calibration':
      return <CalibrationPage id={route.id} />;
    case 'compare':
      return <ComparePage ids={route.ids} />;
    case 'keeping':
      return <KeepingPage />;
    case 'deleted':
      return <DeletedPage />;
    default:
      return <SearchPage />;
  }
}
