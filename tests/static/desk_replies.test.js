// Replies in words, and grouped: what a teacher reads, and what may go up for discussion.
import assert from "node:assert/strict";
import { test } from "node:test";

import { grouped, lines, named, tallied, worded } from "../../static/desk/replies.js";
import { load } from "../../static/words/say.js";

await load("figure");

test("each kind of reply reads as a teacher would say it", () => {
  assert.deepEqual(lines("classify", { names: { "1,5": "corresponding" }, transversals: { "1,5": "t" } }), [
    "∠1, ∠5: corresponding (t)",
  ]);
  assert.deepEqual(
    lines("classify", {
      found: [
        ["3", "6"],
        ["4", "5"],
      ],
    }),
    ["∠3, ∠6", "∠4, ∠5"],
  );
  assert.deepEqual(
    lines("justify", {
      angles: ["3", "6"],
      pair: "alternate interior",
      transversal: "t",
      relation: "congruent",
      lines: ["l", "m"],
      theorem: "alternate-interior-angles-converse",
    }),
    ["∠3, ∠6: alternate interior (t)", "∠3 ≅ ∠6", "l ∥ m: alternate-interior-angles-converse"],
  );
  assert.deepEqual(
    lines("justify", { none: true }, (id) => `[${id}]`),
    ["[not_enough]"],
  );
  assert.deepEqual(
    lines("solve", { answer: { x: "9", theorem: "y-converse" } }, (id) => ({ "y-converse": "Y Converse" })[id] ?? id),
    ["9", "Y Converse"],
  );
  assert.deepEqual(named({ item: { fields: [{ choices: [{ value: "y-converse", text: "Y Converse" }] }, {}] } }), {
    "y-converse": "Y Converse",
  });
  assert.deepEqual(lines("solve", { working: ["3x + 10 = 70", "3x = 60"], answer: "20" }), [
    "3x + 10 = 70",
    "3x = 60",
    "20",
  ]);
  assert.deepEqual(lines("prove", { rows: [{ statement: "∠1 ≅ ∠5", reason: "given" }, {}] }), [
    "1. ∠1 ≅ ∠5: given",
    "2. : ",
  ]);
});

test("ids are said in the words of the task's own choices", () => {
  const task = {
    choices: {
      pairs: [{ id: "consecutive interior", name: "same-side interior" }],
      theorems: [{ id: "x-converse", name: "X Converse" }],
    },
  };
  const names = named(task);
  const words = (id) => names[id] ?? id;

  assert.deepEqual(
    lines(
      "justify",
      {
        angles: ["3", "5"],
        pair: "consecutive interior",
        transversal: "t",
        relation: "supplementary",
        lines: ["l", "m"],
        theorem: "x-converse",
      },
      words,
    ),
    ["∠3, ∠5: same-side interior (t)", "∠3 and ∠5 are supplementary", "l ∥ m: X Converse"],
  );
  assert.deepEqual(named({ choices: [{ id: "vertical", name: "vertical angles" }] }), { vertical: "vertical angles" });
  assert.deepEqual(named(null), {});
  const question = { question: { choices: ["they meet", "they never meet"] } };
  assert.deepEqual(
    lines("explore", { answer: 1 }, (id, f) => f.answer, question),
    ["they never meet"],
  );
});

test("a counterexample is told by its lines and its angles, a sentence as it was written", () => {
  const figure = { lines: { l: { direction: 12 }, m: { direction: 20 } }, meets: {}, angles: {} };
  assert.deepEqual(lines("connect", { answer: { figure, angles: ["3", "5"] } }), ["l 12°, m 20°", "∠3, ∠5"]);
  assert.deepEqual(lines("connect", { answer: { figure } }), ["l 12°, m 20°"]);
  assert.deepEqual(lines("connect", { answer: { sentence: "If l ∥ m, then ∠3 ≅ ∠6." } }), ["If l ∥ m, then ∠3 ≅ ∠6."]);
});

test("a reply of no known kind, or an empty one, still reads", () => {
  assert.deepEqual(lines("some new kind", { truth: true, figure: {} }), ["truth: true"]);
  for (const kind of ["explore", "classify", "justify", "prove", "solve", "construct", "connect", "practice"]) {
    assert.ok(Array.isArray(lines(kind, {})));
    assert.ok(Array.isArray(lines(kind, null)));
  }
});

test("equal answers are one group, the commonest first, and none is lost", () => {
  const reply = (name, sid) => ({
    sid,
    reply: { names: { "1,5": name } },
    verdict: { ok: name === "corresponding", text: "" },
  });
  const groups = grouped("classify", [
    reply("vertical", "a"),
    reply("corresponding", "b"),
    reply("corresponding", "c"),
  ]);

  assert.deepEqual(
    groups.map((group) => [group.lines[0], group.count, group.ok]),
    [
      ["∠1, ∠5: corresponding", 2, true],
      ["∠1, ∠5: vertical", 1, false],
    ],
  );
});

