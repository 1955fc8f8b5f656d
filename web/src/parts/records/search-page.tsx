import { findItems } from '../../state/records/api.ts';
import { useAsked } from '../../state/records/asked.ts';
import { recordsDetail } from '../../state/records/route.ts';
import { wanted } from '../../state/records/search.ts';
import { address } from '../../state/route.ts';
import { say } from '../../state/say.ts';
import { live } from '../../state/store.ts';
import { FoundList } from './found.tsx';
import { SearchForm } from './search-form.tsx';

const words = say.records;

/** More names than a list to choose from has a use for. */
const mostNames = '500';

/** The records: a search, and what it finds. */
export function SearchPage() {
  const restores = live.value.recordsNews;
  const drills = useAsked(() => findItems('drill', { limit: mostNames }), [restores]);
  const mixes = useAsked(() => findItems('mix', { limit: mostNames }), [restores]);
  const [ofDrills, ofMixes] = [
    drills.state === 'here' ? drills.value.items : [],
    mixes.state === 'here' ? mixes.value.items : [],
  ];
  const names = new Map([...ofDrills, ...ofMixes].map(({ id, fields }) => [id, fields.name]));
  return (
    <section class="panel records" aria-labelledby="records-title">
      <div class="records-head">
        <h2 id="records-title" class="page-title">
          {words.title}
        </h2>
        <p class="row">
          <a class="button" href={address('runs', recordsDetail({ view: 'keeping' }))}>
            {words.keeping.title}
          </a>
          <a class="button" href={address('runs', recordsDetail({ view: 'deleted' }))}>
            {words.deleted.title}
          </a>
        </p>
      </div>
      <SearchForm drills={ofDrills} mixes={ofMixes} />
      <FoundList key={restores} wanted={wanted.value} names={names} />
    </section>
  );
}
