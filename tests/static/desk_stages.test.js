// Stage documents made at the Desk: what an exercise asks comes to the top, and no key gets out.
import assert from "node:assert/strict";
import { test } from "node:test";

import { asked, demonstration, taskStage } from "../../static/desk/stages.js";
import { failing } from "../../static/tasks/parts.js";

const item = {
  prompt: "Line t cuts p and q.",
  ask: "Which pair?",
  figure: { lines: {} },
  marks: { angles: {} },
  fields: [],
};

test("an exercise is asked with its item's sentences and figure", () => {
  const whole = asked({ id: "x", kind: "solve", title: "T", ask: "Decide.", item });
  assert.equal(whole.ask, "Decide.\nLine t cuts p and q.\nWhich pair?");
  assert.equal(whole.figure, item.figure);
  assert.equal(whole.marks, item.marks);
});

test("the proof that an exercise prints goes up with it, and that its drawing isn’t to scale", () => {
  const rows = [{ label: "1", statement: "∠1 ≅ ∠5", reason: "" }];
  const { task } = taskStage({ id: "x", kind: "solve", item: { ...item, rows, not_to_scale: true } });
  assert.deepEqual([task.printed, task.not_to_scale], [rows, true]);
  // The rows of a task to prove are the book that is to be filled in, with blanks and ids.
  assert.equal(taskStage({ id: "x", kind: "prove", rows }).task.printed, undefined);
});

test("a sentence that stands twice is asked once", () => {
  assert.equal(asked({ ask: "Which pair?", item }).ask, "Which pair?\nLine t cuts p and q.");
});

test("a task without an item is itself", () => {
  const task = { id: "x", ask: "Turn it.", figure: {} };
  assert.equal(asked(task), task);
});

test("a task stage holds only what is shown", () => {
  const { kind, task } = taskStage({
    id: "x",
    kind: "justify",
    title: "T",
    ask: "A",
    figure: {},
    given: [],
    key: 1,
    answer: 2,
    seed: 3,
    choices: {},
    item: null,
  });
  assert.equal(kind, "task");
  assert.deepEqual(Object.keys(task).sort(), ["ask", "figure", "given", "id", "kind", "title"]);
});

test("a proof is demonstrated from its key, from the first row", async () => {
  const rows = [{ statement: "∠1 ≅ ∠5", reason: "given", from: [] }];
  const stage = await demonstration({
    task: { id: "p", kind: "prove", title: "P", figure: {}, given: [], goal: "l ∥ m" },
    key: { rows },
    public: {},
  });
  assert.deepEqual([stage.kind, stage.rows, stage.shown, stage.reasons], ["proof", rows, 0, true]);
});

test("a construction is demonstrated from its recipe, with its named steps", async () => {
  const key = { moves: [{ op: "point" }], result: "r", steps: [{ name: "ray", upto: 1 }] };
  const stage = await demonstration({
    task: { id: "c", kind: "construct", construction: "copy an angle", start: {} },
    key,
    public: {},
  });
  assert.deepEqual([stage.kind, stage.moves, stage.steps, stage.step], ["construction", key.moves, key.steps, 0]);
});

test("a construct task without a recipe says so", async () => {
  const told = console.error;
  console.error = () => {};
  await assert.rejects(demonstration({ task: { kind: "construct" }, key: {}, public: {} }), Error);
  console.error = told;
});

test("a counterexample marks what is given, and what fails", () => {
  const figure = { lines: { l: {}, m: {}, t: {} }, angles: { 1: {}, 3: {}, 5: {}, 6: {} } };
  const equal = failing(["∠1 ≅ ∠3"], "∠3 ≅ ∠6", figure);
  assert.deepEqual([equal.angles[1].tone, equal.angles[3].tone, equal.angles[6].tone], ["given", "fails", "fails"]);
  // What isn't equal never looks equal: the two angles of the goal have different numbers of arcs.
  assert.ok(equal.angles[3].arcs && equal.angles[6].arcs && equal.angles[3].arcs !== equal.angles[6].arcs);
  assert.equal(equal.angles[1].arcs, equal.angles[3].arcs);
  const sum = failing(["∠3 and ∠5 are supplementary"], "l ∥ m", figure);
  assert.ok(sum.angles[3].arcs && sum.angles[5].arcs && sum.angles[3].arcs !== sum.angles[5].arcs);
  assert.deepEqual([sum.lines.l.tone, sum.lines.m.tone, sum.lines.t], ["fails", "fails", undefined]);
});
