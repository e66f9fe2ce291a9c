// Statements of the notation in the words of the page's language, and the same angles and lines found in them.
import assert from "node:assert/strict";
import { test } from "node:test";

import { named } from "../../static/prove/rows.js";
import { load } from "../../static/words/say.js";
import { said } from "../../static/words/statement.js";

// English, Spanish, what is spoken of
const ALL = [
  ["∠3 and ∠5 are supplementary", "∠3 y ∠5 son suplementarios", ["3", "5"]],
  ["∠1 and ∠2 are complementary", "∠1 y ∠2 son complementarios", ["1", "2"]],
  ["∠1 and ∠2 are a linear pair", "∠1 y ∠2 forman un par lineal", ["1", "2"]],
  ["∠1 and ∠4 are vertical angles", "∠1 y ∠4 son opuestos por el vértice", ["1", "4"]],
  ["∠1 is a right angle", "∠1 es un ángulo recto", ["1"]],
  ["t bisects ∠3", "t es bisectriz de ∠3", ["3", "t"]],
  ["l ∥ m", "l ∥ m", ["l", "m"]],
  ["∠1 ≅ ∠5", "∠1 ≅ ∠5", ["1", "5"]],
  ["m∠1 + m∠2 = 180", "m∠1 + m∠2 = 180", ["1", "2"]],
  ["", "", []],
];
const FIGURE = {
  lines: { l: 1, m: 1, t: 1 },
  angles: Object.fromEntries("12345678".split("").map((name) => [name, 1])),
};

globalThis.document = { documentElement: { lang: "es" } };
await load("figure");

test("a statement's words are the page's, its signs stay", () => {
  for (const [english, spanish] of ALL) assert.equal(said(english), spanish);
  assert.equal(said(undefined), undefined);
});

test("a statement that is said in Spanish stays as it is", () => {
  for (const [, spanish] of ALL) assert.equal(said(spanish), spanish);
});

test("both speak of the same angles and lines", () => {
  for (const [english, spanish, names] of ALL) {
    for (const text of [english, spanish])
      assert.deepEqual(
        named(text, FIGURE)
          .map((one) => one.name)
          .sort(),
        names,
        text,
      );
  }
});

test("the English catalogue says what the notation says", async () => {
  const { default: words } = await import("../../static/words/en/figure.js");
  const shapes = Object.entries(words)
    .filter(([key]) => key.startsWith("statement_"))
    .map(([, text]) => text.replace(/\{\w\}/g, "…"));
  assert.deepEqual(
    shapes.sort(),
    ALL.slice(0, 6)
      .map(([english]) => english.replace(/∠\d|\bt\b/g, "…"))
      .sort(),
  );
});
