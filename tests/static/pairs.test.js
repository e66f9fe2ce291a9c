// The pair names of the page against the vectors that the server's names are tested with (coordinates, see tests/figure/oracle.py).
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";

import { readFigure } from "../../static/figure/model.js";
import { namePair } from "../../static/figure/pairs.js";

const { figures, cases } = JSON.parse(readFileSync(new URL("../vectors/pairs.json", import.meta.url), "utf8"));

test("there are vectors for every pair name", () => {
  const names = new Set(cases.map((one) => one.expected.pair));
  assert.equal(names.size, 9);
});

for (const [name, figure] of Object.entries(figures)) {
  test(`pairs in the figure “${name}” have the names that coordinates give`, () => {
    const model = readFigure(figure);
    for (const { a, b, expected } of cases.filter((one) => one.figure === name)) {
      const { pair, transversal, lines, relation } = namePair(model, a, b);
      assert.deepEqual({ pair, transversal, lines, relation }, expected, `${a} and ${b}`);
    }
  });
}
