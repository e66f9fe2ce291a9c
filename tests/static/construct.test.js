// Compass and straightedge without a page: replay and words as the server has them, and the instruments' own rules.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { crossings, far } from "../../static/construct/geometry.js";
import {
  drag,
  handySweep,
  lengthen,
  newOpening,
  pickUp,
  standing,
  swing,
  takeCompass,
  tap,
} from "../../static/construct/instruments.js";
import { pointsOn, replay, sweeps } from "../../static/construct/replay.js";
import { claim } from "../../static/construct/claim.js";
import { asPlaces, fromPlaces, moveTo, replayMoved, tie } from "../../static/construct/moved.js";
import { allSpots, spotsNear } from "../../static/construct/spots.js";
import {
  add,
  answer,
  answers,
  contractMoves,
  createState,
  goTo,
  MOST_MOVES,
  redo,
  reply,
  serialise,
  undo,
} from "../../static/construct/state.js";
import { objectWords, sentence, spotWords } from "../../static/construct/words.js";
import { load } from "../../static/words/say.js";

await load("construct");
const cases = JSON.parse(readFileSync(new URL("../vectors/construction.json", import.meta.url), "utf8"));
const COPY = cases[0];
const near = (a, b) => far(a, b) < 1e-6;

for (const one of cases) {
  test(`${one.task} (${one.route}) is replayed as the server replays it`, () => {
    const values = replay(one.start, one.moves);
    for (const [name, wanted] of Object.entries(one.values)) {
      const value = values.get(name);
      if (!value) continue; // the server knows given objects by a second name too
      if (Array.isArray(wanted)) assert.ok(near(value, wanted), name);
      else if (wanted.radius) assert.ok(near(value.c, wanted.center) && Math.abs(value.r - wanted.radius) < 1e-6, name);
      else assert.ok(near(value.p, wanted.p) && near(value.q, wanted.q), name);
    }
    for (const move of one.moves) assert.ok(values.has(move.name), move.name);
  });

  test(`${one.task} (${one.route}) is told in the server's words`, () => {
    assert.deepEqual(
      one.moves.map((_, i) => sentence(i, one.start, one.moves)),
      one.words,
    );
  });

  test(`${one.task} (${one.route}): every mark lies on a drawn part of its arcs`, () => {
    const values = replay(one.start, one.moves);
    for (const [name, arc] of values) {
      if (arc.r === undefined) continue;
      for (const point of pointsOn(name, one.start, one.moves)) {
        const turn = (Math.atan2(values.get(point)[1] - arc.c[1], values.get(point)[0] - arc.c[0]) * 180) / Math.PI;
        const inside = sweeps(name, arc, values, one.start, one.moves).some(
          ([from, extent]) => (turn - from + 720) % 360 <= extent,
        );
        assert.ok(inside, `${point} on ${name}`);
      }
    }
  });
}

function fresh(saved) {
  return createState({ construction: COPY.task, start: COPY.start }, saved);
}
const spotAt = (state, name) => ({ kind: "point", name, at: state.values.get(name) });

/** All free points somewhere else, the same for the same seed. */
function elsewhere(tied, seed) {
  let now = seed;
  const chance = () => (now = (now * 16807) % 2147483647) / 1073741823.5 - 1;
  const free = new Map();
  for (const [name, place] of tied.free) {
    if (place.at) free.set(name, { at: place.at.map((c) => c + 1.3 * chance()) });
    else if (place.t !== undefined) free.set(name, { ...place, t: place.t * (1 + 0.2 * chance()) });
    else free.set(name, { ...place, turn: place.turn + 30 * chance() });
  }
  return free;
}

