// Labels keep clear of lines and of each other at every position that a drag can reach. The boxes are those of the glyphs as they
// are drawn (17 px serif digits, 14 px letters, 20 px line names), a little on the large side.
import assert from "node:assert/strict";
import test from "node:test";

import { anglesAt, arc, layout, pairPath } from "../../static/figure/layout.js";
import { between, heading, readFigure } from "../../static/figure/model.js";
import { ranks, slideTo, turnBy } from "../../static/figure/moves.js";
import { namePair } from "../../static/figure/pairs.js";
import { viewOf, windowOf } from "../../static/figure/view.js";

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
const ROUNDS = process.env.EIGHT_ANGLES_FULL ? 4000 : 250;

/** A small generator with a seed (mulberry32), so that a failure comes again. */
function chance(seed) {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A position that hands can bring the figure to: random turns and slides, each stopped where the page stops it. */
function dragged(random, width, height) {
  let model = readFigure(FLOOR);
  const settings = { view: viewOf(windowOf(model), width, height), rank: ranks(model), step: 1 };
  for (let i = 0; i < 6; i += 1) {
    const line = ["m", "n", "t"][Math.floor(random() * 3)];
    if (random() < 0.7) model = turnBy(model, line, Math.round((random() - 0.5) * 160), settings).model;
    else model = slideTo(model, line, [(random() - 0.5) * 6, (random() - 0.5) * 6], settings).model;
  }
  return { model, view: settings.view };
}

function offLine(p, line) {
  return Math.abs((p[0] - line.a[0]) * line.d[1] - (p[1] - line.a[1]) * line.d[0]);
}

function far(p, q) {
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
}

for (const [width, height] of [
  [911, 433],
  [390, 289],
  [683, 209],
]) {
  test(`angle numbers lie in their sectors, off every line, apart from each other at ${width} by ${height}`, () => {
    const random = chance(width);
    for (let round = 0; round < ROUNDS; round += 1) {
      const { model, view } = dragged(random, width, height);
      const laid = layout(model, view);
      const labels = Object.entries(laid.angles).filter(([, angle]) => angle);
      assert.equal(labels.length, 8);
      labels.forEach(([name, angle], i) => {
        const where = `angle ${name} in ${JSON.stringify(Object.values(model.lines).map((l) => [l.direction, ...l.through]))}`;
        const [dx, dy] = [angle.label[0] - angle.p[0], angle.p[1] - angle.label[1]];
        const turn = ((Math.atan2(dy, dx) * 180) / Math.PI - angle.from + 720) % 360;
        assert.ok(turn > 0 && turn < angle.sweep, `${where} lies outside its sector`);
        for (const line of Object.values(laid.lines))
          if (line) assert.ok(offLine(angle.label, line) > 4.5, `${where} touches a line`);
        for (const [other, two] of labels.slice(i + 1))
          assert.ok(far(angle.label, two.label) > 11, `${where} and ${other} overlap`);
      });
    }
  });

  test(`letters and line names keep off numbers and lines at ${width} by ${height}`, () => {
    const random = chance(width + 1);
    for (let round = 0; round < ROUNDS; round += 1) {
      const { model, view } = dragged(random, width, height);
      const laid = layout(model, view);
      const numbers = Object.values(laid.angles)
        .filter(Boolean)
        .map((angle) => angle.label);
      for (const [name, meet] of Object.entries(laid.meets)) {
        for (const p of numbers) assert.ok(far(meet.letter, p) > 11, `letter ${name} on a number, ${round}`);
      }
      for (const [name, line] of Object.entries(laid.lines)) {
        if (!line) continue;
        const clear = Math.min(
          ...numbers.map((p) => far(line.name, p)),
          ...Object.values(laid.meets).map((meet) => far(line.name, meet.letter)),
        );
        assert.ok(clear > 13, `name ${name} on a number or a letter: ${clear}, round ${round}`);
        for (const other of Object.values(laid.lines))
          if (other) assert.ok(offLine(line.name, other) > 9, `name ${name} on a line, round ${round}`);
        assert.ok(
          line.name[0] > 6 && line.name[1] > 6 && line.name[0] < view.width - 6 && line.name[1] < view.height - 6,
          `name ${name} off the paper`,
        );
      }
    }
  });
}

/** A drag as the page does it: one line, step by step, each frame laid out from the one before. `look(laid, model, view)` sees each. */
function drag(random, width, height, options, look) {
  const { view, ...begun } = dragged(random, width, height);
  let { model } = begun;
  const settings = { view, rank: ranks(model), step: 1 };
  let laid = layout(model, view, options);
  const line = ["m", "n", "t"][Math.floor(random() * 3)];
  const slides = random() < 0.4;
  const sign = random() < 0.5 ? 1 : -1;
  for (let i = 0; i < 45; i += 1) {
    const [x, y] = model.lines[line].through;
    if (slides) model = slideTo(model, line, [x, y + sign * 0.06], settings).model;
    else model = turnBy(model, line, sign * (1 + Math.floor(random() * 3)), settings).model;
    laid = layout(model, view, { ...options, last: laid });
    look(laid, model, view);
  }
}

for (const [width, height] of [
  [911, 433],
  [390, 289],
  [683, 209],
]) {
  test(`in every frame of a drag texts keep off lines, arcs and each other at ${width} by ${height}`, () => {
    const random = chance(width + 2);
    const options = { values: width >= 520 && height >= 260, arcs: { 3: 1, 6: 2 }, movable: ["m", "n", "t"] };
    let stayed = 0;
    for (let round = 0; round < ROUNDS / 8; round += 1) {
      let before = null;
      drag(random, width, height, options, (laid, model) => {
        const where = `in ${JSON.stringify(Object.values(model.lines).map((l) => [l.direction, ...l.through]))}, round ${round}`;
        const texts = [];
        for (const [name, angle] of Object.entries(laid.angles)) {
          const old = before?.angles[name];
          texts.push([`number ${name}`, angle.label, angle.box, angle.placed === old?.placed]);
          if (angle.value)
            texts.push([`value ${name}`, angle.value, angle.valueBox, angle.valuePlaced === old?.valuePlaced]);
          if (angle.placed === old?.placed) stayed += 1;
          const turn =
            ((Math.atan2(angle.p[1] - angle.label[1], angle.label[0] - angle.p[0]) * 180) / Math.PI -
              angle.from +
              720) %
            360;
          assert.ok(turn > 0 && turn < angle.sweep, `number ${name} lies outside its sector ${where}`);
          // Arcs are drawn about the crossing: their outermost radius against the nearest part of the number.
          const arcs = options.arcs[name] ?? 0;
          const outer = arcs ? angle.base + (arcs - 1) * laid.sizes.arcStep : 0;
          assert.ok(far(angle.label, angle.p) > outer + 5, `number ${name} on its arcs ${where}`);
        }
        for (const [name, meet] of Object.entries(laid.meets))
          texts.push([`letter ${name}`, meet.letter, { w: 4.5, h: 5 }, false]);
        texts.forEach(([name, p, box], i) => {
          for (const line of Object.values(laid.lines))
            assert.ok(offLine(p, line) > 4.5, `${name} touches a line ${where}`);
          for (const [other, q, two, stays] of texts.slice(i + 1)) {
            if (!stays && !name.startsWith("value") && !other.startsWith("value")) continue; // placed anew, as at rest
            const clear = Math.max(Math.abs(p[0] - q[0]) - box.w - two.w, Math.abs(p[1] - q[1]) - box.h - two.h);
            assert.ok(clear > -2.5, `${name} overlaps ${other} by ${-clear} ${where}`);
          }
        });
        before = laid;
      });
    }
    assert.ok(stayed > 0, "no text ever stayed where it was");
  });
}

for (const [width, height] of [
  [911, 433],
  [1280, 560],
  [683, 300],
]) {
  test(`with all eight measures shown no text lies on another or on a line at ${width} by ${height}`, () => {
    const random = chance(width + 1);
    let led = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const { model, view } = dragged(random, width, height);
      const laid = layout(model, view, { values: true, movable: ["m", "n", "t"] });
      const where = `in ${JSON.stringify(Object.values(model.lines).map((l) => [l.direction, ...l.through]))}, round ${round}`;
      const texts = [];
      for (const [name, angle] of Object.entries(laid.angles)) {
        texts.push([`number ${name}`, angle.label, angle.box], [`value ${name}`, angle.value, angle.valueBox]);
        assert.equal(angle.lead !== null, angle.valuePlaced.led, where);
        if (!angle.lead) continue;
        led += 1;
        // A leader ends in the sector whose measure it leads to.
        const [x, y] = angle.lead.split("L")[1].split(" ").map(Number);
        const turn = ((Math.atan2(-y, x) * 180) / Math.PI - angle.from + 720) % 360;
        assert.ok(turn > 0 && turn < angle.sweep, `the leader of ${name} ends in another sector ${where}`);
      }
      texts.forEach(([name, p, box], i) => {
        for (const line of Object.values(laid.lines)) {
          const clear = offLine(p, line) - Math.abs(line.d[1]) * box.w - Math.abs(line.d[0]) * box.h;
          assert.ok(clear > -2.7, `${name} lies on a line by ${-clear} ${where}`);
        }
        for (const [other, q, two] of texts.slice(i + 1)) {
          const clear = Math.max(Math.abs(p[0] - q[0]) - box.w - two.w, Math.abs(p[1] - q[1]) - box.h - two.h);
          assert.ok(clear > -2.7, `${name} overlaps ${other} by ${-clear} ${where}`);
        }
      });
    }
    assert.ok(led > 0, "some sectors are too thin for their measures");
  });
}

