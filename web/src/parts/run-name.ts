import { say } from '../state/say.ts';

/** The name of a run in the language of the page; the server calls them `run 1`, `run 2` and so on. */
export function runName(name: string): string {
  const number = /^run (\d+)$/.exec(name)?.[1];
  return number === undefined ? name : say.setting.runs.name({ number });
}