for (const one of cases) {
  test(`${one.task} (${one.route}, ${one.compass}) holds wherever its free points go`, () => {
    // Euclid's propositions say that it does; the recipes are proved in tests/construction/test_exact.py.
    const tied = tie(one.start, one.moves);
    for (const [name, value] of replay(one.start, one.moves)) {
      const again = replayMoved(tied, tied.free).get(name);
      if (Array.isArray(value)) assert.ok(near(value, again), name);
    }
    let made = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const values = replayMoved(tied, elsewhere(tied, seed));
      if (!values) continue;
      made += 1;
      const found = claim(one.task, one.start, values, one.result);
      assert.ok(found.holds && found.off < 1e-9, `${seed}: ${found.off}`);
      assert.equal(found.meets, null);
    }
    assert.ok(made > 40);
  });

  test(`${one.task} (${one.route}, ${one.compass}) with a crossing placed by eye comes apart`, () => {
    const i = one.moves.findLastIndex((move) => move.op === "meet" && move.name !== "M");
    const at = replay(one.start, one.moves).get(one.moves[i]?.name);
    if (!at) return; // a copied segment ends anywhere on its arc
    const moves = one.moves.map((move, k) => (k === i ? { op: "point", name: move.name, at } : move));
    const tied = tie(one.start, moves);
    assert.ok(claim(one.task, one.start, tied.values, one.result).off < 1e-6, "as drawn nothing is off");
    const apart = [1, 2, 3, 4, 5]
      .map((seed) => replayMoved(tied, elsewhere(tied, seed)))
      .filter(Boolean)
      .map((values) => claim(one.task, one.start, values, one.result));
    assert.ok(apart.length > 2 && apart.every((found) => !found.holds && found.off > 1e-3));
    if (one.task === "parallel through a point") assert.ok(apart.every((found) => found.meets));
  });
}

test("a point on an object stays on it when it is moved, a given point on its line too", () => {
  const copy = tie(COPY.start, COPY.moves);
  const values = replayMoved(copy, moveTo(copy, copy.free, "B", [3, 9], copy.values));
  const ray = values.get("VP");
  assert.ok(
    Math.abs(
      (values.get("B")[0] - ray.p[0]) * (ray.q[1] - ray.p[1]) - (values.get("B")[1] - ray.p[1]) * (ray.q[0] - ray.p[0]),
    ) < 1e-9,
  );
  const on = cases.find((one) => one.task.startsWith("perp") && one.start.points.P[1] === 2);
  const tied = tie(on.start, on.moves);
  assert.equal(tied.free.get("P").of, "AB");
  const [ax, ay] = replayMoved(tied, moveTo(tied, tied.free, "P", [3, 9], tied.values)).get("P");
  assert.ok(Math.abs(ay - ax / 2) < 1e-9);
});

test("where something no longer meets, nothing is drawn", () => {
  const start = { points: { A: [0, 0], B: [4, 0] }, segment: ["A", "B"] };
  const moves = [
    { op: "point", name: "X", at: [2.5, 0.5] },
    { op: "arc", name: "a", center: "A", opening: ["A", "X"] },
    { op: "arc", name: "b", center: "B", opening: ["A", "X"] },
    { op: "meet", name: "Y", of: ["a", "b"], near: [2, 1] },
  ];
  const tied = tie(start, moves);
  assert.ok(replayMoved(tied, tied.free));
  assert.equal(replayMoved(tied, moveTo(tied, tied.free, "X", [0.5, 0], tied.values)), null);
});

test("places go to another page and come back the same; nonsense moves nothing", () => {
  const tied = tie(COPY.start, COPY.moves);
  const free = elsewhere(tied, 7);
  const told = JSON.parse(JSON.stringify(asPlaces(free)));
  const [one, two] = [free, fromPlaces(tied, told)].map((places) => replayMoved(tied, places));
  for (const [name, value] of one) if (Array.isArray(value)) assert.ok(near(value, two.get(name)), name);
  assert.deepEqual(fromPlaces(tied, { V: ["x", 1], P: [1], Q: null, Z: [1, 2] }), tied.free);
});

test("an angle is copied by taps alone", () => {
  const state = fresh();
  const step = (place, reach = 0.3) => {
    const [spot] = spotsNear(state.values, place, reach);
    return tap(state, spot, reach);
  };
  step([0, 0]);
  step([3, 0.5]);
  assert.deepEqual(state.opening, ["V", "B"]);
  step(standing(state).pencil);
  assert.equal(state.foot, null, "the compass is lifted after an arc");
  assert.deepEqual(state.opening, ["V", "B"], "and keeps its opening");
  pickUp(state, "pencil");
  const corner = [3.0414 * Math.SQRT1_2, 3.0414 * Math.SQRT1_2];
  step(corner);
  assert.equal(state.moves.at(-1).op, "meet");
  pickUp(state, "compass");
  step([9, -2]);
  swing(state, 0);
  pickUp(state, "pencil");
  step([12, -2.5]);
  assert.deepEqual(state.moves.at(-1).of, ["WS", "c2"]);
  pickUp(state, "compass");
  newOpening(state);
  tap(state, spotAt(state, "B"), 0.3);
  tap(state, spotAt(state, "C"), 0.3);
  tap(state, spotAt(state, "D"), 0.3);
  assert.equal(state.foot, "D");
  swing(state, 100);
  pickUp(state, "pencil");
  const crossing = allSpots(state.values).find((spot) => spot.kind === "crossing" && spot.of.join() === "c2,c3");
  tap(state, crossing, 0.3);
  pickUp(state, "straightedge");
  tap(state, spotAt(state, "W"), 0.3);
  tap(state, spotAt(state, "E"), 0.3);
  assert.deepEqual(
    contractMoves(state).map((move) => move.op),
    ["on", "arc", "meet", "arc", "meet", "arc", "meet", "ray"],
  );
  assert.equal(answer(state), "r");
});

