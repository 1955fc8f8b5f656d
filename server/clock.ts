/**
 * The host's time, as something one can hand in: the real clock in the service, the emulated stand's clock in tests, so that
 * a timeout of one second means one second of the stand's time however fast it runs.
 */
export interface Clock {
  /** Milliseconds on a clock that never goes back. Only differences mean anything. */
  now(): number;
  /** Calls `task` once after `milliseconds`; the returned function cancels it. */
  after(milliseconds: number, task: () => void): () => void;
}

export const systemClock: Clock = {
  now: () => performance.now(),
  after(milliseconds, task) {
    const timer = setTimeout(task, milliseconds);
    return () => clearTimeout(timer);
  },
};
