// Newest wins, at most one call in `ms`, never two under way at once; the last value always gets through.

/** `act(value)` may answer a promise; `push(value)` hands over the newest value; `stop()` forgets what is waiting. */
export function newest(act, ms = 100) {
  let waiting = null; // {value} not yet handed over
  let busy = false;
  let clock = null;
  let last = -Infinity;

  async function run() {
    clock = null;
    if (busy || !waiting) return;
    const { value } = waiting;
    waiting = null;
    busy = true;
    last = Date.now();
    try {
      await act(value);
    } finally {
      busy = false;
      plan();
    }
  }

  function plan() {
    if (waiting && !busy && clock === null) clock = setTimeout(run, Math.max(0, last + ms - Date.now()));
  }

  return {
    push(value) {
      waiting = { value };
      plan();
    },
    stop() {
      waiting = null;
      clearTimeout(clock);
      clock = null;
    },
  };
}