test("an arc that nobody showed is long enough for the step after it, and no whole turn", () => {
  const state = fresh();
  const arc = () => swing(state, state.turn, handySweep(state)).moves[0].sweep[1];
  const crossing = (...of) =>
    allSpots(state.values).find((spot) => spot.kind === "crossing" && of.every((name) => spot.of.includes(name)));
  tap(state, spotAt(state, "V"), 0.3);
  tap(state, { kind: "on", of: "VP", at: [3, 0.5] }, 0.3);
  const all = [arc()];
  tap(state, spotAt(state, "W"), 0.3);
  all.push(arc());
  newOpening(state);
  tap(state, spotAt(state, "B"), 0.3);
  tap(state, crossing("VQ", "c1"), 0.3);
  tap(state, crossing("WS", "c2"), 0.3);
  all.push(arc());
  pickUp(state, "straightedge");
  tap(state, spotAt(state, "W"), 0.3);
  tap(state, crossing("c2", "c3"), 0.3);
  assert.ok(
    all.every((extent) => extent < 300),
    all.join(),
  );
  assert.deepEqual(
    contractMoves(state).map((move) => move.op),
    ["on", "arc", "arc", "meet", "meet", "arc", "meet", "ray"],
  );
});

test("a compass that collapses keeps no opening, whatever is done with it", () => {
  const state = createState({ construction: COPY.task, start: COPY.start, compass: "collapsing" });
  assert.ok(state.locked);
  const open = () => {
    tap(state, spotAt(state, "V"), 0.3);
    tap(state, spotAt(state, "P"), 0.3);
    assert.deepEqual(state.opening, ["V", "P"]);
  };
  open();
  swing(state, 0);
  assert.equal(state.opening, null);
  open();
  const told = tap(state, spotAt(state, "W"), 0.3);
  assert.deepEqual([told.said[0], state.foot, state.opening], ["collapsed", "W", null]);
  tap(state, spotAt(state, "S"), 0.3);
  pickUp(state, "pencil");
  assert.equal(state.opening, null);
  const modern = fresh();
  drag(modern, spotAt(modern, "V"), spotAt(modern, "P"), 0.3);
  swing(modern, 0);
  takeCompass(modern, "collapsing");
  assert.equal(modern.opening, null);
  assert.deepEqual(Object.keys(reply(modern)), ["moves", "result", "compass"]);
  assert.deepEqual(Object.keys(reply(state)), ["moves", "result"], "the task says so itself");
});

test("a drag opens the compass and rules a line, as two taps do", () => {
  const state = fresh();
  drag(state, spotAt(state, "V"), spotAt(state, "P"), 0.3);
  assert.deepEqual([state.foot, state.opening], ["V", ["V", "P"]]);
  pickUp(state, "straightedge");
  drag(state, spotAt(state, "P"), spotAt(state, "Q"), 0.3);
  assert.deepEqual(state.moves.at(-1).through, ["P", "Q"]);
});

test("a tap on the dotted circle swings, a tap elsewhere carries the compass", () => {
  const state = fresh();
  drag(state, spotAt(state, "V"), spotAt(state, "P"), 0.3);
  tap(state, spotAt(state, "W"), 0.3);
  assert.equal(state.foot, "W");
  const { c, r } = standing(state);
  tap(state, { kind: "free", at: [c[0], c[1] + r] }, 0.3);
  assert.equal(state.moves.at(-1).op, "arc");
  assert.deepEqual(state.moves.at(-1).sweep, [35, 110]);
});

