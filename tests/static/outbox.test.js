// The outbox: nothing that a student hands in is lost, doubled or left lying (N-3, T-09).
import assert from "node:assert/strict";
import { test } from "node:test";
import { createOutbox } from "../../static/live/outbox.js";

/** A browser's storage, a clock that is moved by hand, and a network whose answers are given by hand. */
function world() {
  const kept = new Map();
  const timers = [];
  const sent = [];
  const storage = {
    getItem: (k) => kept.get(k) ?? null,
    setItem: (k, v) => kept.set(k, v),
    removeItem: (k) => kept.delete(k),
  };
  const listeners = {};
  const env = {
    crypto: globalThis.crypto,
    setTimeout: (act, ms) => timers.push({ act, ms }),
    clearTimeout: () => {},
    addEventListener: (type, act) => (listeners[type] = act),
  };
  const send = (method, path, body) =>
    new Promise((resolve, reject) => {
      sent.push({ method, path, body, resolve, reject });
    });
  return {
    kept,
    sent,
    timers,
    listeners,
    open: (more = {}) => createOutbox({ base: "/seat", key: "k", storage, send, env, ...more }),
    async tick() {
      for (let i = 0; i < 10; i += 1) await null;
    },
    async ring() {
      for (const { act } of timers.splice(0)) act();
      await this.tick();
    },
  };
}
const gone = () => Object.assign(new Error("no network"), { status: 0, passing: true });

test("a reply given while work is on its way is sent as soon as that has arrived", async () => {
  const w = world();
  const box = w.open();
  box.work("a", 1, { x: 1 });
  await w.ring();
  assert.equal(w.sent[0].method, "PUT");
  const told = box.reply("a", { answer: 1 });
  w.sent[0].resolve(null);
  await w.tick();
  assert.deepEqual([w.sent.length, w.sent[1]?.method], [2, "POST"]);
  w.sent[1].resolve({ verdict: { ok: true } });
  assert.deepEqual(await told, { ok: true });
  assert.equal(w.kept.size, 0);
});

test("work that changes while its older state is on its way is sent too", async () => {
  const w = world();
  const box = w.open();
  box.work("a", 1, { x: 1 });
  await w.ring();
  box.work("a", 2, { x: 2 });
  await w.ring();
  w.sent[0].resolve(null);
  await w.tick();
  await w.ring();
  assert.deepEqual(
    w.sent.map((one) => one.body.n),
    [1, 2],
  );
  w.sent[1].resolve(null);
  await w.tick();
  assert.equal(w.kept.size, 0);
});

test("without network a reply stays in the storage under one id and goes again until it is acknowledged", async () => {
  const w = world();
  let waiting = null;
  const box = w.open({ onChange: (now) => (waiting = now) });
  box.reply("a", { answer: 1 });
  w.sent[0].reject(gone());
  await w.tick();
  assert.deepEqual(waiting, { replies: 1, works: 0, offline: true });
  await w.ring();
  w.sent[1].reject(gone());
  await w.tick();
  await w.ring();
  w.sent[2].resolve({ verdict: { ok: true } });
  await w.tick();
  assert.equal(new Set(w.sent.map((one) => one.body.id)).size, 1);
  assert.deepEqual([w.kept.size, waiting.replies, waiting.offline], [0, 0, false]);
});

test("pauses grow, and the network's return ends them at once", async () => {
  const w = world();
  const box = w.open();
  box.reply("a", {});
  const pauses = [];
  for (let i = 0; i < 5; i += 1) {
    w.sent.at(-1).reject(gone());
    await w.tick();
    pauses.push(w.timers[0].ms);
    await w.ring();
  }
  assert.ok(pauses[4] > 3 * pauses[0] && pauses.every((ms) => ms <= 18000), `${pauses}`);
  w.sent.at(-1).reject(gone());
  await w.tick();
  const before = w.sent.length;
  w.listeners.online();
  assert.equal(w.sent.length, before + 1);
});

test("a page opened again sends what its forerunner could not, in its order, and tells the verdicts", async () => {
  const w = world();
  const first = w.open();
  first.reply("a", { answer: 1 });
  first.reply("b", { answer: 2 });
  w.sent[0].reject(gone());
  await w.tick();
  const ids = JSON.parse(w.kept.get("k")).replies.map((one) => one.id);
  w.sent.length = 0;
  const told = [];
  w.open({ onVerdict: (task) => told.push(task) });
  for (const at of [0, 1]) {
    w.sent[at].resolve({ verdict: { ok: true } });
    await w.tick();
  }
  assert.deepEqual(
    w.sent.map((one) => one.body.id),
    ids,
  );
  assert.deepEqual(told, ["a", "b"]);
  assert.equal(w.kept.size, 0);
});

test("a reply that is refused for good is told and does not block the next one", async () => {
  const w = world();
  const box = w.open();
  const refused = box.reply("a", {});
  box.reply("b", {});
  w.sent[0].reject(
    Object.assign(new Error("Choose an answer first."), { status: 422, passing: false, where: "reply" }),
  );
  assert.deepEqual(await refused.then(({ ok, code, text }) => [ok, code, text]), [
    false,
    "refused",
    "Choose an answer first.",
  ]);
  await w.tick();
  assert.equal(w.sent[1].body.task, "b");
});

test("leaving forgets everything that waits", async () => {
  const w = world();
  const box = w.open();
  box.reply("a", {});
  w.sent[0].reject(gone());
  await w.tick();
  box.clear();
  await w.ring();
  assert.deepEqual([w.kept.size, w.sent.length, box.waiting()], [0, 1, 0]);
});
