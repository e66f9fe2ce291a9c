// The window on the paper: world coordinates (y up) to pixels and back. Pure.

/** @import { Circle, Point, Straight } from "./geometry.js" */

/**
 * `k` pixels a unit, the world point (x, y) in the middle of w × h pixels.
 * @typedef {{k: number, x: number, y: number, w: number, h: number, before?: Region}} View
 * What was in sight before the window became too small for it, and how the window has been laid over it since.
 * @typedef {{k: number, wide: number, tall: number, now: {k: number, x: number, y: number}}} Region
 */

/**
 * @param {number} w
 * @param {number} h
 * @returns {View}
 */
export function createView(w, h) {
  return { k: 40, x: 0, y: 0, w, h };
}

/** @type {(view: View, at: Point) => Point} */
export const toScreen = (view, [x, y]) => [(x - view.x) * view.k + view.w / 2, view.h / 2 - (y - view.y) * view.k];
/** @type {(view: View, at: Point) => Point} */
export const toWorld = (view, [sx, sy]) => [(sx - view.w / 2) / view.k + view.x, (view.h / 2 - sy) / view.k + view.y];

/**
 * All points (and the room that arcs about them need) in the window, with a margin.
 * @param {View} view
 * @param {Point[]} points
 * @param {{top?: number, side?: number, bottom?: number}} [margin]
 */
export function fit(view, points, { top = 28, side = 28, bottom = 28 } = {}) {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const [wide, tall] = [Math.max(right - left, 1e-6), Math.max(high - low, 1e-6)];
  view.k = Math.min((view.w - 2 * side) / wide, (view.h - top - bottom) / tall);
  view.x = (left + right) / 2;
  view.y = (low + high) / 2 + (top - bottom) / 2 / view.k;
  return view;
}

/**
 * Another size of the window: a phone that was turned, half a screen. The paper stays where it is while all of these points that were in
 * sight still are; else it is seen from farther away, and as near as before once there is room again, unless it was moved meanwhile.
 * @param {View} view
 * @param {number} w
 * @param {number} h
 * @param {Point[]} points
 */
export function resize(view, w, h, points) {
  const { k, x, y } = view;
  const seen = points.filter((p) => inside(view, p));
  const now = view.before?.now;
  if (!now || now.k !== k || now.x !== x || now.y !== y) delete view.before;
  const region = view.before ?? { k, wide: view.w / k, tall: view.h / k };
  view.w = w;
  view.h = h;
  if (!view.before && seen.every((p) => inside(view, p))) return;
  view.k = Math.min(region.k, w / region.wide, h / region.tall);
  view.before = { ...region, now: { k: view.k, x, y } };
}

/** @param {View} view @param {Point} p */
function inside(view, p) {
  const [sx, sy] = toScreen(view, p);
  return sx >= 0 && sx <= view.w && sy >= 0 && sy <= view.h;
}

/**
 * Nearer (factor > 1) or farther, the world point under the pixel staying under it.
 * @param {View} view
 * @param {number} factor
 * @param {Point} at
 */
export function zoom(view, factor, at = [view.w / 2, view.h / 2]) {
  const before = toWorld(view, at);
  view.k = Math.min(Math.max(view.k * factor, 1e-3), 1e5);
  const after = toWorld(view, at);
  view.x += before[0] - after[0];
  view.y += before[1] - after[1];
}

/** @param {View} view @param {number} dx @param {number} dy */
export function pan(view, dx, dy) {
  view.x -= dx / view.k;
  view.y += dy / view.k;
}

/**
 * The ends on screen of a line, ray or segment, a ray or line drawn to beyond the window.
 * @param {View} view
 * @param {Straight} thing
 * @returns {[Point, Point]}
 */
export function ends(view, thing) {
  const p = toScreen(view, thing.p);
  const q = toScreen(view, thing.q);
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const long = Math.hypot(dx, dy) || 1;
  const reach = (view.w + view.h + Math.hypot(p[0] - view.w / 2, p[1] - view.h / 2)) / long;
  /** @type {Point} */
  const a = thing.kind === "line" ? [p[0] - dx * reach, p[1] - dy * reach] : p;
  /** @type {Point} */
  const b = thing.kind === "segment" ? q : [p[0] + dx * reach, p[1] + dy * reach];
  return [a, b];
}

/**
 * An arc as a path: center and radius in the world, from a direction through an extent in degrees.
 * @param {View} view
 * @param {Circle} circle
 * @param {number} from
 * @param {number} extent
 */
export function arcPath(view, circle, from, extent) {
  const [cx, cy] = toScreen(view, circle.c);
  const r = circle.r * view.k;
  const at = (/** @type {number} */ turn) => {
    const a = (turn * Math.PI) / 180;
    return `${n(cx + r * Math.cos(a))} ${n(cy - r * Math.sin(a))}`;
  };
  if (extent >= 360) {
    return `M${at(from)}A${n(r)} ${n(r)} 0 1 0 ${at(from + 180)}A${n(r)} ${n(r)} 0 1 0 ${at(from)}`;
  }
  return `M${at(from)}A${n(r)} ${n(r)} 0 ${extent > 180 ? 1 : 0} 0 ${at(from + extent)}`;
}

/** Rounded to a hundredth of a pixel. */
export const n = (/** @type {number} */ x) => Math.round(x * 100) / 100;
