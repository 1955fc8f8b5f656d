import { mayTurn } from './acts.ts';
import type { LiveState } from './live.ts';
import { offerOf } from './offer.ts';
import type { Say } from './say.ts';
import { type Verdict, verdict } from './verdict.ts';

/** How the headline looks; each tone has its own sign, and the words say it anyway. */
export type Tone = 'rest' | 'wait' | 'care' | 'turn' | 'wrong' | Verdict;

export interface Headline {
  tone: Tone;
  word: string;
  /** In the language of the page, or as the server says it where `told`. */
  sentence: string;
  told: boolean;
}

type Run = NonNullable<LiveState['run']>;
type Link = NonNullable<LiveState['link']>;

/** What is going on, in a word and a sentence: a lost connection first, then the run, then whatever keeps one from beginning. */
export function headline(state: LiveState, texts: Say): Headline {
  const { run, link, socket, attempt } = state;
  if (socket !== 'open' && attempt > 0) {
    const sentence = mayTurn(state) ? texts.socket.lostTurning : texts.socket.lost;
    return { tone: 'wrong', word: texts.socket.lostWord, sentence, told: false };
  }
  if (run === null || link === null) {
    return { tone: 'wait', word: texts.page.name, sentence: texts.socket.connecting, told: false };
  }
  const { phase } = run.figures;
  if (phase === 'finished') return ended(run, texts);
  if (link.condition !== 'connected' || (phase === 'idle' && link.board?.settings !== 'ok')) {
    return ofLink(link, phase, texts);
  }
  const tones = { idle: 'rest', taring: 'wait', ready: 'care', turning: 'turn', settling: 'wait' } as const;
  const sentence = offerOf(run)?.sentence ?? run.figures.sentence;
  return { tone: tones[phase], word: texts.phases[phase], sentence, told: true };
}

function ended(run: Run, texts: Say): Headline {
  const { outcome, sentence } = run.figures;
  const judged = verdict(run);
  if (outcome === 'complete' && judged !== null) {
    return { tone: judged, word: texts.verdictWords[judged], sentence, told: true };
  }
  const planned =
    outcome === null || outcome === 'complete' || outcome === 'stopped' || outcome === 'aborted';
  const word = outcome === null ? texts.phases.finished : texts.outcomes[outcome];
  return { tone: planned ? 'rest' : 'wrong', word, sentence, told: true };
}

function ofLink({ condition, sentence }: Link, phase: Run['figures']['phase'], texts: Say): Headline {
  const busy = condition === 'searching' || condition === 'opening' || condition === 'asking';
  const word = condition === 'connected' ? texts.socket.notSetUp : texts.conditions[condition];
  return { tone: busy && phase === 'idle' ? 'wait' : 'wrong', word, sentence, told: true };
}
