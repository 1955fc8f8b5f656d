import { render } from 'preact';
import { App } from './parts/app.tsx';
import { wire } from './state/wire.ts';

wire();
render(<App />, document.getElementById('page')!);
