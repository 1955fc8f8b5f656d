import type { Clock } from '../clock.ts';
import type { LinkView } from '../http/messages.ts';
import type { PortObject } from './port.ts';
import type { PortChoice } from './ports.ts';
import type { BoardLine, Identity } from './readings.ts';

export interface LinkOptions {
  clock: Clock;
  /** Makes a port object that is not open yet (`autoOpen: false`); called for every attempt. May throw. */
  createPort: (path: string) => PortObject;
  listPorts: () => Promise<PortChoice[]>;
  /** The port to use, or null to take the only one there is. */
  path: string | null;
  /** Every line taken from our board, in order, and its text as it came (check included, line end not). */
  onLine: (line: BoardLine, text: string) => void;
  /** Called when anything in `view()` but the age has changed, and when the settings have been read. */
  onStatus: (view: LinkView) => void;
  /** The board was reset, or another one is there: called before that identity's `onLine`. Not for the first board. */
  onBoot?: (identity: Identity) => void;
  /** 0 to below 1; spreads the waits between attempts. */
  random?: () => number;
}
