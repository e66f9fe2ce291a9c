// The live listener against a fake browser: streams that speak, are refused, are held back, and pages that hide.
import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { listen, newer } from "../../static/live/listen.js";

let env;
let heard;
let words;
let live;

function fake({ streams = true, answer = () => ({ status: 200, body: { version: 1 } }) } = {}) {
  const listeners = {};
  const world = {
    opened: [],
    asked: [],
    answer,
    document: {
      hidden: false,
      addEventListener: (name, act) => (listeners[name] = act),
      removeEventListener: (name) => delete listeners[name],
    },
    addEventListener: (name, act) => (listeners[name] = act),
    removeEventListener: (name) => delete listeners[name],
    hide(on) {
      world.document.hidden = on;
      listeners.visibilitychange();
    },
    listeners,
    async fetch(path) {
      world.asked.push(path);
      const { status, body } = world.answer(path);
      if (status === 0) throw new TypeError("network");
      return { status, json: async () => body };
    },
  };
  if (streams) {
    world.EventSource = class {
      constructor(path) {
        this.path = path;
        this.on = {};
        this.closed = false;
        world.opened.push(this);
      }
      addEventListener(name, act) {
        this.on[name] = act;
      }
      say(name, data) {
        this.on[name]({ data: JSON.stringify(data) });
      }
      close() {
        this.closed = true;
      }
    };
  }
  return world;
}

const settle = async () => {
  for (let i = 0; i < 10; i += 1) await Promise.resolve();
};

function start(options) {
  env = fake(options);
  heard = [];
  words = [];
  live = listen("/seat", (state) => heard.push(state), { env, onStatus: (word) => words.push(word) });
}

beforeEach(() => mock.timers.enable({ apis: ["setTimeout"] }));
afterEach(() => {
  live?.close();
  live = null;
  mock.timers.reset();
});

test("a newer version replaces, an older or equal one does not, another epoch always does", () => {
  assert.equal(newer(null, { version: 0 }), true);
  assert.equal(newer({ version: 4 }, { version: 5 }), true);
  assert.equal(newer({ version: 4 }, { version: 4 }), false);
  assert.equal(newer({ version: 4 }, { version: 3 }), false);
  assert.equal(newer({ version: 4, epoch: "a" }, { version: 1, epoch: "b" }), true);
});

test("a stream that speaks is followed, and nothing is polled", async () => {
  start();
  env.opened[0].say("state", { version: 1, here: "a" });
  env.opened[0].say("state", { version: 3, here: "b" });
  env.opened[0].say("state", { version: 2, here: "late" });
  mock.timers.tick(30000);
  await settle();

  assert.deepEqual(
    heard.map((s) => s.here),
    ["a", "b"],
  );
  assert.deepEqual(words, ["live"]);
  assert.deepEqual(env.asked, []);
});

test("a part is laid over the state, and is ignored before there is one", () => {
  start();
  env.opened[0].say("part", { version: 9, stage: "early" });
  env.opened[0].say("state", { version: 1, stage: null, name: "Calm Rhombus" });
  env.opened[0].say("part", { version: 2, stage: "figure" });

  assert.deepEqual(heard.at(-1), { version: 2, stage: "figure", name: "Calm Rhombus" });
  assert.equal(heard.length, 2);
});

test("a refused stream is replaced by polling that asks only for what is newer", async () => {
  let version = 6;
  start({ answer: () => ({ status: 200, body: { version: (version += 1) } }) });
  env.opened[0].on.error();
  await settle();
  assert.deepEqual(env.asked, ["/seat/state"]);
  mock.timers.tick(3600);
  await settle();

  assert.deepEqual(env.asked, ["/seat/state", "/seat/state?since=7"]);
  assert.deepEqual(
    heard.map((s) => s.version),
    [7, 8],
  );
  assert.deepEqual(words, ["polling"]);
  assert.equal(env.opened[0].closed, true);
});

test("a stream held back in a buffer (opened, silent) is given up after four seconds", async () => {
  start();
  mock.timers.tick(3900);
  await settle();
  assert.deepEqual(env.asked, []);
  mock.timers.tick(200);
  await settle();

  assert.deepEqual(env.asked, ["/seat/state"]);
  assert.equal(env.opened[0].closed, true);
});

test("a stream that falls silent is replaced, tried again later, and polling stops when it speaks", async () => {
  start({ answer: () => ({ status: 204 }) });
  env.opened[0].say("state", { version: 1 });
  mock.timers.tick(41000);
  await settle();
  assert.equal(env.opened[0].closed, true);
  mock.timers.tick(13000);
  await settle();
  assert.equal(env.opened.length, 2);
  env.opened[1].say("state", { version: 2 });
  const asked = env.asked.length;
  mock.timers.tick(20000);
  await settle();

  assert.equal(env.asked.length, asked);
  assert.deepEqual(words, ["live", "polling", "live"]);
});

test("beats keep a quiet stream alive", async () => {
  start();
  env.opened[0].say("state", { version: 1 });
  for (let i = 0; i < 10; i += 1) {
    mock.timers.tick(15000);
    env.opened[0].on.beat({});
  }
  await settle();

  assert.equal(env.opened.length, 1);
  assert.deepEqual(env.asked, []);
});

test("no network is told once, and asked for ever more slowly", async () => {
  start({ streams: false, answer: () => ({ status: 0 }) });
  for (let i = 0; i < 60; i += 1) {
    mock.timers.tick(1000);
    await settle();
  }

  assert.deepEqual(words, ["offline"]);
  assert.ok(env.asked.length >= 4 && env.asked.length <= 12, `${env.asked.length} questions in a minute`);
});

test("a busy server does not end the polling", async () => {
  let busy = true;
  start({ streams: false, answer: () => (busy ? { status: 503 } : { status: 200, body: { version: 1 } }) });
  await settle();
  busy = false;
  mock.timers.tick(6000);
  await settle();

  assert.equal(heard.length, 1);
});

test("signed out or removed ends the listening and says so", async () => {
  start({ streams: false, answer: () => ({ status: 404 }) });
  await settle();
  mock.timers.tick(60000);
  await settle();

  assert.deepEqual(words, ["gone"]);
  assert.equal(env.asked.length, 1);
});

test("a hidden page lets its stream go, and takes it up again with the state of now", async () => {
  start({ answer: () => ({ status: 200, body: { version: 5 } }) });
  env.opened[0].say("state", { version: 1 });
  env.hide(true);
  mock.timers.tick(2500);
  await settle();
  assert.equal(env.opened[0].closed, true);
  mock.timers.tick(60000);
  await settle();
  assert.deepEqual(env.asked, [], "a hidden page does not poll");

  env.hide(false);
  await settle();
  assert.equal(env.opened.length, 2);
  assert.deepEqual(
    heard.map((s) => s.version),
    [1, 5],
  );
});

test("a short glance at another tab keeps the stream", async () => {
  start();
  env.opened[0].say("state", { version: 1 });
  env.hide(true);
  mock.timers.tick(500);
  env.hide(false);
  mock.timers.tick(5000);
  await settle();

  assert.equal(env.opened.length, 1);
  assert.equal(env.opened[0].closed, false);
});

test("closing leaves nothing behind", async () => {
  start();
  live.close();
  mock.timers.tick(60000);
  await settle();

  assert.equal(env.opened[0].closed, true);
  assert.deepEqual(env.listeners, {});
  assert.deepEqual(env.asked, []);
});
