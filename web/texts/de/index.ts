import { access } from './access.ts';
import { beforeRun } from './before-run.ts';
import { fieldCheck, seedNeeded } from './field-check.ts';
import { findings, offer } from './findings.ts';
import { form } from './form.ts';
import { kept } from './kept.ts';
import { age, page, places, problem, socket, units } from './page.ts';
import { paper } from './paper.ts';
import { preferences } from './preferences.ts';
import { records } from './records.ts';
import { caution, live, result, runs, strip, throwAway } from './run.ts';
import { scale } from './scale.ts';
import { setting } from './setting.ts';
import { setup } from './setup.ts';
import { sheet } from './sheet.ts';
import { stand } from './stand.ts';
import { standCheck } from './stand-check.ts';
import { acts, conditions, hints, outcomes, phases, verdicts, verdictWords } from './words.ts';

/** Everything that the page says in German, by topic. */
export const de = {
  access,
  acts,
  age,
  beforeRun,
  caution,
  conditions,
  fieldCheck,
  findings,
  form,
  hints,
  kept,
  live,
  offer,
  outcomes,
  page,
  paper,
  phases,
  places,
  preferences,
  problem,
  records,
  result,
  runs,
  scale,
  seedNeeded,
  setting,
  setup,
  sheet,
  socket,
  stand,
  standCheck,
  strip,
  throwAway,
  units,
  verdicts,
  verdictWords,
} as const;
