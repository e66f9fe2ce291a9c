import assert from "node:assert/strict";
import { test } from "node:test";
import { evenPairs, measure, order, read, sameShape, slideToward, turnToward, turned, write } from "../../static/figure/model.js";

const json = {
  lines: { l: { direction: 10, through: [0, 3] }, m: { direction: 25, through: [0, -3] }, t: { direction: 70, through: [0, 0] } },
  transversal: "t",
  number: "standard",
  meets: { A: ["l", "t"], B: ["m", "t"] },
};
const names = ["1", "2", "3", "4", "5", "6", "7", "8"];

test("a standard numbering gives eight angles, linear pairs add to 180 exactly", () => {
  const figure = read(json);
  assert.deepEqual(Object.keys(figure.angles), names);
  for (const [a, b] of [["1", "2"], ["3", "4"], ["5", "6"], ["7", "8"], ["1", "3"]]) {
    assert.equal(measure(figure, a) + measure(figure, b), 180);
  }
  assert.equal(measure(figure, "1"), measure(figure, "4"));
});

test("turning in whole steps makes equal exactly equal", () => {
  const figure = read(json);
  const even = turnToward(figure, "m", 10, 1, null, 0.5);
  assert.equal(even.lines.m.direction, 10);
  assert.deepEqual(evenPairs(even), [["l", "m"]]);
  assert.equal(measure(even, "1"), measure(even, "5"));
});

test("a line that turns past 180 keeps every angle the sector that it was", () => {
  const figure = read({ ...json, lines: { ...json.lines, l: { direction: 178, through: [0, 3] }, m: { direction: 160, through: [0, -3] } } });
  for (const wanted of [179, 180, 181, 185]) {
    const next = turned(figure, "l", wanted);
    for (const name of names) {
      const by = measure(next, name) - measure(figure, name);
      assert.ok(Math.abs(Math.abs(by) - Math.abs(wanted - 178)) < 1e-9 || by === 0, `${name} at ${wanted}: ${by}`);
    }
  }
});

test("a turn stops before the figure would become another one", () => {
  const figure = read(json);
  const box = [-9, -9, 9, 9];
  for (let wanted = 0; wanted < 360; wanted += 7) {
    const next = turnToward(figure, "t", wanted, 1, box, 0.5);
    assert.ok(sameShape(figure, next, box, 0.5));
    assert.deepEqual([...order(next, "t")].sort(), ["A", "B"]);
  }
});

test("a slide never brings two meets onto one another", () => {
  const figure = read(json);
  const next = slideToward(figure, "l", [0, -30], [-9, -9, 9, 9], 0.5);
  assert.ok(sameShape(figure, next, [-9, -9, 9, 9], 0.5));
});

test("what is read is written again; fractions keep their text", () => {
  const figure = read({ ...json, lines: { ...json.lines, l: { direction: "37/2", through: [0, 3] } } });
  const out = write(figure);
  assert.equal(out.lines.l.direction, "37/2");
  assert.deepEqual(write(read(out)), out);
});
