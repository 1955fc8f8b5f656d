import type { ComponentType } from 'preact';
import type { Place } from '../state/route.ts';
import { RunPage } from './run-page.tsx';

/** A place of the page; `detail` is what its address says beside its name. */
export type PlacePage = ComponentType<{ detail: string | null }>;

/** The place that is there at once. */
export const firstPage: PlacePage = RunPage;

/** The others, fetched when someone goes there, or when there is nothing else to do. */
export const laterPages: Record<Exclude<Place, 'run'>, () => Promise<PlacePage>> = {
  field: () => import('./field/field-page.tsx').then(({ FieldPage }) => FieldPage),
  plan: () =>
    import('./plan-page.tsx').then(({ PlanPage }) => ({ detail }) => <PlanPage startAt={detail} />),
  preferences: () => import('./preferences-page.tsx').then(({ PreferencesPage }) => PreferencesPage),
  runs: () =>
    import('./runs-page.tsx').then(({ RunsPage }) => ({ detail }) => <RunsPage id={detail} />),
  setting: () => import('./setting-page.tsx').then(({ SettingPage }) => SettingPage),
  sheet: () => import('./sheet-page.tsx').then(({ SheetPage }) => SheetPage),
  stand: () => import('./stand-page.tsx').then(({ StandPage }) => StandPage),
};
