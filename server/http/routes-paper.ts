import type { FastifyInstance, FastifyReply } from 'fastify';
import Type, { type Static } from 'typebox';
import { DeskError } from '../calibration/desk.ts';
import { composeLid } from '../paper/compose/lid.ts';
import { composeSheet } from '../paper/compose/sheet.ts';
import type { Paper, PaperFacts, PaperWish } from '../paper/compose/types.ts';
import { type PaperSources, paperFacts } from '../paper/facts.ts';
import { paperSizes } from '../paper/pdf/canvas.ts';
import { Press } from '../paper/pdf/press.ts';
import { paperTeller } from '../paper/told.ts';
import { paperLanguages, paperWords } from '../paper/words.ts';
import { CalibrationView } from './calibration-messages.ts';
import { Plan, Problem } from './messages.ts';
import { sendNotFound } from './problems.ts';

/** The sheet of a calibration and the setting chart for the lid: as PDF, and what they are made from. */

const IdText = Type.String({ pattern: '^[0-9a-f-]{36}$' });
const FactsQuery = Type.Object({ calibration: Type.Optional(IdText) }, { additionalProperties: false });
const PdfQuery = Type.Object(
  {
    calibration: Type.Optional(IdText),
    paper: Type.Optional(Type.Enum([...paperSizes])),
    units: Type.Optional(Type.Enum(['metric', 'us'])),
    language: Type.Optional(Type.Enum([...paperLanguages])),
  },
  { additionalProperties: false },
);
type PdfQuery = Static<typeof PdfQuery>;

const FactsAnswer = Type.Object({
  view: CalibrationView,
  plan: Plan,
  demo: Type.Boolean(),
  version: Type.String(),
  madeAt: Type.String({ description: 'ISO 8601, UTC' }),
});

const nothingYet =
  'There is nothing to print yet: the sheet comes with the first run of a calibration that knows the setting scale.';

const kinds = {
  sheet: { compose: composeSheet, summary: 'The sheet of a calibration, as PDF' },
  lid: { compose: composeLid, summary: 'The setting chart for the lid, as PDF' },
} satisfies Record<
  string,
  { compose: (facts: PaperFacts, wish: PaperWish) => Paper | null; summary: string }
>;

/** What to make it from, or null after having told that there is no such calibration. */
async function factsOr404(
  sources: PaperSources,
  calibration: string | undefined,
  reply: FastifyReply,
): Promise<PaperFacts | null> {
  try {
    return await paperFacts(sources, calibration ?? null);
  } catch (error) {
    if (!(error instanceof DeskError)) throw error;
    sendNotFound(reply, error.message);
    return null;
  }
}

export function addPaperRoutes(app: FastifyInstance, sources: PaperSources): void {
  const press = new Press();
  app.addHook('onClose', () => press.close());
  app.get<{ Querystring: Static<typeof FactsQuery> }>(
    '/api/paper/facts',
    {
      schema: {
        summary:
          'What sheet and lid chart of a calibration are made from; of the one in hand where none is named',
        querystring: FactsQuery,
        response: { 200: FactsAnswer, 404: Problem },
      },
    },
    async ({ query }, reply) => (await factsOr404(sources, query.calibration, reply)) ?? reply,
  );

  for (const [name, { compose, summary }] of Object.entries(kinds)) {
    app.get<{ Querystring: PdfQuery }>(
      `/api/paper/${name}.pdf`,
      { schema: { summary, querystring: PdfQuery, response: { 404: Problem } } },
      async ({ query }, reply) => {
        const facts = await factsOr404(sources, query.calibration, reply);
        if (facts === null) return reply;
        const { language = 'en', units: system = 'metric', paper: size = 'A4' } = query;
        const words = paperWords(language);
        const paper = compose(facts, { words, tell: paperTeller(language), language, system });
        if (paper === null) return sendNotFound(reply, nothingYet);
        return reply
          .type('application/pdf')
          .header('content-disposition', `inline; filename="catchbench-${name}.pdf"`)
          .send(await press.print({ paper, size, language, madeAt: facts.madeAt }));
      },
    );
  }
}
