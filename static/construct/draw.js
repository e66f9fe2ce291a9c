// From the state to the SVG: once a frame, and only what has changed.
import { isCircle, isPoint } from "./geometry.js";
import { standing } from "./instruments.js";
import { placeLabels } from "./labels.js";
import { compassShapes, standingCompass, straightedgeShapes } from "./compass.js";
import { sweeps } from "./replay.js";
import { answer, shownMoves } from "./state.js";
import { svg } from "../ui/elements.js";
import { sync } from "../ui/svg.js";
import { arcPath, ends, n, toScreen } from "./view.js";

/** @import { Point } from "./geometry.js" */

const LAYERS = ["given", "arcs", "lines", "overlay", "result", "points", "labels", "ghost", "tool"];

/** The paper's SVG with its layers; `layers.spots` is where keys.js puts what can be focused. */
export function createPaper(host, { title, about }) {
  const root = svg("svg", {
    class: "construct-svg",
    role: "graphics-document",
    "aria-labelledby": "c-title",
    "aria-describedby": "c-about",
  });
  root.append(svg("title", { id: "c-title" }, title), svg("desc", { id: "c-about" }, about));
  const layers = {};
  for (const name of LAYERS) root.append((layers[name] = svg("g", { class: `c-${name}`, "aria-hidden": "true" })));
  layers.spots = svg("g", { class: "c-spots", role: "group" });
  root.append(layers.spots);
  host.append(root);
  return { root, layers, about: root.querySelector("desc") };
}

const TEXT = 17;

/**
 * The drawing itself: given, arcs, lines, answer, points, letters. `tones` colours objects by name (a demonstration), `letters`
 * says where the letters go.
 */
export function drawing(
  layers,
  state,
  view,
  { tones = new Map(), text = TEXT, bold = null, letters = (now) => placeLabels(now, view, text) } = {},
) {
  const values = state.values;
  const moves = shownMoves(state);
  const lit = bold ?? answer(state);
  const layer = { given: [], arcs: [], lines: [], result: [], points: [], labels: [] };
  const seen = new Set();
  for (const [name, value] of values) {
    const tone = tones.get(name) ?? "";
    if (isPoint(value)) layer.points.push(dot(name, toScreen(view, value), state, tone));
    else if (isCircle(value)) {
      sweeps(name, value, state.whole ?? values, state.start, state.whole ? state.moves : moves).forEach(
        ([from, extent], i) => {
          layer.arcs.push({
            key: `${name} ${i}`,
            tag: "path",
            class: `c-arc ${tone}`,
            d: arcPath(view, value, from, extent),
          });
        },
      );
    } else {
      const line = stroke(name, value, view);
      if (seen.has(line.d)) continue;
      seen.add(line.d);
      const to = value.given ? layer.given : name === lit ? layer.result : layer.lines;
      to.push({ ...line, class: `${value.given ? "c-given-line" : name === lit ? "c-answer" : "c-line"} ${tone}` });
    }
  }
  for (const [name, [x, y]] of letters(values)) {
    // Moved by its transform: a letter at another x and y would be laid out anew.
    layer.labels.push({
      key: name,
      tag: "text",
      transform: `translate(${n(x)} ${n(y)})`,
      class: `c-letter ${tones.get(name) ?? ""}`,
      text: name,
    });
  }
  for (const line of lineLetters(values, view, moves, lit)) layer.labels.push(line);
  for (const [name, items] of Object.entries(layer)) sync(layers[name], items);
}

function dot(name, [x, y], state, tone) {
  const move = state.moves.find((one) => one.name === name);
  const eye = move?.op === "point" || move?.op === "on";
  // A point placed by eye is an open ring, a given one or a crossing is full: seen without colour.
  return {
    key: name,
    tag: "circle",
    cx: n(x),
    cy: n(y),
    r: eye ? 4.2 : 3.8,
    class: `c-dot ${eye ? "c-eye" : ""} ${tone}`,
  };
}

function stroke(name, value, view) {
  const [a, b] = ends(view, value);
  return { key: name, tag: "path", d: `M${n(a[0])} ${n(a[1])}L${n(b[0])} ${n(b[1])}` };
}

/** Small letters of drawn lines, near where they leave the window. */
function lineLetters(values, view, moves, lit) {
  const found = [];
  for (const move of moves) {
    const value = values.get(move.name);
    if (!value || !"line ray segment".includes(move.op)) continue;
    const at = letterPlace(value, view);
    if (at)
      found.push({
        key: `line ${move.name}`,
        tag: "text",
        transform: `translate(${n(at[0])} ${n(at[1])})`,
        class: `c-letter c-small ${move.name === lit ? "c-lit" : ""}`,
        text: move.name,
      });
  }
  return found;
}

