import { useEffect, useState } from 'preact/hooks';
import { composeLid } from '../../../server/paper/compose/lid.ts';
import { composeSheet } from '../../../server/paper/compose/sheet.ts';
import type { PaperFacts } from '../../../server/paper/compose/types.ts';
import { language } from '../state/language.ts';
import { readPaperFacts } from '../state/records/api.ts';
import {
  factsInHand,
  type PaperRoute,
  paperDetail,
  pdfPath,
  readPaperRoute,
} from '../state/records/paper.ts';
import { address } from '../state/route.ts';
import { say } from '../state/say.ts';
import { system } from '../state/store.ts';
import { toldWords } from '../state/told.ts';
import { SheetPaper } from './sheet-paper.tsx';

const words = say.sheet;

/** What a calibration of the records is printed from; null while it is read. */
function useFacts(calibrationId: string | null): PaperFacts | 'missing' | null {
  const [madeAt] = useState(() => new Date().toISOString());
  const [found, find] = useState<PaperFacts | 'missing' | null>(null);
  useEffect(() => {
    if (calibrationId === null) return;
    let wanted = true;
    find(null);
    void readPaperFacts(calibrationId).then((answer) => {
      if (wanted) find(answer.ok ? answer.value : 'missing');
    });
    return () => {
      wanted = false;
    };
  }, [calibrationId]);
  return calibrationId === null ? factsInHand(madeAt) : found;
}

function Nothing({ text }: { text: string }) {
  return (
    <section class="panel">
      <h2>{words.title}</h2>
      <p>{text}</p>
      <a href={address('setting')}>{words.toSetting}</a>
    </section>
  );
}

/** Sheet or lid chart, and the ways onto paper. */
function Choices({ wanted }: { wanted: PaperRoute }) {
  const kinds = [
    ['sheet', words.kinds.sheet],
    ['lid', words.kinds.lid],
  ] as const;
  const more = { units: system.value, language: language.value };
  return (
    <div class="sheet-choices no-print">
      <nav class="row" aria-label={words.which}>
        {kinds.map(([kind, name]) => (
          <a
            key={kind}
            class="button quiet"
            href={address('sheet', paperDetail({ ...wanted, kind }))}
            aria-current={kind === wanted.kind ? 'page' : undefined}
          >
            {name}
          </a>
        ))}
      </nav>
      <p class="row">
        <button type="button" class="go" onClick={() => print()}>
          {words.print}
        </button>
        {(['A4', 'Letter'] as const).map((paper) => (
          <a
            key={paper}
            class="button quiet"
            href={pdfPath(wanted, { ...more, paper })}
            target="_blank"
            rel="noreferrer"
          >
            {words.pdf({ paper })}
          </a>
        ))}
      </p>
    </div>
  );
}

/** What is handed over: the sheet of a calibration or the chart for the lid, on a page of A4 or Letter. `detail`: which, as the address says. */
export function SheetPage({ detail }: { detail: string | null }) {
  const wanted = readPaperRoute(detail);
  const facts = useFacts(wanted.calibrationId);
  if (facts === 'missing') return <Nothing text={words.missing} />;
  if (facts === null && wanted.calibrationId !== null) return <Nothing text={words.loading} />;
  const compose = wanted.kind === 'lid' ? composeLid : composeSheet;
  const wish = { words: say.paper, tell: toldWords, language: language.value, system: system.value };
  const paper = facts === null ? null : compose(facts, wish);
  if (paper === null) return <Nothing text={words.none} />;
  return (
    <article class={`panel sheet sheet-${wanted.kind}`} aria-labelledby="sheet-title">
      <Choices wanted={wanted} />
      <h2 id="sheet-title" class="page-title">
        {paper.title}
      </h2>
      <SheetPaper paper={paper} />
    </article>
  );
}
