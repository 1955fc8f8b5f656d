import type { HereAnswer } from '../../../../server/http/access-messages.ts';
import { say } from '../../state/say.ts';

/** What someone is called on the page. */
export function nameOf(people: HereAnswer, id: string): string {
  const person = people.people.find((one) => one.id === id);
  if (person === undefined) return say.access.nobody;
  return person.name === '' ? say.access.host : person.name;
}