for (const [width, height] of [
  [570, 540],
  [780, 640],
  [390, 289],
]) {
  test(`a long label keeps off its own arcs, the numbers and the lines at ${width} by ${height}`, () => {
    const random = chance(width + 7);
    const labels = { 2: "(6x - 17)°", 5: "(3x + 8)°" };
    let off = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const { model, view } = dragged(random, width, height);
      const laid = layout(model, view, { labels, arcs: { 2: 1, 5: 2 }, movable: [] });
      const where = `in ${JSON.stringify(Object.values(model.lines).map((l) => [l.direction, ...l.through]))}, round ${round}`;
      for (const name in labels) {
        const { p, value, valueBox, valuePlaced, arcs, base } = laid.angles[name];
        assert.ok(arcs);
        for (const line of Object.values(laid.lines)) {
          const clear = offLine(value, line) - Math.abs(line.d[1]) * valueBox.w - Math.abs(line.d[0]) * valueBox.h;
          assert.ok(clear > -2.7, `${name} lies on a line by ${-clear} ${where}`);
        }
        for (const [other, { label, box }] of Object.entries(laid.angles)) {
          const clear = Math.max(
            Math.abs(value[0] - label[0]) - valueBox.w - box.w,
            Math.abs(value[1] - label[1]) - valueBox.h - box.h,
          );
          assert.ok(clear > -2.7, `${name} overlaps number ${other} by ${-clear} ${where}`);
        }
        if (valuePlaced.led) continue;
        off += 1;
        const outer = base + (name === "5" ? laid.sizes.arcStep : 0);
        const near = Math.hypot(
          Math.max(0, Math.abs(value[0] - p[0]) - valueBox.w),
          Math.max(0, Math.abs(value[1] - p[1]) - valueBox.h),
        );
        assert.ok(near > outer, `${name} lies on its arcs by ${outer - near} ${where}`);
      }
    }
    assert.ok(off > ROUNDS / 2);
  });
}

