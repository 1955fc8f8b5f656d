import { useState } from 'preact/hooks';
import type { CodeAnswer } from '../../../../server/http/access-messages.ts';
import { offerCode, type Role } from '../../state/people.ts';
import { say } from '../../state/say.ts';
import { problemWords } from './problem.ts';

const words = say.access;
const choices: Role[] = ['watch', 'operate', 'manage'];

/** The code as it was shown once; it cannot be had again. */
function Shown({ code, millisLeft }: CodeAnswer) {
  return (
    <div class="access-code" role="status">
      <span>{words.codeIs}</span>
      <strong translate={false}>{code}</strong>
      <span class="help">{words.codeHolds({ minutes: Math.round(millisLeft / 60_000) })}</span>
    </div>
  );
}

/** Letting a device in: what it may, and the code to be typed in there. */
export function LetIn() {
  const [role, setRole] = useState<Role>('operate');
  const [shown, setShown] = useState<CodeAnswer | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const show = async () => {
    const answer = await offerCode(role);
    setShown(answer.ok ? answer.value : null);
    setProblem(problemWords(answer));
  };
  return (
    <div>
      <h3>{words.letInTitle}</h3>
      <p class="help">{words.letInIntro}</p>
      <fieldset class="preference">
        <legend>{words.letInFor}</legend>
        {choices.map((one) => (
          <label key={one}>
            <input type="radio" name="let-in" checked={role === one} onChange={() => setRole(one)} />
            <span>{words.roleChoices[one]}</span>
          </label>
        ))}
      </fieldset>
      <button type="button" onClick={() => void show()}>
        {words.showCode}
      </button>
      {shown !== null && <Shown {...shown} />}
      <p class="fault" aria-live="polite">
        {problem}
      </p>
    </div>
  );
}
