import { configurationFields, drillFields, mixFields, type Places } from '../calibration/identity.ts';
import { type ExportedItem, type ExportFile, exportVersion, formatName } from '../records/export-schema.ts';
import type { Fields } from '../records/model.ts';
import { Chronicle } from './ids.ts';
import { mixes, planOf, type Visit, visits } from './scenario.ts';
import { VisitMaker, type VisitRecords } from './visit.ts';

/** Raised whenever the week tells something else, so that records of the demo that have it already get the new one's additions. */
export const weekEdition = 1;

/** A drill whose wheel was first taped to the nearest 5 cm in the office, and rolled out in the shop before the runs. */
function taped(chronicle: Chronicle, at: string, fields: Fields<'drill'>): string {
  const { circumferenceMetres, circumferenceDoubtMetres } = fields;
  const rough = Math.round(circumferenceMetres * 20) / 20;
  const before = new Date(Date.parse(at) - 3600_000).toISOString();
  const asTaped = { ...fields, circumferenceMetres: rough, circumferenceDoubtMetres: 0.03 };
  const id = chronicle.create('drill', before, asTaped, 'the office');
  const rolledOut = { circumferenceMetres, circumferenceDoubtMetres };
  chronicle.change(id, at, rolledOut, 'the shop', 'the stand in the shop');
  return id;
}

/** What the visit is about, put on record where it is not yet; `known`: ids by kind and name. */
function placesOf(
  visit: Visit,
  chronicle: Chronicle,
  known: Map<string, string>,
): { places: Places; items: ExportedItem[] } {
  const plan = planOf(visit, visit.firstSetting);
  const { at } = visit;
  const made: string[] = [];
  const once = (key: string, create: () => string): string => {
    const id = known.get(key) ?? create();
    if (!known.has(key)) made.push(id);
    known.set(key, id);
    return id;
  };
  const drillId = once(visit.drill, () => taped(chronicle, at, drillFields(plan)));
  const configurationId = once(`${visit.drill} ${visit.gate}`, () =>
    chronicle.create('configuration', at, configurationFields(plan, drillId)!),
  );
  const parts = mixes[visit.mix].species.map(({ name, massShare }) => ({
    ...{ lotId: null, name, share: massShare, fullRateGramsPerSquareMetre: null },
  }));
  const mixId = once(visit.mix, () => chronicle.create('mix', at, { ...mixFields(plan), parts }));
  return {
    places: { drillId, configurationId, mixId },
    items: made.map((id) => chronicle.item(id)),
  };
}

/**
 * The week in parts, one a visit, in the order in which they can be put on record: the same each time, to the last digit. All of it is marked as demo
 * data: each run by its own mark, the rest by the store that it is in.
 */
export function* demoWeek(): Generator<VisitRecords> {
  const chronicle = new Chronicle('spring week');
  const known = new Map<string, string>();
  for (const visit of visits) {
    const { places, items } = placesOf(visit, chronicle, known);
    const made = new VisitMaker(visit, places, chronicle).make();
    yield { items: [...items, ...made.items], runs: made.runs };
  }
}

/** The whole week as one export, for those who want to look at it or take it elsewhere. */
export function demoWeekFile(): ExportFile {
  const parts = [...demoWeek()];
  return {
    ...{ format: formatName, version: exportVersion, exportedAt: '2026-04-18T18:00:00.000Z' },
    items: parts.flatMap(({ items }) => items),
    runs: parts.flatMap(({ runs }) => runs),
  };
}