test("an answer is said and counted by the question that this student had", () => {
  const item = (ask, texts) => ({
    prompt: "",
    ask,
    fields: [{ name: "form", choices: texts.map((text, i) => ({ value: "AB"[i], text })) }],
  });
  const desk = { item: item("Which is the converse?", ["the Desk’s A", "the Desk’s B"]) };
  const reply = (asked, ok) => ({ asked, reply: { answer: { form: "A" } }, verdict: { ok } });
  const [one, other] = [item("Of “p”: the converse?", ["q, then p"]), item("Of “r”: the converse?", ["r, then s"])];
  const groups = grouped(
    "connect",
    [reply(one, true), reply(other, false), reply(one, true)],
    worded(named(desk)),
    desk,
  );
  assert.deepEqual(
    groups.map((group) => [group.asked, group.lines, group.ok, group.count]),
    [
      ["Of “p”: the converse?", ["q, then p"], true, 2],
      ["Of “r”: the converse?", ["r, then s"], false, 1],
    ],
  );
});

test("a right answer and a wrong one are never one group", () => {
  const same = (ok) => ({ reply: { answer: "62" }, verdict: { ok } });
  assert.deepEqual(
    grouped("solve", [same(false), same(true), same(false)], worded({})).map((group) => [group.ok, group.count]),
    [
      [false, 2],
      [true, 1],
    ],
  );
});

test("each kind says its own word for none", () => {
  const classify = { choices: [{ id: "none", name: "not a named pair" }] };
  assert.equal(worded(named(classify))("none"), "not a named pair");
  assert.equal(
    worded(named({ item: { fields: [{ name: "x", none: "It can't be told." }] } }))("none"),
    "It can't be told.",
  );
  assert.equal(
    worded(named({ item: { fields: [{ choices: [{ value: "none", text: "No lines" }] }] } }))("none"),
    "No lines",
  );
});

test("a task of several parts is tallied part by part, and everybody counts once in each", () => {
  const task = {
    pairs: [
      ["1", "5"],
      ["3", "6"],
    ],
    choices: [
      { id: "none", name: "not a named pair" },
      { id: "corresponding", name: "corresponding angles" },
    ],
  };
  const words = worded(named(task));
  const names = [
    "corresponding",
    "corresponding",
    "none",
    "vertical",
    "linear pair",
    "alternate interior",
    "alternate exterior",
  ];
  const replies = names.map((name, i) => ({
    reply: { names: { "1,5": name, ...(i ? { "3,6": "corresponding" } : {}) } },
    verdict: { ok: false },
  }));
  const [first, second] = tallied("classify", replies, words, task);
  assert.equal(first.head, "∠1, ∠5");
  assert.deepEqual(first.rows[0], { label: "corresponding angles", count: 2 });
  assert.ok(first.rows.length <= 4, "it fits the page");
  for (const part of [first, second])
    assert.equal(
      part.rows.reduce((sum, row) => sum + row.count, 0),
      replies.length,
    );
  assert.equal(first.rows.find((row) => row.label === "not a named pair").count, 1);
  assert.equal(second.rows.length, 2, "who left a part blank is counted too");
});

test("what students wrote themselves is tallied by its verdict, a sentence of choices by pair and reason", () => {
  const written = tallied(
    "solve",
    [
      { reply: { answer: "rude" }, verdict: { ok: false } },
      { reply: { answer: "9" }, verdict: { ok: true } },
    ],
    (id) => id,
    {},
  );
  assert.deepEqual(
    written.map((part) => part.rows.map((row) => row.count)),
    [[1, 1]],
  );
  assert.ok(!JSON.stringify(written).includes("rude"));
  const chosen = tallied(
    "justify",
    [{ reply: { none: true } }, { reply: { angles: ["3", "6"], pair: "corresponding", theorem: "t" } }],
    (id) => `[${id}]`,
    {},
  );
  assert.equal(chosen.length, 2);
  for (const part of chosen)
    assert.equal(
      part.rows.reduce((sum, row) => sum + row.count, 0),
      2,
    );
});

test("an id that nothing names is not shown as an id", () => {
  assert.equal(worded({})("consecutive-interior-angles-converse"), "Consecutive interior angles converse");
  assert.equal(worded({ "a-converse": "A Converse" })("a-converse"), "A Converse");
  assert.equal(worded({})("3x-1"), "3x-1");
});