test("an arc can be made longer up to a whole turn", () => {
  const state = fresh();
  drag(state, spotAt(state, "V"), spotAt(state, "P"), 0.3);
  swing(state, 0);
  for (let i = 0; i < 9; i += 1) lengthen(state);
  assert.equal(state.moves.at(-1).sweep[1], 360);
  assert.equal(state.values.get("c1").sweep[1], 360, "the drawing has it too");
});

test("undo takes back one step of the list at a time, redo brings each again", () => {
  const state = fresh();
  pickUp(state, "straightedge");
  drag(state, { kind: "free", at: [1, 7] }, { kind: "free", at: [9, 8] }, 0.3);
  assert.equal(state.moves.length, 3);
  assert.deepEqual(
    [undo(state), undo(state), undo(state), undo(state)].map((move) => move?.op ?? null),
    ["ray", "point", "point", null],
  );
  for (const n of [1, 2, 3]) {
    redo(state);
    assert.equal(state.moves.length, n);
  }
  assert.equal(redo(state), null);
});

test("going back to a step shows it, and going on from there drops what came later", () => {
  const state = createState({ construction: COPY.task, start: COPY.start }, { moves: COPY.moves });
  goTo(state, 3);
  assert.ok(state.values.has("C") && !state.values.has("D"));
  assert.equal(state.moves.length, COPY.moves.length);
  pickUp(state, "pencil");
  tap(state, { kind: "free", at: [1, 8] }, 0.3);
  assert.equal(state.moves.length, 4);
});

test("a free hand snaps to nothing but points", () => {
  const state = createState({ construction: COPY.task, start: COPY.start }, { moves: COPY.moves.slice(0, 2) });
  const place = state.values.get("c1");
  const spot = [place.c[0] + place.r * Math.SQRT1_2 + 0.01, place.c[1] + place.r * Math.SQRT1_2];
  assert.equal(spotsNear(state.values, spot, 0.3)[0].kind, "crossing");
  assert.equal(spotsNear(state.values, spot, 0.3, { free: true })[0].kind, "free");
});

test("spots too close to tell apart are all offered", () => {
  const state = createState(
    { construction: COPY.task, start: COPY.start },
    {
      moves: [
        { op: "point", name: "X", at: [2, 5] },
        { op: "point", name: "Y", at: [2.1, 5] },
      ],
    },
  );
  assert.deepEqual(
    spotsNear(state.values, [2.05, 5.01], 0.4)
      .map((spot) => spot.name)
      .sort(),
    ["X", "Y"],
  );
  assert.deepEqual(spotsNear(state.values, [2, 5], 0.4).map((spot) => spot.name)[0], "X");
});

test("a full paper says so and draws nothing", () => {
  const state = fresh();
  for (let i = 0; i < MOST_MOVES; i += 1) assert.ok(add(state, [{ op: "point", name: `Z${i}`, at: [i, 1] }]));
  pickUp(state, "pencil");
  assert.equal(tap(state, { kind: "free", at: [1, 9] }, 0.3).said[0], "full");
  assert.equal(state.moves.length, MOST_MOVES);
});

test("what is saved comes back the same", () => {
  const state = createState({ construction: COPY.task, start: COPY.start }, { moves: COPY.moves, result: "r" });
  const again = fresh(JSON.parse(JSON.stringify(serialise(state))));
  assert.deepEqual([...again.values.keys()], [...state.values.keys()]);
  assert.deepEqual(answers(again), ["r"]);
});

test("arcs about one center are told apart by their openings", () => {
  const moves = [
    { op: "arc", name: "a", center: "V", opening: ["V", "P"] },
    { op: "arc", name: "b", center: "V", opening: ["W", "S"] },
  ];
  assert.equal(objectWords("b", COPY.start, moves), "the arc about V with opening WS");
});

