import { backoffMillis } from './backoff.ts';
import { type LiveEvent, parseMessage } from './live.ts';

/** A connection that has said nothing for this long is taken for dead. */
const deadMillis = 4000;

export interface SocketOptions {
  address: string;
  dispatch: (event: LiveEvent) => void;
  now: () => number;
}

/**
 * Keeps a socket to the server for as long as the page lives: opens it, hands on what comes, and when it closes or falls silent
 * opens a new one after a growing wait. Returns a function that tries at once.
 */
export function keepSocket({ address, dispatch, now }: SocketOptions): () => void {
  let socket: WebSocket | null = null;
  let attempt = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const watch = (milliseconds: number, task: () => void) => {
    clearTimeout(timer);
    timer = setTimeout(task, milliseconds);
  };

  const drop = () => {
    const old = socket;
    socket = null;
    old?.close();
    const wait = backoffMillis(attempt++, Math.random());
    dispatch({ type: 'closed', retryAt: now() + wait });
    watch(wait, open);
  };

  const open = () => {
    const opened = new WebSocket(address);
    socket = opened;
    dispatch({ type: 'connecting' });
    watch(deadMillis, drop);
    opened.onmessage = ({ data }) => {
      if (socket !== opened) return;
      watch(deadMillis, drop);
      const message = parseMessage(String(data));
      if (message === null) return;
      if (message.type === 'hello') attempt = 0;
      dispatch({ type: 'message', message, at: now() });
    };
    opened.onclose = () => {
      if (socket === opened) drop();
    };
  };

  open();
  return () => {
    if (socket !== null) return;
    clearTimeout(timer);
    open();
  };
}
