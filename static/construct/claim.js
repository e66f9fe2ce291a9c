// What the answer claims, measured as drawn: two numbers that are to be equal, and where lines meet that are not to. Pure.
import { cross, crossings, dot, far, isCircle, isPoint, minus } from "./geometry.js";

/** @import { Point } from "./geometry.js" */

const TRUE = 1e-6; // degrees, or parts of a length: what a drawing in plain numbers can tell

/**
 * {key, fields, off, holds, meets}: the words' key and fields, by how much it misses (degrees; parts of the length), whether it
 * holds, and the place where two lines meet that should be parallel. Null without an answer.
 */
export function claim(construction, start, values, result) {
  const value = values.get(result);
  if (!value || isCircle(value)) return null;
  const told = (CLAIMS[construction] ?? (() => null))(start, values, value);
  return told && { meets: null, ...told, holds: told.off < TRUE };
}

const CLAIMS = {
  "copy an angle"(start, values, line) {
    const given = angleAt(...start.angle.map((name) => values.get(name)));
    const [w, s] = start.ray.map((name) => values.get(name));
    const made = ways(line, w).map((way) => between(way, minus(s, w)));
    const copy = made.sort((x, y) => Math.abs(x - given) - Math.abs(y - given))[0];
    return {
      key: "claim_copy",
      off: Math.abs(copy - given),
      fields: { v: start.angle.join(""), w: start.ray[0], ...pair(given, copy) },
    };
  },
  "copy a segment"(start, values, line) {
    if (line.kind !== "segment") return null;
    const [a, b] = start.segment.map((name) => values.get(name));
    const [given, copy] = [far(a, b), far(line.p, line.q)];
    return {
      key: "claim_segment",
      off: Math.abs(copy / given - 1),
      fields: { s: start.segment.join(""), ...pair(given, copy, 2) },
    };
  },
  "parallel through a point"(start, values, line) {
    const [a, b] = start.line.map((name) => values.get(name));
    const off = leaning(line, { p: a, q: b });
    const meets = off > TRUE ? (crossings({ ...line, kind: "line" }, { kind: "line", p: a, q: b })[0] ?? null) : null;
    return { key: off > TRUE ? "claim_meet" : "claim_parallel", off, meets, fields: { s: start.line.join("") } };
  },
  "perpendicular through a point"(start, values, line) {
    const [a, b] = start.line.map((name) => values.get(name));
    const turn = leaning(line, { p: a, q: b });
    return { key: "claim_square", off: 90 - turn, fields: { s: start.line.join(""), x: shown(turn, 90 - turn) } };
  },
  "bisect an angle"(start, values, line) {
    const [p, v, q] = start.angle.map((name) => values.get(name));
    const halves = ways(line, v).map((way) => [between(way, minus(p, v)), between(way, minus(q, v))]);
    const [one, two] = halves.sort((x, y) => x[0] + x[1] - y[0] - y[1])[0];
    return { key: "claim_halves", off: Math.abs(one - two), fields: { v: start.angle.join(""), ...pair(one, two) } };
  },
  "bisect a segment"(start, values, value) {
    const [a, b] = start.segment.map((/** @type {string} */ name) => values.get(name));
    /** @type {Point | undefined} */
    const at = isPoint(value) ? value : crossings({ ...value, kind: "line" }, { kind: "line", p: a, q: b })[0];
    if (!at) return null;
    const [one, two] = [far(a, at), far(at, b)];
    return {
      key: "claim_parts",
      off: Math.abs(one - two) / far(a, b),
      fields: { s: start.segment.join(""), ...pair(one, two, 2) },
    };
  },
};

/** The directions in which the answer leaves a point: one for a ray or segment that begins there, else both. */
function ways(line, at) {
  const way = minus(line.q, line.p);
  const back = [-way[0], -way[1]];
  if (line.kind !== "line" && far(line.p, at) < 1e-7 * Math.hypot(...way)) return [way];
  if (line.kind === "segment" && far(line.q, at) < 1e-7 * Math.hypot(...way)) return [back];
  return [way, back];
}

function between(u, v) {
  return (Math.atan2(Math.abs(cross(u, v)), dot(u, v)) * 180) / Math.PI;
}

const angleAt = (p, v, q) => between(minus(p, v), minus(q, v));

/** Degrees between two lines, 0 to 90. */
function leaning(one, two) {
  const turn = between(minus(one.q, one.p), minus(two.q, two.p));
  return Math.min(turn, 180 - turn);
}

/** Two numbers with as many decimals as it takes to tell them apart, one (or `least`) where they are equal. */
function pair(x, y, least = 1) {
  const off = Math.abs(x - y);
  return { x: shown(x, off, least), y: shown(y, off, least) };
}

function shown(x, off, least = 1) {
  const places = off < TRUE ? least : Math.max(least, Math.min(4, Math.ceil(-Math.log10(off)) + 1));
  return x.toFixed(places);
}

/** A miss in words' numbers: one decimal, or as many as show that it isn't nothing. */
export const missed = (off) => shown(off, off);
