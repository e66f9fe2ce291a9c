// Points [x, y], straight objects {kind, p, q}, circles {c, r}: where they cross, and what is nearest. Pure.

/**
 * A place on the paper, or the way from one to another.
 * @typedef {[number, number]} Point
 */
/**
 * A line, ray or segment through p and q; `given` where the task brings it.
 * @typedef {{kind: string, p: Point, q: Point, given?: boolean}} Straight
 */
/**
 * A circle about c; `sweep` is the part that was drawn: from a direction, through an extent, in degrees.
 * @typedef {{c: Point, r: number, sweep?: [number, number] | null}} Circle
 */
/** @typedef {Straight | Circle} Thing */

/** @type {(p: Point, q: Point) => Point} */
export const minus = (p, q) => [p[0] - q[0], p[1] - q[1]];
/** @type {(u: Point, v: Point) => number} */
export const dot = (u, v) => u[0] * v[0] + u[1] * v[1];
/** @type {(u: Point, v: Point) => number} */
export const cross = (u, v) => u[0] * v[1] - u[1] * v[0];
/** @type {(p: Point, q: Point) => number} */
export const far = (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]);

/**
 * The direction from p to q in degrees, counterclockwise, y up, in [0, 360).
 * @param {Point} p
 * @param {Point} q
 */
export function heading(p, q) {
  return ((Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI + 360) % 360;
}

/**
 * The point at a distance and a direction (degrees) from p.
 * @param {Point} p
 * @param {number} r
 * @param {number} degrees
 * @returns {Point}
 */
export function polar(p, r, degrees) {
  const a = (degrees * Math.PI) / 180;
  return [p[0] + r * Math.cos(a), p[1] + r * Math.sin(a)];
}

/** @param {any} thing @returns {thing is Circle} */
export const isCircle = (thing) => thing?.r !== undefined;
/** @param {any} thing @returns {thing is Point} */
export const isPoint = (thing) => Array.isArray(thing);

/**
 * The point of a straight object at p + t (q − p).
 * @param {Straight} line
 * @param {number} t
 * @returns {Point}
 */
export function pointAt(line, t) {
  return [line.p[0] + t * (line.q[0] - line.p[0]), line.p[1] + t * (line.q[1] - line.p[1])];
}

/**
 * The t of the point of the line that is nearest to x.
 * @param {Straight} line
 * @param {Point} x
 */
export function along(line, x) {
  const way = minus(line.q, line.p);
  return dot(minus(x, line.p), way) / dot(way, way);
}

/**
 * Whether a point of the carrying line lies on the line, ray or segment itself.
 * @param {Straight} line
 * @param {Point} x
 */
export function reaches(line, x, slack = 1e-6) {
  if (line.kind === "line") return true;
  const t = along(line, x);
  return t >= -slack && (line.kind === "ray" || t <= 1 + slack);
}

/**
 * Whether a point of the whole circle lies on the part that was drawn.
 * @param {Circle} circle
 * @param {Point} x
 */
export function swept(circle, x, slack = 0.6) {
  if (!circle.sweep || circle.sweep[1] >= 360) return true;
  const turn = (((heading(circle.c, x) - circle.sweep[0]) % 360) + 360) % 360;
  return turn <= circle.sweep[1] + slack || turn >= 360 - slack;
}

/**
 * Where the carrying line or whole circle of both cross: up to two points.
 * @param {Thing} a
 * @param {Thing} b
 * @returns {Point[]}
 */
export function crossings(a, b) {
  if (isCircle(a)) return isCircle(b) ? circles(a, b) : lineCircle(b, a);
  if (isCircle(b)) return lineCircle(a, b);
  const [u, v] = [minus(a.q, a.p), minus(b.q, b.p)];
  const turn = cross(u, v);
  if (Math.abs(turn) < 1e-12 * Math.hypot(...u) * Math.hypot(...v)) return [];
  return [pointAt(a, cross(minus(b.p, a.p), v) / turn)];
}

/** @param {Straight} line @param {Circle} circle */
function lineCircle(line, circle) {
  const way = minus(line.q, line.p);
  const long = dot(way, way);
  const middle = along(line, circle.c);
  const away = far(circle.c, pointAt(line, middle));
  const under = (circle.r * circle.r - away * away) / long;
  if (under < (-1e-12 * (circle.r * circle.r)) / long) return [];
  if (under <= 1e-12) return [pointAt(line, middle)];
  const half = Math.sqrt(under);
  return [pointAt(line, middle - half), pointAt(line, middle + half)];
}

/** @param {Circle} a @param {Circle} b @returns {Point[]} */
function circles(a, b) {
  const way = minus(b.c, a.c);
  const d2 = dot(way, way);
  if (d2 < 1e-18) return [];
  const k = (d2 + a.r * a.r - b.r * b.r) / (2 * d2);
  const up = (a.r * a.r) / d2 - k * k;
  const size = (a.r * a.r) / d2 + k * k;
  if (up < -1e-12 * size) return [];
  /** @type {Point} */
  const base = [a.c[0] + k * way[0], a.c[1] + k * way[1]];
  if (up <= 1e-12 * size) return [base];
  const rise = Math.sqrt(up);
  return [
    [base[0] - rise * way[1], base[1] + rise * way[0]],
    [base[0] + rise * way[1], base[1] - rise * way[0]],
  ];
}

/**
 * The point of the drawn object nearest to x; null for the center of a circle, from which all of it is as near.
 * @param {Thing} thing
 * @param {Point} x
 * @returns {Point | null}
 */
export function foot(thing, x) {
  if (isCircle(thing)) {
    const d = far(thing.c, x);
    if (d < 1e-12) return null;
    return [thing.c[0] + ((x[0] - thing.c[0]) * thing.r) / d, thing.c[1] + ((x[1] - thing.c[1]) * thing.r) / d];
  }
  let t = along(thing, x);
  if (thing.kind !== "line") t = Math.max(0, t);
  if (thing.kind === "segment") t = Math.min(1, t);
  return pointAt(thing, t);
}

/**
 * Whether a point on the whole object is on the part of it that can be seen.
 * @type {(thing: Thing, x: Point) => boolean}
 */
export const drawnAt = (thing, x) => (isCircle(thing) ? swept(thing, x) : reaches(thing, x));
