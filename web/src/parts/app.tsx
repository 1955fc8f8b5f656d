import { useEffect, useRef } from 'preact/hooks';
import { mustPair } from '../state/people.ts';
import { say } from '../state/say.ts';
import { live, refusal } from '../state/store.ts';
import { Pairing, WhoHoldsTheWheel } from './access/later.tsx';
import { ActBar } from './act-bar.tsx';
import { Announcer } from './announcer.tsx';
import { Banner } from './banner.tsx';
import { Here } from './here.tsx';
import { DarkScreen, NewVersion } from './kept-note.tsx';
import { TopBar } from './top-bar.tsx';

/** Why the last act was refused, until it is closed or the next one succeeds. */
function Refusal() {
  if (refusal.value === null) return null;
  return (
    <div class="refusal" role="alert">
      <p>{refusal.value}</p>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          refusal.value = null;
        }}
      >
        {say.problem.close}
      </button>
    </div>
  );
}

/** What can be done, with its height told to whatever has to stay above it. */
function Foot() {
  const foot = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const watch = new ResizeObserver(() =>
      document.documentElement.style.setProperty('--foot', `${foot.current?.offsetHeight ?? 0}px`),
    );
    watch.observe(foot.current!);
    return () => watch.disconnect();
  }, []);
  return (
    <div class="foot" ref={foot}>
      <Refusal />
      <ActBar />
    </div>
  );
}

/** The whole page: what is going on above, the chosen place in the middle, what can be done below, always. */
export function App() {
  if (mustPair.value) return <Pairing />;
  return (
    <>
      <button type="button" class="skip" onClick={skipToActs}>
        {say.page.skip}
      </button>
      <header>
        <TopBar />
        <Banner />
        <WhoHoldsTheWheel />
        <NewVersion />
        <DarkScreen />
        {live.value.demo && (
          <p class="demo-note">
            <strong>{say.page.demo}</strong> {say.page.demoNote}
          </p>
        )}
      </header>
      <main id="main">
        <Here />
      </main>
      <Foot />
      <Announcer />
    </>
  );
}

function skipToActs(): void {
  document.querySelector<HTMLElement>('#acts button:not(:disabled)')?.focus();
}
