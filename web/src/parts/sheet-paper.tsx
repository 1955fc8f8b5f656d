import { qrPath } from '../../../server/paper/compose/qr.ts';
import type {
  KeyFigure,
  Paper,
  PaperSection,
  PaperTable,
  RowLook,
} from '../../../server/paper/compose/types.ts';

/** A paper as the page shows and prints it: the same content as in the PDF, laid out by the browser. */

const classOf: Record<RowLook, string> = { plain: '', sought: 'nearest', faint: 'beyond' };

function Table({ table: { columns, rows } }: { table: PaperTable }) {
  return (
    <table class={columns.length > 4 ? 'runs marks-table' : 'marks-table'}>
      <thead>
        <tr>
          {columns.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ look, cells }) => (
          <tr key={cells.join()} class={classOf[look]}>
            {cells.map((cell, column) =>
              column === 0 ? (
                <th key={columns[column]} scope="row">
                  {cell}
                </th>
              ) : (
                <td key={columns[column]} data-name={columns[column]}>
                  {cell}
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Keys({ keys }: { keys: readonly KeyFigure[] }) {
  return (
    <div class="sheet-keys">
      {keys.map(({ name, value, unit, more }) => (
        <p key={name}>
          {name}{' '}
          <b>
            {value} {unit !== '' && <small>{unit}</small>}
          </b>{' '}
          {more}
        </p>
      ))}
    </div>
  );
}

/** The code keeps black on white in every scheme: readers want it so. */
function Code({ text, caption }: Paper['code']) {
  const { size, path } = qrPath(text);
  return (
    <figure class="sheet-code">
      <svg viewBox={`0 0 ${size} ${size}`} role="img" aria-label={text} shape-rendering="crispEdges">
        <rect width={size} height={size} fill="#ffffff" />
        <path d={path} fill="#000000" />
      </svg>
      <figcaption>{caption}</figcaption>
    </figure>
  );
}

function Section({ section: { title, paragraphs, points, tables } }: { section: PaperSection }) {
  return (
    <section>
      <h3>{title}</h3>
      {paragraphs.map((text) => (
        <p key={text}>{text}</p>
      ))}
      {points.length > 0 && (
        <ul class="sentences">
          {points.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <div class={tables.length > 1 ? 'sheet-columns' : ''}>
        {tables.map((table) => (
          <Table key={table.rows[0]?.cells.join()} table={table} />
        ))}
      </div>
    </section>
  );
}

function Signature({ names }: { names: readonly string[] }) {
  return (
    <dl class="signature">
      {names.map((name) => (
        <div key={name}>
          <dd />
          <dt>{name}</dt>
        </div>
      ))}
    </dl>
  );
}

/** Everything below the title. */
export function SheetPaper({ paper }: { paper: Paper }) {
  return (
    <>
      {paper.warnings.map((text) => (
        <p key={text} class="sheet-warning">
          {text}
        </p>
      ))}
      <div class="sheet-top">
        <div class="sheet-told">
          {paper.keys.length > 0 && <Keys keys={paper.keys} />}
          <dl class="sheet-facts">
            {paper.facts.map(([name, value]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
        </div>
        <Code {...paper.code} />
      </div>
      {paper.sections.map((section) => (
        <Section key={section.title} section={section} />
      ))}
      {paper.signature.length > 0 && <Signature names={paper.signature} />}
      <p class="note">{paper.madeBy}</p>
    </>
  );
}