/** The two ends of a leader: at its text, and in its sector (a path ends "M… L…": from the text to the sector). */
function leaderOf({ lead, p }) {
  const ends = lead.slice(lead.lastIndexOf("M") + 1).split("L");
  return ends.map((end) => end.split(" ").map(Number)).map(([x, y]) => [x + p[0], y + p[1]]);
}

function side(p, line) {
  return (p[0] - line.a[0]) * line.d[1] - (p[1] - line.a[1]) * line.d[0];
}

test("a leader crosses one side of its angle at most, and none is a minus between a number and a measure", () => {
  const sizes = [
    [911, 433, { values: true }],
    [1280, 560, { values: true, size: "board" }],
    [683, 300, { values: true }],
    [390, 289, { labels: { 2: "(6x - 17)°", 5: "(3x + 8)°" }, arcs: { 2: 1, 5: 2 } }],
  ];
  let [led, over, level] = [0, 0, 0];
  for (const [width, height, options] of sizes) {
    const random = chance(width + 1);
    for (let round = 0; round < ROUNDS; round += 1) {
      const { model, view } = dragged(random, width, height);
      const laid = layout(model, view, { ...options, movable: ["m", "n", "t"] });
      for (const angle of Object.values(laid.angles)) {
        if (!angle.lead) continue;
        led += 1;
        const [start, end] = leaderOf(angle);
        if (Object.values(laid.lines).filter((line) => side(start, line) * side(end, line) < 0).length > 1) over += 1;
        // A minus is level and short; a leader that is neither steep nor a few letters long could be read as one.
        if (Math.abs(end[1] - start[1]) < 0.44 * Math.abs(end[0] - start[0])) level += 1;
      }
    }
  }
  assert.ok(led > 100, `${led} leaders`);
  // A text is led only where its own part of the paper has no room: its leader crosses one side of the angle, and nothing else.
  assert.ok(over <= 0.05 * led, `${over} of ${led} leaders cross more than a side of their angles`);
  assert.ok(level <= 0.02 * led, `${level} of ${led} leaders are level`);
});

