// What a student hands in, kept until the server says that it has it.
//
// Each reply gets its own id and is sent again, with growing pauses, until it is acknowledged; the server stores an id once.
// Work in progress is kept by task, newest only. Both lie in the browser's storage while they wait, so that a reload or a closed
// lid loses nothing, and are wiped when acknowledged (N-3, T-09, PD-8).

const FIRST = 1000;
const MOST = 15000;

/** 16 random bytes as text; getRandomValues also works on a plain http page, where randomUUID does not. */
export function freshId(random = globalThis.crypto) {
  const bytes = random.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * `send(method, path, body)` throws an error with `status` (0: no network) and `passing` when asking again may help.
 * `onChange({replies, offline})` hears how much waits. `onVerdict(task, verdict)` hears each acknowledged reply.
 * @param {{
 *   base: string,
 *   key: string,
 *   storage: Pick<Storage, "getItem" | "setItem" | "removeItem">,
 *   send: (method: string, path: string, body: unknown) => Promise<any>,
 *   onChange?: (waiting: {replies: number, works: number, offline: boolean}) => void,
 *   onVerdict?: (task: string, verdict: any) => void,
 *   env?: any,
 * }} options `env` stands for the browser in tests.
 */
export function createOutbox({
  base,
  key,
  storage,
  send,
  onChange = () => {},
  onVerdict = () => {},
  env = globalThis,
}) {
  const waiting = new Map(); // reply id → resolve of the promise that reply() gave out
  let queue = read().replies;
  let works = read().works;
  let busy = false;
  let wait = FIRST;
  let clock = null;
  let offline = false;
  let shut = false;

  function read() {
    try {
      const kept = JSON.parse(storage.getItem(key) ?? "null");
      return { replies: kept?.replies ?? [], works: kept?.works ?? {} };
    } catch {
      return { replies: [], works: {} }; // not ours, or torn
    }
  }

  function keep() {
    try {
      if (queue.length || Object.keys(works).length) storage.setItem(key, JSON.stringify({ replies: queue, works }));
      else storage.removeItem(key);
    } catch {
      // A full or forbidden storage: what waits lives on in memory, for as long as the page does.
    }
    onChange({ replies: queue.length, works: Object.keys(works).length, offline });
  }

  function reply(task, body) {
    const item = { id: freshId(env.crypto), task, reply: body };
    queue.push(item);
    keep();
    const answer = new Promise((resolve) => {
      waiting.set(item.id, resolve);
    });
    run();
    return answer;
  }

  /** The newest work of a task; sent within half a second, so that a drag costs a few messages a second at most. */
  function work(task, n, body, figure) {
    works[task] = { n, work: body, ...(figure ? { figure } : {}) };
    keep();
    later(400);
  }

  function later(ms) {
    if (clock || shut) return;
    clock = env.setTimeout(() => {
      clock = null;
      run();
    }, ms);
  }

  async function run() {
    if (busy || shut) return;
    busy = true;
    try {
      while (queue.length) await one(queue[0]);
      for (const task of Object.keys(works)) {
        await put(task, works[task]);
        // A reply given while the work was on its way found us busy: it goes now.
        while (queue.length) await one(queue[0]);
      }
      wait = FIRST;
      offline = false;
      keep();
    } catch (error) {
      if (!error.passing) throw error;
      offline = error.status === 0;
      keep();
      busy = false;
      later((error.after ? error.after * 1000 : wait) * (0.8 + 0.4 * Math.random()));
      wait = Math.min(wait * 1.7, MOST);
    } finally {
      busy = false;
      // So did work that changed meanwhile: its timer has run out, and nothing else would send it.
      if (queue.length || Object.keys(works).length) later(400);
    }
  }

  async function one(item) {
    let verdict;
    try {
      verdict = (await send("POST", `${base}/reply`, item)).verdict;
    } catch (error) {
      if (error.passing) throw error;
      verdict = { ok: false, done: false, code: "refused", text: error.message, parts: [], where: error.where };
    }
    queue = queue.filter((other) => other.id !== item.id);
    keep();
    waiting.get(item.id)?.(verdict);
    waiting.delete(item.id);
    onVerdict(item.task, verdict);
  }

  async function put(task, item) {
    try {
      await send("PUT", `${base}/work/${encodeURIComponent(task)}`, item);
    } catch (error) {
      if (error.passing) throw error; // refused for good: an unusable figure is not worth keeping
    }
    if (works[task] === item) delete works[task];
  }

  function clear() {
    shut = true;
    env.clearTimeout(clock);
    queue = [];
    works = {};
    keep();
  }

  env.addEventListener?.("online", () => {
    wait = FIRST;
    run();
  });
  if (queue.length || Object.keys(works).length) run();
  return { reply, work, flush: run, clear, waiting: () => queue.length, works: () => works };
}
