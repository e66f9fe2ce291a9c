// The JavaScript answer reader against the vectors that Python's is held to.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import {
  AnswerFault,
  readExpression,
  readLine,
  readMeasure,
  readValue,
  showPoly,
} from "../../static/practice/answers.js";

const { cases } = JSON.parse(readFileSync(new URL("../vectors/answers.json", import.meta.url), "utf8"));

function refused(read, text) {
  try {
    read(text);
  } catch (fault) {
    assert.ok(fault instanceof AnswerFault, `${text}: ${fault}`);
    return fault;
  }
  return assert.fail(`${JSON.stringify(text)} was read`);
}

test("every expression comes out as sympy has it", () => {
  for (const { text, poly } of cases.filter((c) => "poly" in c)) {
    assert.equal(showPoly(readExpression(text).poly), poly, text);
  }
});

test("every value is read", () => {
  for (const { text, value } of cases.filter((c) => "value" in c)) assert.equal(readValue(text), value, text);
});

test("a measure may be said with its name", () => {
  for (const { text, label, measure } of cases.filter((c) => "measure" in c)) {
    if (measure === null) refused((t) => readMeasure(t, label), text);
    else assert.equal(readMeasure(text, label), measure, text);
  }
});

test("every line comes out with its cases and sides", () => {
  for (const { text, line } of cases.filter((c) => "line" in c)) {
    const found = readLine(text).cases.map((e) =>
      e.map(({ left, right }) => [showPoly(left.poly), showPoly(right.poly)]),
    );
    assert.deepEqual(found, line, text);
  }
});

test("every bad text is refused for the same reason at the same place", () => {
  for (const { text, fault, at } of cases.filter((c) => "fault" in c)) {
    for (const read of [readExpression, readLine, readValue]) {
      const found = refused(read, text);
      assert.deepEqual([found.code, found.at], [fault, at], text);
    }
  }
});

test("what is no number is refused as one", () => {
  for (const { text, value_fault: code } of cases.filter((c) => "value_fault" in c)) {
    assert.equal(refused(readValue, text).code, code, text);
  }
});

test("things that are no text are refused", () => {
  for (const thing of [null, undefined, true, [], {}, NaN, Infinity, 1e9]) refused(readValue, thing);
});
