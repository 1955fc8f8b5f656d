import type { Texts } from '../../texts/en.ts';
import type { LiveState } from './live.ts';

/** How the headline looks; each tone has its own sign and its own ground, and the words say it anyway. */
export type Tone = 'rest' | 'wait' | 'care' | 'turn' | 'done' | 'wrong';

export interface Headline {
  tone: Tone;
  word: string;
  sentence: string;
}

/** What is going on, in a word and a sentence. The run speaks while there is one under way, else whatever keeps one from beginning. */
export function headline(state: LiveState, texts: Texts): Headline {
  const { run, link, socket } = state;
  if (run === null || link === null)
    return { tone: 'wait', word: texts.name, sentence: texts.socket.connecting };
  const { phase, outcome, sentence } = run.figures;
  const unlinked = link.condition !== 'connected';
  switch (phase) {
    case 'taring':
    case 'settling':
      return { tone: 'wait', word: texts.phases[phase], sentence };
    case 'ready':
      return { tone: 'care', word: texts.phases.ready, sentence };
    case 'turning':
      return { tone: 'turn', word: texts.phases.turning, sentence };
    case 'finished':
      return {
        tone:
          outcome === 'complete' ? 'done' : outcome === 'stopped' || outcome === 'aborted' ? 'rest' : 'wrong',
        word: outcome === null ? texts.phases.finished : texts.outcomes[outcome],
        sentence,
      };
    default:
      if (socket !== 'open' || !unlinked) return { tone: 'rest', word: texts.phases.idle, sentence };
      return {
        tone: isBusy(link.condition) ? 'wait' : 'wrong',
        word: texts.conditions[link.condition],
        sentence: link.sentence,
      };
  }
}

const isBusy = (condition: string): boolean => ['searching', 'opening', 'asking'].includes(condition);
