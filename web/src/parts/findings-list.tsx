import type { RunView } from '../../../server/http/messages.ts';
import type { Finding } from '../state/evidence-plot.ts';
import { chancePercent, turns } from '../state/format.ts';
import { say } from '../state/say.ts';
import { EvidencePicture } from './evidence-picture.tsx';
import { Sign } from './sign.tsx';
import { Told } from './told.tsx';

const words = say.findings;

const between = (from: string, until: string): string =>
  from === until ? words.at({ from }) : words.between({ from, until });

/** When, which bag, and how sure, in one line. */
function facts({ from, until, cell, sure }: Finding): string {
  const when =
    until === null
      ? words.since({ from: turns(from.turns) })
      : between(turns(from.turns), turns(until.turns));
  return [
    when,
    ...(cell === null ? [] : [words.bag({ number: cell + 1 })]),
    words.sure({ percent: chancePercent(sure) }),
  ].join(' · ');
}

function One({ finding }: { finding: Finding }) {
  const { kind, spoils, sentence, evidence } = finding;
  return (
    <li class={spoils ? 'finding finding-spoils' : 'finding'}>
      <Sign tone={spoils ? 'wrong' : 'rest'} />
      <div>
        <h3>
          {words.kinds[kind] ?? kind} <em>{spoils ? words.spoils : words.harmless}</em>
        </h3>
        <p class="note">{facts(finding)}</p>
        <p>
          <Told>{sentence}</Told>
        </p>
      </div>
      {evidence.series.length > 0 && <EvidencePicture evidence={evidence} />}
    </li>
  );
}

/** What the trace of a run shows: what spoils the run first, each with its reason drawn beside it. Nothing where it shows nothing. */
export function FindingsList({ figures }: { figures: RunView['figures'] }) {
  const found = figures.findings ?? [];
  if (found.length === 0) return null;
  const ordered = [...found.filter(({ spoils }) => spoils), ...found.filter(({ spoils }) => !spoils)];
  return (
    <section class="panel" aria-labelledby="trace-findings-title">
      <h2 id="trace-findings-title">{words.title}</h2>
      <ul class="findings">
        {ordered.map((finding) => (
          <One key={`${finding.kind} ${finding.cell} ${finding.from.seconds}`} finding={finding} />
        ))}
      </ul>
    </section>
  );
}

/** What spoils the run in hand, in a line above its figures; the list below tells the rest. */
export function Spoilt({ figures }: { figures: RunView['figures'] }) {
  const spoiling = (figures.findings ?? []).filter(({ spoils }) => spoils);
  if (spoiling.length === 0) return null;
  const kinds = [...new Set(spoiling.map(({ kind }) => words.kinds[kind] ?? kind))];
  return (
    <p class="spoilt" role="status">
      <Sign tone="wrong" /> {words.spoils}: {kinds.join(', ')}
    </p>
  );
}
