import assert from "node:assert/strict";
import test from "node:test";

import {
  between,
  crossing,
  heading,
  measure,
  order,
  parallels,
  readFigure,
  sectors,
  writeFigure,
} from "../../static/figure/model.js";
import {
  freedom,
  limits,
  pivotOf,
  ranks,
  slideTo,
  trouble,
  turnBy,
  turned,
  turnTo,
} from "../../static/figure/moves.js";
import { viewOf, windowOf } from "../../static/figure/view.js";

const NAMES = ["1", "2", "3", "4", "5", "6", "7", "8"];
const FLOOR = {
  lines: {
    m: { direction: 16, through: [0, 2.2] },
    n: { direction: 5, through: [0, -2.2] },
    t: { direction: 66, through: [0, 0] },
  },
  transversal: "t",
  number: "standard",
  meets: { A: ["m", "t"], B: ["n", "t"] },
};

function how(model) {
  return { view: viewOf(windowOf(model), 900, 450), rank: ranks(model), step: 1 };
}

function withLines(lines, more = {}) {
  return readFigure({ ...FLOOR, ...more, lines: { ...FLOOR.lines, ...lines } });
}

/** The sector's place on the page: its middle's heading, and its meet. */
function middles(model) {
  return NAMES.map((name) => {
    const { at, from, to } = model.angles[name];
    return [at, (heading(model, from) + between(model, from, to) / 2) % 360];
  });
}

test("standard numbering goes upper left, upper right, lower left, lower right at each meet", () => {
  // The layout of the textbook table: 1 2 over 3 4 above, 5 6 over 7 8 below.
  const model = readFigure(FLOOR);
  const quarter = (degrees) =>
    (degrees < 180 ? "upper" : "lower") + (degrees > 90 && degrees < 270 ? " left" : " right");
  const told = middles(model).map(([at, middle]) => `${at} ${quarter(middle)}`);
  const four = ["upper left", "upper right", "lower left", "lower right"];
  assert.deepEqual(told, [...four.map((place) => `A ${place}`), ...four.map((place) => `B ${place}`)]);
});

test("linear pairs add to 180 and vertical angles are equal, exactly, in any whole position", () => {
  for (let t = 20; t <= 160; t += 7) {
    const model = withLines({ m: { direction: 3, through: [0, 2] }, t: { direction: t, through: [0, 0] } });
    for (const [a, b] of [
      ["1", "2"],
      ["1", "3"],
      ["5", "6"],
      ["7", "8"],
    ])
      assert.equal(measure(model, a) + measure(model, b), 180);
    assert.equal(measure(model, "1"), measure(model, "4"));
  }
});

test("every sector around a meet of three lines is there, and together they make a full turn", () => {
  const model = readFigure({
    lines: {
      a: { direction: 0, through: [0, 0] },
      b: { direction: 50, through: [0, 0] },
      c: { direction: 120, through: [0, 0] },
    },
  });
  assert.deepEqual(Object.values(model.meets), [{ lines: ["a", "b", "c"] }]);
  const found = sectors(model, "A");
  assert.equal(found.length, 6);
  assert.equal(
    found.reduce((sum, s) => sum + between(model, s.from, s.to), 0),
    360,
  );
});

test("a line that turns past 180 keeps every angle the sector that it was", () => {
  for (const start of [178, 2]) {
    const model = withLines({
      m: { direction: start, through: [0, 2] },
      n: { direction: 170, through: [0, -2] },
      t: { direction: 88, through: [0, 0] },
    });
    for (let by = -6; by <= 6; by += 1) {
      const { model: next } = turnBy(model, "m", by, how(model));
      assert.equal((next.lines.m.direction - start - by + 360) % 180, 0);
      middles(next).forEach(([at, middle], i) => {
        const moved = Math.abs(middle - middles(model)[i][1]);
        assert.ok(
          Math.min(moved, 360 - moved) <= Math.abs(by) / 2 + 1e-9,
          `angle ${NAMES[i]} at ${at} jumped by ${moved}`,
        );
      });
      for (const name of NAMES) assert.ok(measure(next, name) > 0 && measure(next, name) < 180);
    }
  }
});

test("turning in whole steps makes equal exactly equal", () => {
  const model = withLines({ m: { direction: "33/2", through: [0, 2] } });
  const { model: next, stopped } = turnTo(model, "m", 5.2, how(model));
  assert.equal(stopped, false);
  assert.equal(next.lines.m.direction, 5);
  assert.deepEqual(parallels(next), [["m", "n"]]);
  assert.equal(measure(next, "2"), measure(next, "6"));
});

test("a line with one crossing turns about it", () => {
  const model = readFigure(FLOOR);
  const next = turned(model, "m", 40);
  assert.ok(Math.hypot(next.at.A[0] - model.at.A[0], next.at.A[1] - model.at.A[1]) < 1e-5);
});