test("the letter of a crossing lies in no arc", () => {
  const random = chance(23);
  for (const arcs of [
    { 3: 1, 6: 2 },
    { 1: 1, 4: 1, 5: 2, 8: 2 },
    { 2: 1, 3: 2, 6: 1, 7: 2 },
    { 1: 1, 2: 2, 3: 1, 4: 3 },
  ]) {
    for (let round = 0; round < ROUNDS / 2; round += 1) {
      const { model, view } = dragged(random, 911, 433);
      const laid = layout(model, view, { arcs, squares: new Set(["8"]) });
      for (const name of Object.keys(arcs)) {
        const { p, from, sweep, base } = laid.angles[name];
        const { letter } = laid.meets[model.angles[name].at];
        const turn = ((Math.atan2(p[1] - letter[1], letter[0] - p[0]) * 180) / Math.PI - from + 720) % 360;
        const outer = base + (arcs[name] - 1) * laid.sizes.arcStep;
        assert.ok(turn > sweep || far(letter, p) > outer + 6, `the letter lies in the arcs of ${name}, round ${round}`);
      }
    }
  }
});

test("a number and a measure in one row are read as two", () => {
  const random = chance(29);
  let close = 0;
  let all = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const { model, view } = dragged(random, 911, 433);
    const laid = layout(model, view, { values: true, movable: [] });
    for (const { label, box } of Object.values(laid.angles)) {
      for (const { value, valueBox } of Object.values(laid.angles)) {
        if (Math.abs(label[1] - value[1]) > (box.h + valueBox.h) / 2) continue;
        all += 1;
        // "6 29°" is not 629°: with the room that boxes have, more than half a figure's width of air.
        if (Math.abs(label[0] - value[0]) - box.w - valueBox.w < 6) close += 1;
      }
    }
  }
  assert.ok(all > 100 && close <= 0.005 * all, `${close} of ${all}`);
});

test("what nobody moves is taken from the frame before, and at rest the layout owes nothing to the drag", () => {
  const model = readFigure(FLOOR);
  const view = viewOf(windowOf(model), 911, 433);
  const settings = { view, rank: ranks(model), step: 1 };
  const first = layout(model, view, { values: true });
  const next = turnBy(model, "n", 1, settings).model;
  const second = layout(next, view, { values: true, last: first });
  assert.equal(second.lines.m.grips, first.lines.m.grips);
  assert.equal(second.angles["1"].placed, first.angles["1"].placed);
  assert.notEqual(second.lines.n.grips, first.lines.n.grips);
  const there = turnBy(next, "n", 3, settings).model;
  layout(there, view, { values: true, last: second });
  assert.deepEqual(
    layout(there, view, { values: true }).angles,
    layout(there, view, { values: true, last: null }).angles,
  );
});

