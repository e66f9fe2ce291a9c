// The mirror of a figure between two updates, the steps of a demonstration, the strokes of a tally.
import assert from "node:assert/strict";
import { test } from "node:test";

import { alike, between, degrees, turn } from "../../static/stage/between.js";
import { blank, extent, meaning, step } from "../../static/stage/step.js";
import { strokes, width } from "../../static/stage/tally.js";

const figure = (direction, through = [0, 0]) => ({
  lines: { l: { direction: 10, through: [0, 3] }, t: { direction, through } },
  meets: { A: { lines: ["l", "t"], at: [1, 3] } },
  angles: { 1: { at: "A", from: "l+", to: "t+" } },
});

test("a direction turns the shorter way, also across the flat", () => {
  assert.equal(turn(10, 30), 20);
  assert.equal(turn(30, 10), -20);
  assert.equal(turn(170, 5), 15);
  assert.equal(turn(5, 170), -15);
  assert.equal(Math.abs(turn(0, 90)), 90);
});

test("fractions are read", () => {
  assert.equal(degrees("37/2"), 18.5);
  assert.equal(degrees("40"), 40);
  assert.equal(degrees(7), 7);
});

test("half way is half way, and stays in [0, 180)", () => {
  assert.equal(between(figure(60), figure(70), 0.5).lines.t.direction, 65);
  assert.equal(between(figure(170), figure(4), 0.5).lines.t.direction, 177);
  assert.equal(between(figure(175), figure(15), 0.5).lines.t.direction, 5);
  assert.deepEqual(between(figure(60, [0, 0]), figure(60, [2, 4]), 0.25).lines.t.through, [0.5, 1]);
});

test("the end is the figure itself, exact directions and all", () => {
  const end = figure("121/2");
  assert.equal(between(figure(60), end, 1), end);
});

test("on the way, no meet keeps the place it will have at the end", () => {
  assert.deepEqual(between(figure(60), figure(70), 0.5).meets.A, { lines: ["l", "t"] });
});

test("a figure with other lines replaces, it does not glide", () => {
  const other = { ...figure(60), lines: { ...figure(60).lines, m: { direction: 10, through: [0, -3] } } };
  assert.equal(alike(figure(60), other), false);
  assert.equal(between(figure(60), other, 0.3), other);
});

test("a proof and a construction step forward and back, and stop at both ends", () => {
  const proof = { kind: "proof", rows: [1, 2, 3], shown: 2 };
  assert.equal(step(proof, 1).shown, 3);
  assert.equal(step(step(proof, 1), 1), null);
  assert.equal(step(proof, -1).shown, 1);
  assert.equal(step({ ...proof, shown: 0 }, -1), null);
  assert.equal(step({ kind: "construction", moves: [1, 2], step: 0 }, 1).step, 1);
  assert.equal(step({ kind: "figure" }, 1), null);
  assert.equal(extent({ kind: "tally" }), null);
});

test("a construction steps by its named steps where it has them", () => {
  const steps = [
    { name: "ray", upto: 2 },
    { name: "arc", upto: 3 },
    { name: "line", upto: 6 },
  ];
  const stage = { kind: "construction", moves: [1, 2, 3, 4, 5, 6], steps, step: 0 };
  const forward = [];
  for (let now = stage; now; now = step(now, 1)) forward.push(now.step);
  assert.deepEqual(forward, [0, 2, 3, 6]);
  const back = [];
  for (let now = { ...stage, step: 6 }; now; now = step(now, -1)) back.push(now.step);
  assert.deepEqual(back, [6, 3, 2, 0]);
  assert.deepEqual(extent({ ...stage, step: 3 }), { shown: 2, all: 3 });
  assert.equal(step({ ...stage, step: 5 }, -1).step, 3, "between two steps, back is to the last whole one");
});

test("blank keeps what was under it, and gives it back", () => {
  const stage = { kind: "figure", caption: "x" };
  assert.deepEqual(blank(blank(stage)), stage);
  assert.equal(blank(null).kind, "blank");
  assert.equal(blank(blank(null)).kind, "blank");
});

test("the keys of a clicker mean forward, back and blank, and no others do", () => {
  assert.deepEqual(["PageDown", "ArrowRight", "PageUp", "ArrowLeft", "b", "."].map(meaning), [
    "forward",
    "forward",
    "back",
    "back",
    "blank",
    "blank",
  ]);
  assert.equal(meaning("x"), null);
  assert.equal(meaning("Tab"), null);
});

test("a tally has as many strokes as answers", () => {
  for (let n = 0; n <= 40; n += 1) assert.equal((strokes(n).match(/M/g) ?? []).length, n);
  assert.equal(width(5), 6);
  assert.equal(width(7), 8);
});
