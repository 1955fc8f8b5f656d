import { describe, expect, it } from 'vitest';
import { say, speak } from '../../web/src/state/say.ts';
import { en } from '../../web/texts/en/index.ts';

describe('what the page says', () => {
  it('is plain words, or a function of the values that it wants', () => {
    expect(say.page.name).toBe('Catchbench');
    expect(say.live.target({ grams: '85.0' })).toBe('target 85.0 g');
    expect(say.caution.hand).toHaveLength(en.caution.hand.length);
  });

  it('counts as the language does', () => {
    expect(say.setting.stop.more({ runs: 1 })).toBe('Probably 1 more run.');
    expect(say.setting.stop.more({ runs: 3 })).toBe('Probably 3 more runs.');
  });

  it('follows the language, also where a topic was taken aside before', () => {
    const { live } = say;
    speak({ ...en, live: { ...en.live, catch: 'Prise', kept: 'tenu {percent, number} %' } }, 'fr');
    expect(live.catch).toBe('Prise');
    expect(live.kept({ percent: 12.5 })).toBe('tenu 12,5 %');
    speak(en, 'en');
    expect(live.catch).toBe('Catch');
  });

  it('lets no value be forgotten or misspelt', () => {
    // @ts-expect-error: the value is missing
    const missing = () => say.live.target();
    // @ts-expect-error: the value has another name
    const misspelt = () => say.live.target({ gram: '85.0' });
    // @ts-expect-error: a number is wanted, not words
    const words = () => say.setting.stop.more({ runs: '1' });
    // @ts-expect-error: there is no such text
    const unknown = () => say.live.nothing;
    expect(missing).toThrow();
    expect(misspelt).toThrow();
    expect(words).toBeTypeOf('function');
    expect(unknown()).toBeUndefined();
  });
});