test("a tap in the middle of a sector means that angle and no other", () => {
  const random = chance(5);
  let tried = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const { model, view } = dragged(random, 911, 433);
    const laid = layout(model, view);
    for (const [name, angle] of Object.entries(laid.angles)) {
      const middle = ((angle.from + angle.sweep / 2) * Math.PI) / 180;
      const point = [angle.p[0] + 28 * Math.cos(middle), angle.p[1] - 28 * Math.sin(middle)];
      // Where two crossings are near each other a number of the other one may stand just there: the tap is on it.
      const on = Object.entries(laid.angles).find(
        ([, { label, box }]) => Math.abs(point[0] - label[0]) <= box.w && Math.abs(point[1] - label[1]) <= box.h,
      );
      if (on && on[1].p !== angle.p) continue;
      tried += 1;
      const found = anglesAt(model, laid, point);
      assert.equal(found[0], name);
      // Where a sector is thinner than a fingertip there, its neighbours are offered too (WCAG 2.2 SC 2.5.8: 24 px).
      if (2 * 28 * Math.sin((angle.sweep * Math.PI) / 360) >= 24) assert.equal(found.length, 1);
    }
  }
  assert.ok(tried > ROUNDS * 7.8, `${tried} of ${ROUNDS * 8}`);
});

test("a tap on a number means its angle, however thin the sector", () => {
  const random = chance(7);
  let thin = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const { model, view } = dragged(random, 390, 289);
    const laid = layout(model, view);
    for (const [name, angle] of Object.entries(laid.angles)) {
      assert.deepEqual(anglesAt(model, laid, angle.label), [name]);
      if (angle.sweep < 30) thin += 1;
    }
  }
  assert.ok(thin > 0);
});

test("a tap on the crossing itself asks which of its four angles is meant", () => {
  const model = readFigure(FLOOR);
  const laid = layout(model, viewOf(windowOf(model), 900, 450));
  const p = laid.meets.A.p;
  assert.deepEqual(anglesAt(model, laid, [p[0] + 2, p[1] + 1]).sort(), ["1", "2", "3", "4"]);
});

test("arcs run counterclockwise in the plane from the first ray to the second", () => {
  // From 0 to 90 degrees around the origin, radius 10, on a page whose y runs down: from (10, 0) to (0, -10), swept the 0 way.
  assert.equal(arc([0, 0], 0, 90, 10), "M10 0A10 10 0 0 0 0 -10");
});

test("the path of a pair runs along both lines and the transversal, as its name says", () => {
  const model = readFigure(FLOOR);
  const laid = layout(model, viewOf(windowOf(model), 900, 450));
  for (const [a, b, pieces] of [
    ["3", "6", 1],
    ["2", "6", 2],
    ["1", "8", 3],
  ]) {
    const pair = namePair(model, a, b);
    const path = pairPath(model, laid, pair, a, b);
    assert.equal(path.split("M").length - 1, pieces, `${pair.pair}: ${path}`);
    assert.ok(path.includes(laid.meets.A.p.map((c) => Math.round(c * 10) / 10).join(" ")));
    assert.ok(path.includes(laid.meets.B.p.map((c) => Math.round(c * 10) / 10).join(" ")));
  }
  assert.equal(pairPath(model, laid, namePair(model, "1", "4"), "1", "4"), "");
});

test("sectors of the layout are those of the model", () => {
  const model = readFigure(FLOOR);
  const laid = layout(model, viewOf(windowOf(model), 900, 450));
  for (const [name, angle] of Object.entries(model.angles)) {
    assert.equal(laid.angles[name].sweep, between(model, angle.from, angle.to));
    assert.equal(laid.angles[name].from, heading(model, angle.from) % 360);
  }
});
