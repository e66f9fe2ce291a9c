// The Desk's own reckoning: the room's numbers and order, the stamps, the pacing of the live figure.
import assert from "node:assert/strict";
import { mock, test } from "node:test";

import { beside, count, label, sorted, tasks } from "../../static/desk/readings.js";
import { segments } from "../../static/desk/small.js";
import { newest } from "../../static/desk/throttle.js";

const seats = [
  { sid: "a", number: 12, name: "12", online: true, done: 3, order: 4, stuck: null },
  { sid: "b", number: 3, name: "3", online: false, done: 5, order: 2, stuck: "stuck 3 min" },
  { sid: "c", number: null, name: "Calm Rhombus", online: true, done: 0, order: 1, stuck: "2 tries" },
  { sid: "d", number: null, name: "Some Name", pending: true, online: true, done: 1, order: 1, stuck: null },
];
const parts = [
  { id: "p", title: "One", tasks: [{ id: "t1" }, { id: "t2" }] },
  { id: "q", title: "Two", hidden: true, tasks: [{ id: "t3" }] },
  { id: "r", title: "Three", tasks: [{ id: "t4" }] },
];

test("the room is counted", () => {
  assert.deepEqual(count(seats), { all: 4, here: 3, stuck: 2, pending: 1 });
  assert.deepEqual(count([]), { all: 0, here: 0, stuck: 0, pending: 0 });
});

test("a name that waits for a nod is not shown as a label", () => {
  assert.equal(label(seats[3]), "–");
  assert.equal(label({ ...seats[3], alias: "Brisk Otter" }), "Brisk Otter");
  assert.equal(label({ ...seats[2], hidden: true, alias: "Brisk Otter" }), "Brisk Otter");
  assert.equal(label(seats[2]), "Calm Rhombus");
});

test("the list sorts by each column, both ways, and does not lose anyone", () => {
  const ids = (column, down) =>
    sorted(seats, column, down)
      .map((seat) => seat.sid)
      .join("");
  assert.equal(ids("place"), "badc");
  assert.equal(ids("stuck").slice(0, 2), "bc");
  assert.equal(ids("done"), "cdab");
  assert.equal(ids("done", true), "badc");
  assert.deepEqual([...ids("task")].sort().join(""), "abcd");
  assert.equal(seats[0].sid, "a", "the given list is left as it was");
});

test("hidden parts are not in the plan, and the steps go over them", () => {
  assert.deepEqual(
    tasks(parts).map((task) => task.id),
    ["t1", "t2", "t4"],
  );
  assert.equal(beside(parts, "t2", 1).id, "t4");
  assert.equal(beside(parts, "t4", 1), null);
  assert.equal(beside(parts, "t1", -1), null);
  assert.equal(beside(parts, null, 1).id, "t1");
});

test("a stamp's lines end on the edge of the stamp", () => {
  for (let d = 0; d < 180; d += 7) {
    const figure = {
      lines: {
        l: { direction: 10, through: [0, 3] },
        m: { direction: "19/2", through: [0, -3] },
        t: { direction: d, through: [0, 0] },
      },
    };
    for (const [x1, y1, x2, y2] of segments(figure, 84, 60)) {
      for (const [x, y] of [
        [x1, y1],
        [x2, y2],
      ]) {
        assert.ok(x >= 0 && x <= 84 && y >= 0 && y <= 60, `${x} ${y}`);
        assert.ok(
          [x, y, 84 - x, 60 - y].some((gap) => gap < 0.11),
          `${x} ${y} is inside at ${d}`,
        );
      }
    }
  }
});

test("a stamp marks only lines of exactly one direction", () => {
  const lines = (m) =>
    segments({ lines: { l: { direction: 10, through: [0, 3] }, m: { direction: m, through: [0, -3] } } }).map(
      (s) => s[4],
    );
  assert.deepEqual(lines(10), [true, true]);
  assert.deepEqual(lines("190/1"), [true, true]);
  assert.deepEqual(lines("21/2"), [false, false]);
  assert.deepEqual(segments(null), []);
});

test("the live figure goes out at most ten times a second, and the last one always goes", async () => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const sent = [];
  const out = newest(async (value) => sent.push([Date.now(), value]), 100);
  for (let i = 0; i < 60; i += 1) {
    out.push(i);
    mock.timers.tick(16);
    for (let k = 0; k < 5; k += 1) await Promise.resolve();
  }
  for (let i = 0; i < 4; i += 1) {
    mock.timers.tick(100);
    for (let k = 0; k < 5; k += 1) await Promise.resolve();
  }
  mock.timers.reset();

  assert.ok(sent.length >= 8 && sent.length <= 11, `${sent.length}`);
  for (let i = 1; i < sent.length; i += 1) assert.ok(sent[i][0] - sent[i - 1][0] >= 96);
  assert.equal(sent.at(-1)[1], 59);
});

test("a slow network never has two of them under way, and gets the newest next", async () => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const sent = [];
  let release = null;
  const out = newest(
    (value) =>
      new Promise((done) => {
        sent.push(value);
        release = done;
      }),
    100,
  );
  out.push(1);
  mock.timers.tick(0);
  await Promise.resolve();
  for (const value of [2, 3, 4]) {
    out.push(value);
    mock.timers.tick(200);
  }
  assert.deepEqual(sent, [1]);
  release();
  for (let k = 0; k < 5; k += 1) await Promise.resolve();
  mock.timers.tick(100);
  await Promise.resolve();
  mock.timers.reset();
  assert.deepEqual(sent, [1, 4]);
});
