// JavaScript's side of the shared cases (tests/vectors, from `python -m tests.twins`); Python's is tests/twins/test_twins.py.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { claim } from "../../static/construct/claim.js";
import { far } from "../../static/construct/geometry.js";
import { replayMoved, tie } from "../../static/construct/moved.js";
import { parts, place, title } from "../../static/figure/describe.js";
import { readFigure } from "../../static/figure/model.js";
import { holds } from "../../static/tasks/reach.js";
import { load } from "../../static/words/say.js";

await load("figure");
const shared = (name) => JSON.parse(readFileSync(new URL(`../vectors/${name}.json`, import.meta.url), "utf8"));
const near = (a, b) => far(a, b) < 1e-6;

test("a figure is told in the server's words: its title, its crossings, where its angles lie", () => {
  for (const one of shared("figure_words")) {
    const model = readFigure(one.figure);
    const names = JSON.stringify(one.figure.lines);
    assert.equal(title(model), one.title, names);
    assert.deepEqual(parts(model).slice(0, one.crossings.length), one.crossings, names);
    assert.equal(
      parts(model).length,
      one.crossings.length + Object.keys(one.places).length + (Object.keys(model.lines).length > 2 ? 1 : 0),
      names,
    );
    for (const [name, words] of Object.entries(one.places)) assert.equal(place(model, name), words, `${name} ${names}`);
  }
});

test("statements hold in a drawing as arithmetic says", () => {
  for (const { figure, statements } of shared("reach")) {
    const model = readFigure(figure);
    for (const [statement, held] of statements)
      assert.equal(holds(model, statement), held, `${statement} ${JSON.stringify(figure.lines)}`);
  }
});

for (const [i, one] of shared("claims").entries()) {
  test(`${one.task} ${i}: an answer misses by what its definition says`, () => {
    const values = new Map([...Object.entries(one.points), ["x", one.answer]]);
    const found = claim(one.task, one.start, values, "x");
    assert.ok(Math.abs(found.off - one.off) < 1e-6, `${found.off} for ${one.off}`);
    assert.equal(found.holds, one.off < 1e-6);
  });
}

for (const [i, one] of shared("moved").entries()) {
  test(`${one.task} (${one.route}, ${one.compass}) ${i} moves as the server moves it`, () => {
    const tied = tie(one.start, one.moves);
    const free = new Map(
      [...tied.free].map(([name, at]) => [
        name,
        at.at ? { at: at.at.map((c, k) => c + one.points[name][k]) } : { of: at.of, ...one.along[name] },
      ]),
    );
    const values = replayMoved(tied, free);
    for (const [name, wanted] of Object.entries(one.values)) {
      const value = values.get(name);
      if (!value) continue; // the server knows given objects by a second name too
      if (Array.isArray(wanted)) assert.ok(near(value, wanted), `${name}: ${value} for ${wanted}`);
      else if (wanted.radius) assert.ok(near(value.c, wanted.center) && Math.abs(value.r - wanted.radius) < 1e-6, name);
      else assert.ok(near(value.p, wanted.p) && near(value.q, wanted.q), name);
    }
    for (const move of one.moves) assert.ok(values.has(move.name), move.name);
  });
}
