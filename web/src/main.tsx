import { render } from 'preact';
import { App } from './parts/app.tsx';
import { fetchAllPages } from './parts/here.tsx';
import { keepAwake } from './state/awake.ts';
import { keepPage } from './state/kept-page.ts';
import { speakOwnLanguage } from './state/preferences.ts';
import { soundRuns } from './state/sounds.ts';
import { wire } from './state/wire.ts';

/** By then a page that someone has just opened is painted and has its first figures. */
const quietMillis = 1500;

wire();
keepAwake();
soundRuns();
// Without its texts the page speaks English.
await speakOwnLanguage();
render(<App />, document.getElementById('page')!);
setTimeout(() => void fetchAllPages().then(keepPage), quietMillis);
