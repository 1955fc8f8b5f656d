import { say } from '../../state/say.ts';

/** Says of a thing on record that it is demo data. */
export const DemoMark = () => <b class="demo-mark">{say.records.demo}</b>;
