// The request helper: what it sends, and how each kind of refusal reads.
import assert from "node:assert/strict";
import { test } from "node:test";

import { Refusal, send } from "../../static/live/send.js";

globalThis.document = {
  querySelector: (what) =>
    what === 'meta[name="token"]' ? { getAttribute: (name) => (name === "content" ? "page-token" : null) } : null,
};

function answering(status, text, headers = {}) {
  const asked = [];
  globalThis.fetch = async (path, options) => {
    asked.push({ path, ...options });
    return { ok: status < 400, status, text: async () => text, headers: new Headers(headers) };
  };
  return asked;
}

test("a change carries the page's token and its body as JSON", async () => {
  const asked = answering(200, '{"stored": true}');
  const answer = await send("POST", "/seat/reply", { id: "r1" });

  assert.deepEqual(answer, { stored: true });
  assert.equal(asked[0].headers["X-Seat-Token"], "page-token");
  assert.equal(asked[0].headers["Content-Type"], "application/json");
  assert.equal(asked[0].body, '{"id":"r1"}');
});

test("a question carries no token", async () => {
  const asked = answering(200, "{}");
  await send("GET", "/seat/state");

  assert.equal("X-Seat-Token" in asked[0].headers, false);
  assert.equal(asked[0].body, undefined);
});

test("an empty good answer is null", async () => {
  answering(204, "");
  assert.equal(await send("PUT", "/seat/work/a", {}), null);
});

test("a refusal keeps the server's sentence and the place it names", async () => {
  answering(422, '{"error": {"message": "The direction has to be a number.", "where": "figure.lines.l.direction"}}');

  await assert.rejects(send("POST", "/api/x", {}), (error) => {
    assert.ok(error instanceof Refusal);
    assert.equal(error.message, "The direction has to be a number.");
    assert.equal(error.where, "figure.lines.l.direction");
    assert.equal(error.passing, false);
    return true;
  });
});

test("a page put in the way by something between is a refusal, not a crash", async () => {
  answering(502, "<html>gateway</html>");
  await assert.rejects(send("GET", "/seat/state"), (error) => error.status === 502 && error.passing);
});

test("busy tells how long to wait", async () => {
  answering(429, '{"error": {"message": "Too many at once."}}', { "Retry-After": "7" });
  await assert.rejects(send("POST", "/enter", {}), (error) => error.after === 7 && error.passing);
});

test("no network is a passing refusal with status 0", async () => {
  globalThis.fetch = async () => {
    throw new TypeError("failed");
  };
  await assert.rejects(send("GET", "/seat/state"), (error) => error.status === 0 && error.passing);
});

test("a server that never answers is given up after the time allowed", async () => {
  globalThis.fetch = (path, { signal }) =>
    new Promise((resolve, reject) => {
      signal.addEventListener("abort", () => reject(new Error("stopped")));
    });
  await assert.rejects(send("GET", "/slow", undefined, { timeout: 20 }), (error) => error.status === 0);
});
