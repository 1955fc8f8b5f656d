import type { Fault } from '../../state/form.ts';
import { say } from '../../state/say.ts';

const { errors } = say.setup;

type SetupFault = Extract<Fault, { kind: keyof typeof errors }>;

/** What is wrong with the figures of a set-up together, in a sentence. */
export function setupFaultWords(fault: SetupFault): string {
  switch (fault.kind) {
    case 'no-such-mark':
      return errors['no-such-mark']({ marks: fault.marks });
    case 'more-than-rows':
      return errors['more-than-rows']({ rows: fault.rows });
    case 'shares':
    case 'too-thick':
    case 'tag':
      return errors[fault.kind]({ percent: fault.percent });
    default:
      return errors[fault.kind];
  }
}
