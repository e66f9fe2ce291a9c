// The figure on a canvas, as the SVG shows it (css/figure.css): for the frames of a drag, which then change nothing of the page.
// Pure but for the canvas: a scene and the colours in, ink out. tests/browser/seat/test_ink.py lays both pictures over each other.
import { pairPath } from "./layout.js";
import { lay, marksOf, namesOf, textsAt } from "./scene.js";

const STROKE = 700; // ms in which the arrow marks of new parallels are drawn

/**
 * Draw the scene; answers `{laid, busy}`: its layout, the `last` of the next frame, and whether more is to come by itself.
 *
 * `scene`: model, view, marks, measures, size, movable, picked, path, pair (namePair of the path), notice, reason, since (ms since
 * lines came to run alike; null: long ago), line (the one in hand), handles [{line, part, drag, focus}], last. `dress`: the colours
 * and type faces by their tokens' names, and the widths `line`, `thin` in px. `ratio`: pixels of the canvas to one of the page.
 */
export function ink(c, scene, dress, ratio) {
  const laid = lay(scene, scene.last);
  const brush = { c, dress, laid, k: laid.sizes.k };
  c.setTransform(ratio, 0, 0, ratio, 0, 0);
  c.clearRect(0, 0, scene.view.width, scene.view.height);
  trace(brush, scene);
  for (const name in laid.angles) if (laid.angles[name]) sector(brush, scene, name, laid.angles[name]);
  for (const name in laid.lines) if (laid.lines[name]) line(brush, scene, name, laid.lines[name]);
  const busy = marks(brush, scene);
  for (const name in laid.meets) if (laid.meets[name].seen) meet(brush, scene, name);
  texts(brush, namesOf(laid), [0, 0]);
  for (const handle of scene.handles) if (laid.lines[handle.line]) grip(brush, handle);
  return { laid, busy };
}

/** Stroke with a width and a colour; dashes are px on, px off. */
function stroke({ c, dress }, path, colour, width, { dash = [], cap = "butt", join = "miter" } = {}) {
  c.strokeStyle = dress[colour];
  c.lineWidth = width;
  c.lineCap = cap;
  c.lineJoin = join;
  c.setLineDash(dash);
  c.stroke(path);
}

function fill({ c, dress }, path, colour) {
  c.fillStyle = dress[colour];
  c.fill(path);
}

function circle([x, y], r) {
  const path = new Path2D();
  path.arc(x, y, r, 0, 2 * Math.PI);
  return path;
}

function trace(brush, { model, path, pair }) {
  const [a, b] = path ?? [];
  if (!pair || !brush.laid.angles[a] || !brush.laid.angles[b]) return;
  stroke(brush, new Path2D(pairPath(model, brush.laid, pair, a, b)), "trace", brush.dress.line * 4.6, {
    cap: "round",
    join: "round",
  });
}

function sector(brush, { model, marks: { angles = {}, right = [] }, picked, asked = [] }, name, angle) {
  const { c, dress, laid } = brush;
  const on = picked.includes(name);
  const wanted = asked.includes(name);
  if (!on && !wanted && !angle.arcs && !angle.square && !angle.lead) return;
  const tone = angles[name]?.tone ?? right.find((one) => one.angle === name)?.tone;
  const [x, y] = laid.meets[model.angles[name].at].p;
  c.save();
  c.translate(x, y);
  if (on || wanted) fill(brush, new Path2D(angle.fill), "accent-soft");
  const [colour, width, dash] =
    tone === "follows"
      ? ["accent", dress.line]
      : tone === "fails"
        ? ["pencil", dress.line, [5, 3]]
        : ["ink", dress.thin + 0.5];
  for (const d of [angle.arcs, angle.square]) if (d) stroke(brush, new Path2D(d), colour, width, { dash });
  if (angle.lead) stroke(brush, new Path2D(angle.lead), "graphite", dress.thin, { cap: "round" });
  if (on ? tone !== "fails" : wanted)
    stroke(brush, new Path2D(angle.outline), on ? "accent" : "edge", dress.line * 2 + (on ? 2.5 : 1), {
      join: "round",
    });
  c.restore();
}

