// Live state: a server-sent stream where the network lets it through, polling where it does not.
//
// Each message carries the whole state ("state"), or some of its outer keys ("part"), so a late joiner, a
// lost message or a woken laptop needs no replay. School filters may refuse a stream or hold it back in a
// buffer; both show as silence, and silence starts the polling. A hidden page closes its stream: browsers
// allow only six connections a host, and a sleeping tab should not hold a place.

const TIMES = {
  first: 4000, // a stream that has said nothing by then is being held back
  silence: 40000, // the server's beat comes every 15 s: two missed and a bit
  poll: 3000,
  pollMost: 15000, // polling backs off to this while the network is away
  again: 10000, // first wait before the stream is tried again, doubled each time
  againMost: 120000,
  hide: 2000, // a glance at another tab is not worth a new stream
};

/** True when `next` should replace `last`: a newer version, or the first one of another epoch. */
export function newer(last, next) {
  if (!last) return true;
  return next.epoch !== last.epoch || next.version > last.version;
}

/**
 * Follow `${base}/live` (stream) or `${base}/state?since=n` (poll); calls `onState(state)` for each newer state.
 *
 * `onStatus(word)` hears "live", "polling", "offline" (no answer at all) and "gone" (401, 403, 404, 410: signed
 * out or removed; listening has stopped). Answers `{close(), refresh(), state()}`.
 * @param {string} base
 * @param {(state: any) => void} onState
 * @param {{onStatus?: (word: string) => void, times?: Partial<typeof TIMES>, env?: any}} [options] `env` stands for the browser in tests.
 */
export function listen(base, onState, { onStatus = () => {}, times = {}, env = globalThis } = {}) {
  const t = { ...TIMES, ...times };
  let last = null;
  let status = null;
  let stream = null;
  let done = false;
  let wait = t.again;
  let pace = t.poll;
  let asking = false;
  const clocks = {};

  const stop = (name) => {
    clearTimeout(clocks[name]);
    clocks[name] = null;
  };
  const after = (name, ms, act) => {
    stop(name);
    clocks[name] = setTimeout(act, ms);
  };
  const jitter = (ms) => ms * (0.85 + 0.3 * Math.random());
  const tell = (word) => {
    if (word !== status) onStatus((status = word));
  };

  function take(state) {
    if (!newer(last, state)) return;
    last = state;
    onState(state);
  }

  function heard(word = "live") {
    wait = t.again;
    stop("poll");
    after("silence", t.silence, lost);
    tell(word);
  }

  function open() {
    stop("again");
    if (done || stream || env.document?.hidden) return;
    if (!env.EventSource) {
      poll();
      return;
    }
    stream = new env.EventSource(`${base}/live`);
    stream.addEventListener("state", (message) => {
      heard();
      take(JSON.parse(message.data));
    });
    stream.addEventListener("part", (message) => {
      heard();
      if (last) take({ ...last, ...JSON.parse(message.data) });
    });
    stream.addEventListener("beat", () => heard());
    stream.addEventListener("gone", gone);
    stream.addEventListener("error", lost);
    after("silence", t.first, lost);
  }

  function shut() {
    stop("silence");
    stream?.close();
    stream = null;
  }

  /** The stream was refused, dropped or held back: poll, and try it again later. */
  function lost() {
    shut();
    if (status === "live") status = null; // whatever comes next is news
    if (done || env.document?.hidden) return;
    after("again", jitter(wait), open);
    wait = Math.min(wait * 2, t.againMost);
    poll();
  }

  async function poll() {
    stop("poll");
    if (done || asking) return;
    asking = true;
    try {
      await ask();
    } finally {
      asking = false;
    }
    // Only while no stream speaks: status "live" means that one does.
    if (!done && status !== "live" && !env.document?.hidden) after("poll", jitter(pace), poll);
  }

  async function ask() {
    const since = last ? `?since=${last.version}` : "";
    let answer;
    try {
      answer = await env.fetch(`${base}/state${since}`, { credentials: "same-origin", cache: "no-store" });
      if (done) return;
      if ([401, 403, 404, 410].includes(answer.status)) {
        gone();
        return;
      }
      if (answer.status === 200) take(await answer.json());
    } catch {
      pace = Math.min(pace * 1.5, t.pollMost);
      if (!done) tell("offline");
      return;
    }
    if (answer.status >= 429) {
      pace = Math.min(pace * 1.5, t.pollMost); // busy: leave it room
      return;
    }
    pace = t.poll;
    // A stream that is still opening speaks for itself when it does.
    if (status !== "live" || !stream) tell("polling");
  }

  function gone() {
    tell("gone");
    close();
  }

  function seen() {
    if (env.document.hidden) {
      after("hide", t.hide, () => {
        if (!env.document.hidden) return;
        for (const name of ["poll", "again"]) stop(name);
        shut();
        status = null;
      });
      return;
    }
    stop("hide");
    if (!done && !stream) {
      wait = t.again;
      refresh();
      open();
    }
  }

  /** Ask for the state now, whatever carries it. */
  function refresh() {
    if (!done && !asking) {
      asking = true;
      ask().finally(() => {
        asking = false;
      });
    }
  }

  function back() {
    pace = t.poll;
    if (!done && status !== "live") lost();
  }

  function close() {
    done = true;
    for (const name of Object.keys(clocks)) stop(name);
    shut();
    env.document?.removeEventListener("visibilitychange", seen);
    env.removeEventListener?.("online", back);
  }

  env.document?.addEventListener("visibilitychange", seen);
  env.addEventListener?.("online", back);
  open();
  return { close, refresh, state: () => last };
}