test("two crossings of the same two things have different names, by their places", () => {
  // WCAG 2.2, 2.4.6 and 4.1.2: names tell controls apart.
  const told = (moves) => {
    const spots = allSpots(replay(COPY.start, moves)).filter((spot) => spot.kind === "crossing");
    return spots.map((spot) => ({ name: spotWords(spot, COPY.start, moves), at: spot.at }));
  };
  const lens = told([
    { op: "arc", name: "a", center: "V", opening: ["V", "P"] },
    { op: "arc", name: "b", center: "P", opening: ["V", "P"] },
  ]).filter(({ name }) => /arc about V and the arc about P|arc about P and the arc about V/.test(name));
  assert.equal(lens.length, 2);
  assert.ok(lens.every(({ name }) => name.startsWith("Crossing of ")));
  const [high, low] = lens.sort((p, q) => q.at[1] - p.at[1]);
  const [right, left] = [...lens].sort((p, q) => q.at[0] - p.at[0]);
  if (Math.abs(high.at[1] - low.at[1]) >= Math.abs(right.at[0] - left.at[0])) {
    assert.match(high.name, /, the upper one$/);
    assert.match(low.name, /, the lower one$/);
  } else {
    assert.match(right.name, /on the right$/);
    assert.match(left.name, /on the left$/);
  }
  for (const one of cases) {
    const values = replay(one.start, one.moves);
    const names = allSpots(values)
      .filter((spot) => spot.kind === "crossing")
      .map((spot) => spotWords(spot, one.start, one.moves));
    assert.equal(new Set(names).size, names.length, `${one.task}: ${names.join(" / ")}`);
  }
});

test("circles that touch have one crossing, circles apart none", () => {
  assert.equal(crossings({ c: [0, 0], r: 1 }, { c: [2, 0], r: 1 }).length, 1);
  assert.equal(crossings({ c: [0, 0], r: 1 }, { c: [3, 0], r: 1 }).length, 0);
  assert.equal(crossings({ c: [0, 0], r: 3 }, { c: [1, 0], r: 1 }).length, 0);
});

test("a carried figure takes the names of the task, and fits only what the task gives", async () => {
  const { handed } = await import("../../static/construct/handed.js");
  const { measure, modelOf } = await import("../../static/figure/model.js");
  // As the server hands it on from parallel-through-p (app/construction/handon.py): ∠2 ≅ ∠6 by construction.
  const angles = (l, m, t, a, b) => ({
    1: { at: a, from: `${t}+`, to: `${l}+` },
    2: { at: a, from: `${l}-`, to: `${t}+` },
    3: { at: a, from: `${l}+`, to: `${t}-` },
    4: { at: a, from: `${t}-`, to: `${l}-` },
    5: { at: b, from: `${t}+`, to: `${m}+` },
    6: { at: b, from: `${m}-`, to: `${t}+` },
    7: { at: b, from: `${m}+`, to: `${t}-` },
    8: { at: b, from: `${t}-`, to: `${m}-` },
  });
  const carried = {
    figure: {
      lines: {
        l: { direction: "867401/5000", through: ["-2/5", "13/10"] },
        m: { direction: "867401/5000", through: ["-2009/1000", "-14047/10000"] },
        t: { direction: "148131/2500", through: ["-2009/1000", "-14047/10000"] },
      },
      meets: { A: { lines: ["l", "t"], at: [-0.4, 1.3] }, B: { lines: ["m", "t"], at: [-2.009, -1.4047] } },
      angles: angles("l", "m", "t", "A", "B"),
      transversal: "t",
      lettered: ["A", "B"],
    },
    given: ["∠2 ≅ ∠6"],
    marks: { angles: { 2: { arcs: 1 }, 6: { arcs: 1 } } },
    lines: ["l", "m"],
    transversal: "t",
  };
  const figure = {
    lines: {
      j: { direction: 10, through: [0, 1] },
      k: { direction: 14, through: [0, -1] },
      s: { direction: 70, through: [0, 0] },
    },
    meets: { C: { lines: ["j", "s"], at: [0, 1] }, D: { lines: ["k", "s"], at: [0, -1] } },
    angles: angles("j", "k", "s", "C", "D"),
    transversal: "s",
  };
  const told = handed(carried, { kind: "justify", figure, given: ["∠6 ≅ ∠2"] });
  assert.deepEqual(
    [Object.keys(told.figure.lines), Object.keys(told.figure.meets), told.figure.transversal],
    [["j", "k", "s"], ["C", "D"], "s"],
  );
  assert.deepEqual(
    [told.figure.angles[6], told.figure.lines.k.direction, told.marks],
    [{ at: "D", from: "k-", to: "s+" }, "867401/5000", carried.marks],
  );
  const model = modelOf(told.figure);
  assert.equal(measure(model, "2"), measure(model, "6"));
  // Another pair is given there: the figure fits, since the pair is congruent in it, but its marks would say too much.
  assert.deepEqual(handed(carried, { kind: "prove", figure, given: ["∠3 and ∠5 are supplementary"] }).marks, {});
  for (const given of ["m∠1 = 113", "∠3 ≅ ∠5", "s ⊥ j", "m∠2 = 6x - 17"])
    assert.equal(handed(carried, { kind: "prove", figure, given: [given] }), null, given);
  // Explored, its lines stand at whole degrees.
  assert.deepEqual(
    Object.values(handed(carried, { kind: "explore", figure }).figure.lines).map((line) => line.direction),
    [173, 173, 59],
  );
  assert.equal(handed(carried, { figure: { ...figure, lines: { ...figure.lines, u: {} } } }), null);
  assert.equal(handed(null, { figure }), null);
});

