// What a place on the paper can mean: a point, a crossing, a place on an object, a free place. Pure.
import { crossings, drawnAt, far, foot, isCircle } from "./geometry.js";
import { freshPoint } from "./state.js";

/** @import { Point } from "./geometry.js" */
/**
 * What a place can mean: a named point; a crossing of two things, and which of two; a place on a thing; a free place.
 * @typedef {{kind: string, at: Point, name?: string, of?: any, which?: string | null}} Spot
 */

const known = new WeakMap(); // a drawing is a new map after every change, so its spots are found once

/** Every named point and every crossing not yet marked that can be seen: {kind, at, name | of, which}. */
export function allSpots(values) {
  if (!known.has(values)) known.set(values, findSpots(values));
  return known.get(values);
}

function findSpots(values) {
  const points = [];
  const things = [];
  for (const [name, value] of values) (Array.isArray(value) ? points : things).push([name, value]);
  /** @type {Spot[]} */
  const spots = points.map(([name, at]) => ({ kind: "point", name, at }));
  for (let i = 0; i < things.length; i += 1) {
    for (let j = 0; j < i; j += 1) {
      const [[b, two], [a, one]] = [things[i], things[j]];
      for (const at of crossings(one, two)) {
        if (!drawnAt(one, at) || !drawnAt(two, at) || !Number.isFinite(at[0] + at[1])) continue;
        if (spots.some((spot) => far(spot.at, at) < 1e-7 * (1 + Math.abs(at[0]) + Math.abs(at[1])))) continue;
        spots.push({ kind: "crossing", of: [a, b], at });
      }
    }
  }
  return spots.map((spot) => (spot.kind === "crossing" ? { ...spot, which: whichOf(spot, values) } : spot));
}

/**
 * Which of two crossings of the same two things, by its place: "upper", "lower", "left", "right"; null for an only one.
 * @param {Spot} spot
 * @param {Map<string, any>} values
 */
function whichOf({ of, at }, values) {
  const [one, two] = of.map((/** @type {string} */ name) => values.get(name));
  const other = crossings(one, two)
    .filter((place) => drawnAt(one, place) && drawnAt(two, place))
    .sort((a, b) => far(b, at) - far(a, at))[0];
  const [x, y] = [at[0] - other[0], at[1] - other[1]];
  if (Math.hypot(x, y) < 1e-9) return null;
  if (Math.abs(y) >= Math.abs(x)) return y > 0 ? "upper" : "lower";
  return x > 0 ? "right" : "left";
}

/**
 * What a tap at `at` can mean within `reach`: the sure one first. `close` are the spots that a finger can't tell apart.
 */
export function spotsNear(values, at, reach, { free = false } = {}) {
  const near = allSpots(values)
    .filter((spot) => !free || spot.kind === "point")
    .map((spot) => ({ spot, d: far(spot.at, at) }))
    .filter(({ d }) => d <= (free ? reach / 2 : reach))
    .sort((a, b) => a.d - b.d);
  if (near.length) {
    // One that is clearly nearer than the next is what was meant; else the student is asked.
    const close = near.filter(({ d }, i) => i === 0 || d < 2.2 * near[0].d + reach / 6);
    return close.map(({ spot }) => spot);
  }
  return [free ? { kind: "free", at } : onObject(values, at, reach * 0.7)];
}

function onObject(values, at, reach) {
  let best = { kind: "free", at };
  let least = reach;
  for (const [name, value] of values) {
    if (Array.isArray(value)) continue;
    const near = foot(value, at);
    if (!near || !drawnAt(value, near)) continue;
    const d = far(near, at);
    // A given line goes by two names; the first is enough.
    if (d < least) [best, least] = [{ kind: "on", of: name, at: near }, d];
  }
  return best;
}

const fine = (at) => at.map((c) => Math.round(c * 1e6) / 1e6);

/** The move that marks a spot, or null for a point that has its name already. */
export function marking(state, spot) {
  if (spot.kind === "point") return null;
  const name = freshPoint(state);
  if (spot.kind === "crossing") return { op: "meet", name, of: spot.of, near: fine(spot.at) };
  if (spot.kind === "on") return { op: "on", name, of: spot.of, near: fine(spot.at) };
  return { op: "point", name, at: fine(spot.at) };
}

/** Whether the spot lies on the circle that the compass would draw. */
export function onCircle(circle, at, reach) {
  return isCircle(circle) && Math.abs(far(circle.c, at) - circle.r) <= reach;
}
