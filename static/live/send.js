// One way to ask the server for something: JSON out, JSON back, a sentence when it was refused.

import { language } from "../words/say.js";

/** What the server (or the network) said no with. `status` 0 means that no answer came at all. */
export class Refusal extends Error {
  /**
   * @param {string} message
   * @param {{status?: number, where?: string | null, after?: number | null}} [about]
   */
  constructor(message, { status = 0, where = null, after = null } = {}) {
    super(message);
    this.name = "Refusal";
    this.status = status;
    /** Dotted path of the field at fault, when the server named one. */
    this.where = where;
    /** Seconds to wait before asking again, when the server said so. */
    this.after = after;
  }

  /** True when asking again later may help: no network, busy, or a server restarting. */
  get passing() {
    return this.status === 0 || this.status === 429 || this.status >= 502;
  }
}

/**
 * The sentence of a refusal. What was thrown for another reason is a fault of ours and goes on up.
 * @param {unknown} thrown
 */
export function messageOf(thrown) {
  if (thrown instanceof Refusal) return thrown.message;
  throw thrown;
}

/** The page's token, which every change has to carry. */
export function token() {
  return document.querySelector('meta[name="token"]')?.getAttribute("content") ?? "";
}

/**
 * Ask `path` by `method` with a JSON `body`; resolves to the parsed answer (null for an empty one).
 * Throws a `Refusal` for a refused request and for a network that does not answer in `timeout` ms.
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 * @param {{timeout?: number, keepalive?: boolean, signal?: AbortSignal}} [options]
 * @returns {Promise<any>}
 */
export async function send(method, path, body, { timeout = 15000, keepalive = false, signal } = {}) {
  const stop = new AbortController();
  const clock = setTimeout(() => stop.abort(), timeout);
  const relay = () => stop.abort();
  signal?.addEventListener("abort", relay, { once: true });
  // The answer in the page's own language, which may be another than the browser's.
  const headers = { Accept: "application/json", "Accept-Language": language() };
  if (method !== "GET") headers["X-Seat-Token"] = token();
  if (body !== undefined) headers["Content-Type"] = "application/json";
  let answer;
  let text;
  try {
    answer = await fetch(path, {
      method,
      headers,
      keepalive,
      body: body === undefined ? undefined : JSON.stringify(body),
      credentials: "same-origin",
      cache: "no-store",
      signal: stop.signal,
    });
    text = await answer.text();
  } catch {
    throw new Refusal("no answer", { status: 0 });
  } finally {
    clearTimeout(clock);
    signal?.removeEventListener("abort", relay);
  }
  return read(answer, text);
}

/** The parsed body of a good answer; a `Refusal` for any other. */
function read(answer, text) {
  let data;
  try {
    data = text ? JSON.parse(text) : null;
  } catch {
    data = null; // A page of an intermediary: the status still tells what happened.
  }
  if (answer.ok) return data;
  const error = data?.error ?? {};
  throw new Refusal(error.message ?? `${answer.status}`, {
    status: answer.status,
    where: error.where ?? null,
    after: Number(answer.headers.get("Retry-After")) || null,
  });
}