test("a triangle is carried onto a congruent one, turned over where it must be", async () => {
  const { carried } = await import("../../static/construct/turn.js");
  const from = [
    [0, 0],
    [4, 0],
    [1, 2],
  ];
  for (const to of [
    [
      [5, 5],
      [5, 9],
      [3, 6],
    ],
    [
      [5, 5],
      [5, 9],
      [7, 6],
    ],
  ]) {
    carried(from, to, 1).forEach((at, i) => assert.ok(near(at, to[i])));
    carried(from, to, 0).forEach((at, i) => assert.ok(near(at, from[i])));
  }
});

test("every sentence that the page says is in the catalogue, and none is left over", async () => {
  const { readdirSync } = await import("node:fs");
  const words = (await import("../../static/words/en/construct.js")).default;
  const root = new URL("../../static/", import.meta.url);
  const files = [
    ...readdirSync(new URL("construct/", root)).map((name) => `construct/${name}`),
    "tasks/construct.js",
    "stage/construction.js",
  ];
  const text = files.map((name) => readFileSync(new URL(name, root), "utf8")).join("\n");
  for (const [, key] of text.matchAll(/"construct\.(\w+)"/g)) assert.ok(key in words, key);
  for (const [, key] of text.matchAll(/tell\("(\w+)"/g)) assert.ok(key in words, key);
  for (const [, key] of text.matchAll(/said: \["(\w+)"/g)) assert.ok(key in words, key);
  const made = /^(move|given|draw|spot|now|demo|line$|ray$|segment$|compass$|straightedge$|pencil$)/; // put together from parts
  for (const key of Object.keys(words))
    assert.ok(made.test(key) || new RegExp(`["'\`.]${key}["'\`]`).test(text), `unused: ${key}`);
});

// ── the window on the paper ──

test("what was in sight stays in sight in a smaller window, and comes back as near in the old one", async () => {
  const { createView, fit, pan, resize, toScreen } = await import("../../static/construct/view.js");
  const points = [
    [-5, -1],
    [6, 2],
    [0, 3],
  ];
  const seen = (view, p) => {
    const [x, y] = toScreen(view, p);
    return x >= 0 && x <= view.w && y >= 0 && y <= view.h;
  };
  const view = fit(createView(900, 500), points);
  const { k, x, y } = view;
  resize(view, 900, 470, points); // a line of a hint: nothing moves
  assert.deepEqual([view.k, view.x, view.y], [k, x, y]);
  for (const [w, h] of [
    [390, 330],
    [200, 700],
    [844, 200],
  ]) {
    resize(view, w, h, points);
    assert.ok(
      points.every((p) => seen(view, p)),
      `${w} by ${h}`,
    );
    assert.ok(view.k < k);
  }
  resize(view, 900, 500, points);
  assert.deepEqual([view.k, view.x, view.y], [k, x, y], "turned back, the paper lies as before");
  // Whoever has moved the paper meanwhile has chosen another view.
  resize(view, 390, 330, points);
  pan(view, 20, 0);
  const chosen = { ...view };
  resize(view, 900, 500, points);
  assert.deepEqual([view.k, view.x, view.y], [chosen.k, chosen.x, chosen.y]);
  // A point that was out of sight already takes nothing away.
  const close = fit(createView(900, 500), [points[0], points[2]]);
  const before = close.k;
  resize(close, 880, 500, [...points, [60, 60]]);
  assert.equal(close.k, before);
});
