// Where a point's letter goes: of eight places around it, the one that is farthest from lines, arcs and other letters. Pure.
import { drawnAt, far, foot, isCircle } from "./geometry.js";
import { toScreen, toWorld } from "./view.js";

const WAYS = Array.from({ length: 8 }, (_, i) => [
  Math.cos((i * Math.PI) / 4 + 0.4),
  Math.sin((i * Math.PI) / 4 + 0.4),
]);

/** Points' names → pixel places for their letters; `size` is the text's size in pixels. */
export function placeLabels(values, view, size) {
  const things = [...values.values()].filter((value) => !Array.isArray(value));
  const points = [...values].filter(([, value]) => Array.isArray(value));
  const dots = points.map(([, at]) => toScreen(view, at));
  const placed = new Map();
  const out = size * 0.95;
  points.forEach(([name], i) => {
    const [x, y] = dots[i];
    let best = null;
    for (const [dx, dy] of WAYS) {
      /** @type {[number, number]} */
      const at = [x + dx * out, y - dy * out];
      const room = Math.min(
        toLines(at, things, view),
        ...dots.map((dot, j) => (j === i ? 99 : far(dot, at) - 4)),
        ...[...placed.values()].map((other) => far(other, at) - size * 0.5),
        Math.min(at[0], view.w - at[0], at[1], view.h - at[1]) - size * 0.2,
      );
      if (!best || room > best.room + 0.01) best = { at, room };
      if (room > size) break;
    }
    placed.set(name, best.at);
  });
  return placed;
}

function toLines(at, things, view) {
  const world = toWorld(view, at);
  let least = 99;
  for (const thing of things) {
    const near = foot(thing, world);
    if (!near || (isCircle(thing) && !drawnAt(thing, near))) continue;
    least = Math.min(least, far(near, world) * view.k);
  }
  return least;
}
