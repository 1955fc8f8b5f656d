import { useState } from 'preact/hooks';
import type { Kind } from '../../../../server/http/records-messages.ts';
import type { Answer } from '../../state/api.ts';
import { date, when } from '../../state/format.ts';
import { bringBackItem, findItems, findRuns } from '../../state/records/api.ts';
import { useAsked, whyRefused } from '../../state/records/asked.ts';
import { daysLeft } from '../../state/records/history.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { Waiting } from './waiting.tsx';

const words = say.records;

interface Gone {
  kind: Kind;
  id: string;
  name: string;
  deletedAt: string;
}

/** All that can still be brought back, the newest deletion first. */
async function readGone(): Promise<Answer<Gone[]>> {
  const search = { deleted: 'yes' } as const;
  const [runs, calibrations, drills, mixes] = await Promise.all([
    findRuns(search),
    findItems('calibration', search),
    findItems('drill', search),
    findItems('mix', search),
  ]);
  if (!runs.ok) return runs;
  if (!calibrations.ok) return calibrations;
  if (!drills.ok) return drills;
  if (!mixes.ok) return mixes;
  const gone: Gone[] = [
    ...runs.value.items.map(({ id, startedAt, deletedAt, plan }) => ({
      ...{ kind: 'run' as const, id, deletedAt: deletedAt ?? '' },
      name: `${words.deleted.run({ when: when(startedAt) })}, ${plan.drill.name}, ${plan.seed.name}`,
    })),
    ...calibrations.value.items.map(({ id, createdAt, deletedAt }) => ({
      ...{ kind: 'calibration' as const, id, deletedAt: deletedAt ?? '' },
      name: `${words.fields.calibrationId}, ${date(createdAt)}`,
    })),
    ...[...drills.value.items, ...mixes.value.items].map(({ id, deletedAt, fields }) => ({
      ...{ id, deletedAt: deletedAt ?? '', name: fields.name },
      kind: 'rowCount' in fields ? ('drill' as const) : ('mix' as const),
    })),
  ];
  return { ok: true, value: gone.toSorted((a, b) => (a.deletedAt < b.deletedAt ? 1 : -1)) };
}

function Row({ gone, onBack }: { gone: Gone; onBack: () => void }) {
  const [told, tell] = useState('');
  const back = async () => {
    const answer = await bringBackItem(gone.kind, gone.id);
    if (answer.ok) onBack();
    else tell(whyRefused(answer));
  };
  return (
    <li class="row">
      <span>
        {gone.name} <small>{words.deleted.left({ days: daysLeft(gone.deletedAt, Date.now()) })}</small>
      </span>
      <button type="button" onClick={() => void back()}>
        {words.deleted.back}
        <span class="unseen"> {gone.name}</span>
      </button>
      <span class="fault" role="alert">
        {told}
      </span>
    </li>
  );
}

/** What was deleted in the last 30 days. */
export function DeletedPage() {
  const [times, again] = useState(0);
  const asked = useAsked(readGone, [times]);
  return (
    <section class="panel records" aria-labelledby="deleted-title">
      <p>
        <a href={address('runs', recordsDetail({ view: 'search' }))}>{words.back}</a>
      </p>
      <h2 id="deleted-title" class="page-title">
        {words.deleted.title}
      </h2>
      <p class="help">{words.deleted.intro}</p>
      <Waiting asked={asked}>
        {(list) =>
          list.length === 0 ? (
            <p>{words.deleted.none}</p>
          ) : (
            <ul class="things">
              {list.map((gone) => (
                <Row key={gone.id} gone={gone} onBack={() => again(times + 1)} />
              ))}
            </ul>
          )
        }
      </Waiting>
    </section>
  );
}
