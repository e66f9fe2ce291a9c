// The drawing that the moves make from the start, in plain numbers. Pure: the page, the stage and the tests use it.
import { crossings, drawnAt, far, foot, heading, isCircle } from "./geometry.js";

/** @import { Point } from "./geometry.js" */

/** A number of the contract: 3, 3.5 or "37/2". @typedef {number | string} Exact */

/**
 * A number of the contract as a float.
 * @param {Exact} value
 */
export function number(value) {
  if (typeof value === "number") return value;
  const [top, bottom = "1"] = String(value).split("/");
  return Number(top) / Number(bottom);
}

/** @type {(at: Exact[]) => Point} */
const place = (at) => [number(at[0]), number(at[1])];

/** The given lines, rays and segments of a start: name → [kind, first point, second point]. */
export function givens(start) {
  const found = {};
  if (start.angle) {
    const [p, v, q] = start.angle;
    found[v + p] = ["ray", v, p];
    found[v + q] = ["ray", v, q];
  }
  if (start.ray) found[start.ray.join("")] = ["ray", ...start.ray];
  if (start.line) found[start.line.join("")] = ["line", ...start.line];
  if (start.segment) found[start.segment.join("")] = ["segment", ...start.segment];
  return found;
}

/**
 * All objects by name: points [x, y], straights {kind, p, q}, arcs {c, r, sweep}. A move that can't be done leaves no object.
 * `upto` moves are done, all of them without it.
 */
export function replay(start, moves, upto = moves.length) {
  const values = new Map();
  for (const [name, at] of Object.entries(start.points)) values.set(name, place(at));
  for (const [name, [kind, a, b]] of Object.entries(givens(start))) {
    values.set(name, { kind, p: values.get(a), q: values.get(b), given: true });
  }
  for (const move of moves.slice(0, upto)) {
    const value = make(move, values);
    if (value) values.set(move.name, value);
  }
  return values;
}

function make(move, values) {
  if (move.op === "point") return place(move.at);
  if (move.op === "on") {
    const of = values.get(move.of);
    return of ? foot(of, place(move.near)) : null;
  }
  if (move.op === "meet") return meet(move, values);
  if (move.op === "arc") {
    const [c, a, b] = [move.center, ...move.opening].map((name) => values.get(name));
    if (!c || !a || !b || far(a, b) < 1e-9) return null;
    return { c, r: far(a, b), sweep: move.sweep ? move.sweep.map(number) : null };
  }
  const [p, q] = move.through.map((name) => values.get(name));
  return p && q && far(p, q) > 1e-9 ? { kind: move.op, p, q } : null;
}

function meet(move, values) {
  const [a, b] = move.of.map((name) => values.get(name));
  if (!a || !b) return null;
  const found = crossings(a, b).filter((x) => (isCircle(a) || drawnAt(a, x)) && (isCircle(b) || drawnAt(b, x)));
  if (!found.length) return null;
  const near = move.near ? place(move.near) : found[0];
  return found.sort((x, y) => far(x, near) - far(y, near))[0];
}

/** The points that lie on an object by the way either was made. */
export function pointsOn(name, start, moves) {
  const found = new Set();
  for (const move of moves) {
    if (move.op === "on" && move.of === name) found.add(move.name);
    if (move.op === "meet" && move.of.includes(name)) found.add(move.name);
    if (move.name !== name) continue;
    if (move.op === "arc" && move.opening.includes(move.center)) {
      found.add(move.opening.find((point) => point !== move.center));
    }
    for (const point of move.through ?? []) found.add(point);
  }
  for (const point of givens(start)[name]?.slice(1) ?? []) found.add(point);
  return [...found];
}

const TAIL = 14; // degrees an arc is drawn beyond its marks
const JOIN = 150; // marks further apart than this get an arc each, as on paper

/** The parts of an arc to draw, [from, extent] in degrees: as it was swung, or else around its marks. */
export function sweeps(name, arc, values, start, moves) {
  if (arc.sweep) return [arc.sweep];
  const marks = pointsOn(name, start, moves).filter((point) => values.has(point));
  const turns = marks.map((point) => heading(arc.c, values.get(point))).sort((a, b) => a - b);
  if (!turns.length) return [[0, 360]];
  const gaps = turns.map((turn, i) => (i + 1 < turns.length ? turns[i + 1] : turns[0] + 360) - turn);
  // The arc starts after the widest gap, and breaks at every gap that is too wide to join.
  const widest = gaps.indexOf(Math.max(...gaps));
  const parts = [];
  let from = null;
  for (let k = 1; k <= turns.length; k += 1) {
    const i = (widest + k) % turns.length;
    from ??= turns[i];
    if (k < turns.length && gaps[i] <= JOIN) continue;
    parts.push([(from - TAIL + 360) % 360, ((turns[i] - from + 360) % 360) + 2 * TAIL]);
    from = null;
  }
  return parts.every(([, extent]) => extent < 360) ? parts : [[0, 360]];
}