function letterPlace(value, view) {
  const [p, q] = [toScreen(view, value.p), toScreen(view, value.q)];
  const d = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
  const [ux, uy] = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
  const inside = ([x, y]) => x > 18 && y > 18 && x < view.w - 18 && y < view.h - 18;
  const far = value.kind === "segment" ? d / 2 : view.w + view.h;
  for (let t = far; t > 0; t -= 8) {
    /** @type {Point} */
    const at = [p[0] + ux * t + uy * 13, p[1] + uy * t - ux * 13];
    if (inside(at)) return at;
  }
  return null;
}

/**
 * What the hand is doing: the instrument, the dotted circle it would draw, the line being ruled, the arc being swung. As shapes
 * {ghost, shapes, place}; `place` {at, turn} is where a standing compass is carried to.
 */
export function inHand(state, view, draft) {
  const ghost = [];
  let shapes = [];
  let turn = null; // a compass that stands only turns: its shapes stay as they are
  if (state.tool === "compass") {
    const stands = draft?.stands ?? standing(state);
    if (stands) {
      const [c, r] = [toScreen(view, stands.c), stands.r * view.k];
      ghost.push({ key: "circle", tag: "circle", class: "c-dotted", cx: n(c[0]), cy: n(c[1]), r: n(r) });
      const pencil = toScreen(view, draft?.pencil ?? stands.pencil);
      turn = standingCompass(c, pencil);
      shapes = compassShapes(turn.foot, turn.pencil, {
        locked: Boolean(state.opening) && state.compass !== "collapsing",
        side: turn.side,
      });
    } else {
      const foot = draft?.foot ?? state.values.get(state.foot);
      if (foot) {
        const at = toScreen(view, foot);
        shapes = compassShapes(at, draft?.at ? toScreen(view, draft.at) : [at[0] + 34, at[1]], { locked: false });
      }
    }
    if (draft?.sweep && stands) {
      ghost.push({
        key: "swing",
        tag: "path",
        class: "c-arc c-wet",
        d: arcPath(view, stands, draft.sweep[0], draft.sweep[1]),
      });
    }
    carried(ghost, state, view);
  }
  const first = draft?.first ?? state.values.get(state.first);
  if (state.tool === "straightedge" && first) {
    const a = toScreen(view, first);
    const b = draft?.at ? toScreen(view, draft.at) : [a[0] + 120, a[1]];
    shapes = straightedgeShapes(a, b);
    if (draft?.at && Math.hypot(b[0] - a[0], b[1] - a[1]) > 2) {
      const [p, q] = ends(view, { kind: state.kind, p: first, q: draft.at });
      ghost.push({
        key: "ruled",
        tag: "path",
        class: "c-line c-wet",
        d: `M${n(p[0])} ${n(p[1])}L${n(q[0])} ${n(q[1])}`,
      });
    }
  }
  if (draft?.spot) {
    const [x, y] = toScreen(view, draft.spot.at);
    ghost.push({
      key: "snap",
      tag: "circle",
      class: draft.spot.kind === "free" ? "c-snap c-loose" : "c-snap",
      cx: n(x),
      cy: n(y),
      r: 9,
    });
  }
  if (turn) shapes.unshift({ key: "opening", tag: "path", class: "c-opening", d: `M0 0H${turn.pencil[0]}` });
  return { ghost, shapes, place: turn };
}

/** The same in the SVG. */
export function tool(layers, state, view, draft) {
  const { ghost, shapes, place } = inHand(state, view, draft);
  sync(layers.ghost, ghost);
  sync(layers.tool, shapes);
  carry(layers.tool, place ? `translate(${place.at.join(" ")}) rotate(${place.turn})` : null);
}

/** A layer's transform, written when it is another one. */
function carry(layer, transform) {
  if ((layer.placed ?? null) === transform) return;
  layer.placed = transform;
  if (transform) layer.setAttribute("transform", transform);
  else layer.removeAttribute("transform");
}

/** The opening that is carried, shown where it was taken: a length with its two end points. */
function carried(ghost, state, view) {
  const [a, b] = (state.opening ?? []).map((name) => state.values.get(name));
  if (!a || !b) return;
  const [p, q] = [toScreen(view, a), toScreen(view, b)];
  ghost.push({ key: "taken", tag: "path", class: "c-taken", d: `M${n(p[0])} ${n(p[1])}L${n(q[0])} ${n(q[1])}` });
  for (const [key, [x, y]] of Object.entries({ "taken a": p, "taken b": q })) {
    ghost.push({ key, tag: "circle", class: "c-taken", cx: n(x), cy: n(y), r: 7 });
  }
}

/**
 * A sweep of a drag as [from, extent]: counterclockwise from the smaller end.
 * @param {number} startTurn
 * @param {number} moved
 * @returns {[number, number]}
 */
export function sweepOf(startTurn, moved) {
  const from = moved >= 0 ? startTurn : startTurn + moved;
  return [((from % 360) + 360) % 360, Math.min(360, Math.abs(moved))];
}
