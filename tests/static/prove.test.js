// The proof book's rows and its reason field, as data.
import test from "node:test";
import assert from "node:assert/strict";
import {
  begun,
  empty,
  insert,
  named,
  put,
  remove,
  shift,
  startRows,
  tapped,
  toggleFrom,
  toReply,
} from "../../static/prove/rows.js";

const row = (statement, reason = "given", from = null) => ({
  statement,
  reason,
  from,
  fixed: { statement: false, reason: false },
});
const three = [row("a"), row("b"), row("c", "transitive", [1, 2])];
const froms = (rows) => rows.map((one) => one.from);

test("a row put in moves the references below it", () => {
  assert.deepEqual(froms(insert(three, 1)), [null, null, null, [1, 3]]);
  assert.deepEqual(froms(insert(three, 3)), [null, null, [1, 2], null]);
});

test("a row taken out takes its references with it", () => {
  assert.deepEqual(froms(remove(three, 0)), [null, [1]]);
  assert.deepEqual(froms(remove(remove(three, 0), 0)), [null]);
});

test("rows change places and references follow", () => {
  const changed = shift(three, 0, 1);
  assert.deepEqual(
    changed.map((one) => one.statement),
    ["b", "a", "c"],
  );
  assert.deepEqual(changed[2].from, [1, 2]);
  assert.deepEqual(
    shift(three, 1, 1).map((one) => one.from),
    [null, [1, 3], null],
  );
  assert.equal(shift(three, 0, -1), three);
  assert.equal(shift(three, 2, 1), three);
});

test("a reference goes in and out, sorted", () => {
  const rows = [...three, empty()];
  const once = toggleFrom(toggleFrom(rows, 3, 3), 3, 1);
  assert.deepEqual(once[3].from, [1, 3]);
  assert.equal(toggleFrom(toggleFrom(once, 3, 1), 3, 3)[3].from, null);
});

test("rows are not changed in place", () => {
  const before = JSON.stringify(three);
  put(three, 0, { statement: "x" });
  insert(three, 0);
  remove(three, 0);
  shift(three, 1, 1);
  toggleFrom(three, 2, 1);
  assert.equal(JSON.stringify(three), before);
});

test("empty rows at the end are not handed in; uncited rows carry no from", () => {
  assert.deepEqual(toReply([...three, empty(), empty()]), [
    { statement: "a", reason: "given" },
    { statement: "b", reason: "given" },
    { statement: "c", reason: "transitive", from: [1, 2] },
  ]);
});

test("a tap writes the name, and two taps a whole statement", () => {
  assert.deepEqual(tapped("", 0, { kind: "angle", name: "1" }), ["∠1", 2]);
  assert.deepEqual(tapped("∠1", 2, { kind: "angle", name: "5" }), ["∠1 ≅ ∠5", 7]);
  assert.deepEqual(tapped("", 0, { kind: "line", name: "l" }), ["l", 1]);
  assert.deepEqual(tapped("l", 1, { kind: "line", name: "m" }), ["l ∥ m", 5]);
  assert.deepEqual(tapped("m∠", 2, { kind: "angle", name: "3" }), ["m∠3", 3]);
  assert.deepEqual(tapped("m∠3 +", 5, { kind: "angle", name: "5" })[0], "m∠3 + ∠5");
  assert.deepEqual(tapped("m∠3 + m∠", 8, { kind: "angle", name: "5" })[0], "m∠3 + m∠5");
});

test("what a statement names is found in the figure", () => {
  const figure = { angles: { 1: {}, 5: {} }, lines: { l: {}, m: {}, t: {} } };
  const names = (text) => named(text, figure).map((one) => `${one.kind} ${one.name}`);
  assert.deepEqual(names("∠1 ≅ ∠5"), ["angle 1", "angle 5"]);
  assert.deepEqual(names("<1 = <9"), ["angle 1"]);
  assert.deepEqual(names("l ∥ m"), ["line l", "line m"]);
  assert.deepEqual(names("t perp l"), ["line t", "line l"]);
  assert.deepEqual(names("m∠1 = 65"), ["angle 1"]);
  assert.deepEqual(names(""), []);
});

test("a proof starts from its support form, or from what was kept", () => {
  const task = { support: "blank", rows: [{ statement: "∠1 ≅ ∠5", reason: "given", from: [] }] };
  const rows = startRows(task, null);
  assert.equal(rows.length, 2);
  assert.deepEqual(rows[0].fixed, { statement: true, reason: true });
  assert.deepEqual(rows[1].fixed, { statement: false, reason: false });
  const blanks = startRows({ support: "reasons", rows: [{ statement: "l ∥ m", reason: null, from: [1] }] }, null);
  assert.deepEqual(blanks, [{ statement: "l ∥ m", reason: "", from: [1], fixed: { statement: true, reason: false } }]);
  assert.deepEqual(startRows(task, { rows: three }), three);
});

test("a row is begun once anything stands in it", () => {
  assert.deepEqual([row(" ", ""), row("∠1", ""), row("", "given"), empty()].map(begun), [false, true, true, false]);
});
