import { Link, type LinkOptions } from '../link/link.ts';
import type { BoardLine, Identity } from '../link/readings.ts';
import type { StandLine } from './conductor.ts';

/** A link of one's own to a stand, for a check without the service. */
export interface OwnLine extends StandLine {
  /** The state of the link in words. */
  sentence(): string;
  close(): Promise<void>;
}

/** Opens a link; `changed` is called whenever `known` or `sentence` may have changed. */
export function openLine(
  options: Pick<LinkOptions, 'clock' | 'createPort' | 'listPorts' | 'path'>,
  changed: () => void,
): OwnLine {
  const listeners = new Set<Parameters<StandLine['listen']>[0]>();
  let identity: Identity | null = null;
  const link = new Link({
    ...options,
    onLine: (line: BoardLine) => {
      if (line.kind === 'identity') identity = line;
      for (const listener of listeners) listener.line(line);
    },
    onBoot: (next) => {
      // Renamed in the same boot: still the one.
      if (next.boot === identity?.boot) return;
      for (const listener of listeners) listener.lost();
    },
    onStatus: (view) => {
      if (view.board === null) for (const listener of listeners) listener.lost();
      changed();
    },
  });
  link.start();
  return {
    send: (command) => link.send(command),
    stopNow: () => link.stopNow(),
    known() {
      const settings = link.settings();
      return link.view().board === null || identity === null || settings === null
        ? null
        : { identity, settings };
    },
    listen(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    sentence: () => link.view().sentence,
    close: () => link.stop(),
  };
}