test("turning there and back is where it began", () => {
  const model = readFigure(FLOOR);
  for (const line of ["m", "n", "t"]) {
    const there = turnBy(model, line, 12, how(model)).model;
    const back = turnBy(there, line, -12, how(model)).model;
    for (const meet of ["A", "B"]) {
      assert.ok(
        Math.hypot(back.at[meet][0] - model.at[meet][0], back.at[meet][1] - model.at[meet][1]) < 1e-4,
        `${line} moved ${meet}`,
      );
    }
  }
});

test("a turn stops before a crossing would be lost, whichever way and however far it is asked to go", () => {
  const model = readFigure(FLOOR);
  for (const line of ["m", "n", "t"]) {
    for (let by = -400; by <= 400; by += 23) {
      const settings = how(model);
      const { model: next } = turnBy(model, line, by, settings);
      assert.equal(trouble(next, settings.view, settings.rank), 0);
      assert.deepEqual(ranks(next), settings.rank);
      for (const name of NAMES) assert.ok(measure(next, name) >= 14 && measure(next, name) <= 166);
    }
  }
});

test("a slide stops before two crossings would fall together, and before one leaves the paper", () => {
  const model = readFigure(FLOOR);
  for (const point of [
    [0, -30],
    [0, 30],
    [0, -2],
    [4, 2],
  ]) {
    const settings = how(model);
    const { model: next } = slideTo(model, "m", point, settings);
    assert.equal(trouble(next, settings.view, settings.rank), 0);
    assert.deepEqual(ranks(next), settings.rank);
    assert.equal(next.lines.m.direction, 16);
  }
});

test("the ends of a slider are where a turn stops", () => {
  const model = readFigure(FLOOR);
  const [low, high] = limits(model, "m", how(model));
  assert.ok(low < 0 && high > 0);
  assert.equal(turnBy(model, "m", high + 1, how(model)).stopped, true);
  assert.equal(turnBy(model, "m", high + 1, how(model)).why, "flat", "m would come to run along t");
  assert.equal(turnBy(model, "m", high, how(model)).stopped, false);
});

test("a line through a crossing of three may turn about it but not slide", () => {
  const model = readFigure({
    lines: {
      a: { direction: 0, through: [0, 0] },
      b: { direction: 50, through: [0, 0] },
      c: { direction: 120, through: [0, 0] },
      d: { direction: 10, through: [0, -3] },
    },
    meets: { A: ["a", "b", "c"], B: ["b", "d"] },
  });
  assert.deepEqual(freedom(model, "b"), { turn: true, slide: false });
  assert.deepEqual(freedom(model, "d"), { turn: true, slide: true });
  assert.deepEqual(
    pivotOf(model, "b").map((c) => c + 0),
    [0, 0],
  );
});

test("what nobody moves is written as it was read", () => {
  const given = { ...FLOOR, lines: { ...FLOOR.lines, m: { direction: "37/2", through: [0, "11/5"] } } };
  const out = writeFigure(readFigure(given));
  assert.deepEqual(out.lines.m, { direction: "37/2", through: [0, "11/5"] });
  assert.deepEqual(writeFigure(readFigure(out)), out);
  const moved = writeFigure(turned(readFigure(given), "n", 9));
  assert.deepEqual(moved.lines.m, { direction: "37/2", through: [0, "11/5"] });
  assert.equal(moved.lines.n.direction, 9);
});

test("crossings are lettered from the top down, then from the left", () => {
  const model = readFigure({
    lines: {
      a: { direction: 0, through: [0, 2] },
      b: { direction: 60, through: [-1, 0] },
      c: { direction: 120, through: [1, 0] },
    },
  });
  assert.deepEqual(model.meets.A.lines, ["a", "c"]);
  assert.deepEqual(model.meets.B.lines, ["a", "b"]);
  const top = Math.max(...Object.values(model.at).map((p) => p[1]));
  assert.equal(model.at.A[1], top);
});

test("a far crossing that nobody named goes when its lines become parallel, and hinders no turn", () => {
  const model = readFigure({ lines: FLOOR.lines, transversal: "t", number: "standard" });
  assert.equal(Object.keys(model.meets).length, 3);
  const { model: next, stopped } = turnTo(model, "m", 5, how(model));
  assert.equal(stopped, false);
  assert.equal(next.lines.m.direction, 5);
  assert.equal(Object.keys(next.meets).length, 2);
  assert.deepEqual(
    next.lettered.filter((name) => !(name in next.meets)),
    [],
  );
});

test("lines of one direction do not cross; a hair of difference puts the crossing far away", () => {
  const line = (direction, y) => ({ direction, through: [0, y] });
  assert.equal(crossing(line(30, 0), line(30, 1)), null);
  assert.ok(Math.hypot(...crossing(line(30, 0), line(30.001, 1))) > 1e4);
});

test("the order of crossings follows the + direction", () => {
  assert.deepEqual(order(readFigure(FLOOR), "t"), ["B", "A"]);
});