function line(brush, { marks: { lines = {} }, picked, line: held }, name, { a, b }) {
  const width = brush.dress.line;
  const tone = lines[name]?.tone;
  const path = new Path2D();
  path.moveTo(a[0], a[1]);
  path.lineTo(b[0], b[1]);
  // As the style sheet has it, the later rule wins.
  if (tone === "fails")
    stroke(brush, path, "pencil", picked.includes(name) ? width * 2 : width, { dash: [14, 6], cap: "round" });
  else if (picked.includes(name)) stroke(brush, path, "accent", width * 2, { cap: "round" });
  else stroke(brush, path, tone === "follows" || name === held ? "accent" : "ink", width, { cap: "round" });
}

/** Arrow marks and ticks; those of new parallels are drawn stroke by stroke. Answers whether there is more of them to come. */
function marks(brush, scene) {
  const { dress, k } = brush;
  let busy = false;
  for (const { kind, d, tone, drawn } of Object.values(marksOf(scene, brush.laid))) {
    const colour = tone === "follows" ? "accent" : tone === "fails" ? "pencil" : tone === "drawn" ? "graphite" : "ink";
    const width = tone === "drawn" ? dress.thin + 0.4 : kind === "ticks" ? dress.thin + 0.5 : dress.line;
    const round = kind === "arrows" ? { cap: "round", join: "round" } : {};
    let dash = tone === "fails" ? [5, 3] : [];
    if (drawn && scene.since !== null && scene.since < STROKE) {
      busy = true;
      const long = 2 * Math.hypot(11, 7) * k; // one arrowhead, wing to wing
      dash = [(long * scene.since) / STROKE, long];
    }
    stroke(brush, new Path2D(d), colour, width, { ...round, dash });
  }
  return busy;
}

function meet(brush, scene, name) {
  const { laid, k } = brush;
  const { p } = laid.meets[name];
  const path = circle(p, 3.2 * k);
  const on = scene.picked.includes(name);
  fill(brush, path, on ? "accent" : "ink");
  if (on) stroke(brush, path, "accent", 5);
  texts(brush, textsAt(scene, laid, name), p);
}

const FONTS = {
  "angle-number": "serif",
  "angle-label": "serif",
  "angle-value": "sans",
  "meet-name": "sans",
  "line-name": "serif",
};

function texts({ c, dress, k }, wanted, [x, y]) {
  c.textAlign = "center";
  c.textBaseline = "alphabetic";
  c.setLineDash([]);
  c.lineJoin = "round";
  c.lineWidth = 4;
  c.strokeStyle = dress.paper;
  for (const { p, text, size, tone, picked, asked, class: kind } of Object.values(wanted)) {
    const [slant, weight] = [
      kind === "line-name" ? "italic " : "",
      picked || asked ? 700 : kind === "angle-value" ? 600 : 400,
    ];
    c.font = `${slant}${weight} ${size * k}px ${dress[FONTS[kind]]}`;
    const graphite = kind === "angle-value" || kind === "meet-name";
    c.fillStyle =
      dress[
        tone === "follows" ? "accent" : tone === "fails" ? "pencil" : picked ? "accent" : graphite ? "graphite" : "ink"
      ];
    const at = [x + p[0], y + p[1] + middle(c)];
    c.strokeText(text, ...at);
    c.fillText(text, ...at);
  }
}

const middles = new Map();

/** How far below the middle of the letters (SVG's "central") their baseline lies, in px. */
function middle(c) {
  let known = middles.get(c.font);
  if (known === undefined) {
    const { fontBoundingBoxAscent: up, fontBoundingBoxDescent: down } = c.measureText("0");
    middles.set(c.font, (known = (up - down) / 2));
  }
  return known;
}

function grip(brush, { line: name, part, drag, focus }) {
  const { dress, laid } = brush;
  const { grips, ring } = laid.lines[name];
  const slides = part === "ring";
  const p = slides ? ring : grips[part === "b" ? 1 : 0];
  const path = circle(p, slides ? 8 : 7);
  fill(brush, path, drag ? "accent" : slides ? "paper" : "ink");
  if (slides) stroke(brush, path, "ink", dress.line);
  else stroke(brush, path, "paper", 2);
  if (focus) stroke(brush, circle(p, slides ? 14 : 13), "focus", 3);
}
