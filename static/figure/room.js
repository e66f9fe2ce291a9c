// Where a text finds room: in its sector, off every line, apart from all that has been placed before it; the names
// of lines beside an end. Pure.
import { unit } from "./model.js";

/** A point at a distance from `p` in a direction of the plane (degrees, y up; the page's y is down). */
export function polar(p, degrees, r) {
  const u = unit(degrees);
  return [p[0] + u[0] * r, p[1] - u[1] * r];
}

/** Half the width and height of a text's box, in px. */
export function boxOf(text, size) {
  return { w: Math.max(0.33, text.length * 0.265) * size + 1.5, h: 0.4 * size };
}

/** How far from a line's ink the middle of a box must keep. */
function clearance(d, box) {
  return Math.abs(d[1]) * box.w + Math.abs(d[0]) * box.h;
}

/** How far out on the middle of a sector a box lies between its sides. */
export function fits(from, sweep, box) {
  const sides = [from, from + sweep].map((direction) => clearance(unit(direction), box));
  return Math.min((Math.max(...sides) + 2) / Math.sin((Math.min(sweep, 180) * Math.PI) / 360), 230);
}

/**
 * A free place for a text in a sector: on its middle at distance `r` if that is free, else farther out, nearer, or to one side;
 * the place with most room where none is free. Never nearer than `least`: there are its arcs.
 */
export function free(label, lines, taken, view) {
  let best = { room: -Infinity, at: null };
  const tried = (r, aside) => {
    if (r < label.least) return -Infinity;
    const at = polar(label.p, label.from + label.sweep * (0.5 + aside), r);
    const room = roomAt(at, label, lines, taken, view);
    if (room > best.room) best = { room, at };
    return room;
  };
  for (const [stretch, aside] of PLACES) if (tried(label.r * stretch, aside) >= 1) return best.at;
  // Hardly ever: a thin sector that points at the edge of the paper, or through other lines. Look everywhere in it.
  if (best.room < 0.85)
    for (let r = 18; r < 240; r += 7) for (const aside of [0, 0.12, -0.12, 0.24, -0.24]) tried(r, aside);
  return best.at;
}

/** The free place nearest to the crossing, off the angle's own arcs (up to `arcs` px out): a long label must not be read as another angle's. */
export function nearest(label, lines, taken, view) {
  let best = { room: -Infinity, at: null };
  for (let r = label.r; r < 240; r += 6) {
    for (const aside of ASIDE) {
      const at = polar(label.p, label.from + label.sweep * (0.5 + aside), r);
      const room = Math.min(
        roomAt(at, label, lines, taken, view),
        label.arcs ? outOf(at, label) / (label.arcs + 3) : 1,
      );
      if (room >= 1) return at;
      if (room > best.room) best = { room, at };
    }
  }
  return best.at;
}

/**
 * A quite free place near a crossing for a text that has no room in its sector, to be led to `end`: the nearest one whose leader
 * crosses no line and no text and is seen to be one; where there is none, the one with the least of these faults; null where there
 * is no free place at all.
 */
export function outside(label, lines, taken, view) {
  let best = null;
  let least = Infinity;
  for (let r = 30; r < 260; r += 8) {
    for (let turn = 0; turn < 360; turn += 10) {
      const at = polar(label.p, turn, r);
      const far = apart(at, label.end);
      if (far >= least || roomAt(at, label, lines, taken, view) < 1) continue;
      const start = edgeToward(at, label.end, label);
      const over = crossed(start, label.end, lines);
      let cost = far + 60 * over + (over > 1 ? 300 : 0) + (leads(start, label.end, label.h) ? 0 : 700);
      if (cost < least && taken.some((other) => !other.handle && inWay(other, start, label.end))) cost += 1000;
      if (cost < least) [best, least] = [at, cost];
    }
  }
  return best;
}

/** Whether a stroke from a text (half as high as `h`) is seen to lead away from it: a short one, or a level one, is read as a minus. */
export function leads(start, end, h) {
  const [across, down] = [Math.abs(end[0] - start[0]), Math.abs(end[1] - start[1])];
  return down >= 0.45 * across && Math.hypot(across, down) >= 2 * h;
}

/** How many lines a stroke crosses. */
export function crossed(from, to, lines) {
  let count = 0;
  for (const name in lines) {
    const line = lines[name];
    if (!line) continue;
    const side = (p) => (p[0] - line.a[0]) * line.d[1] - (p[1] - line.a[1]) * line.d[0];
    if (side(from) * side(to) < 0) count += 1;
  }
  return count;
}

/** Where the way from a text's middle to a point leaves its box. */
export function edgeToward(at, point, box) {
  const [dx, dy] = [point[0] - at[0], point[1] - at[1]];
  const k = Math.min(1, (box.w + 2) / Math.max(Math.abs(dx), 1e-9), (box.h + 2) / Math.max(Math.abs(dy), 1e-9));
  return [at[0] + dx * k, at[1] + dy * k];
}

/** Whether a text lies in the way from one point to another. */
function inWay({ p, w, h }, from, to) {
  let [low, high] = [0, 1];
  for (const [i, half] of [
    [0, w + 1],
    [1, h + 1],
  ]) {
    const d = to[i] - from[i];
    if (Math.abs(d) < 1e-9) {
      if (Math.abs(from[i] - p[i]) > half) return false;
      continue;
    }
    const [a, b] = [(p[i] - half - from[i]) / d, (p[i] + half - from[i]) / d];
    low = Math.max(low, Math.min(a, b));
    high = Math.min(high, Math.max(a, b));
  }
  return low < high;
}

/** How far a text's box at a place keeps from the crossing. */
function outOf(at, { p, w, h }) {
  return Math.hypot(Math.max(0, Math.abs(at[0] - p[0]) - w), Math.max(0, Math.abs(at[1] - p[1]) - h));
}

const ASIDE = [0, 0.08, -0.08, 0.16, -0.16, 0.24, -0.24, 0.32, -0.32, 0.4, -0.4];

/** How much of the wanted room there is around a place: 1 is all of it. */
export function roomAt(at, box, lines, taken, view) {
  let room = Math.min(
    Math.min(at[0], view.width - at[0]) / (box.w + 3),
    Math.min(at[1], view.height - at[1]) / (box.h + 3),
  );
  for (const name in lines) {
    const line = lines[name];
    if (!line) continue;
    const off = Math.abs((at[0] - line.a[0]) * line.d[1] - (at[1] - line.a[1]) * line.d[0]);
    room = Math.min(room, off / (clearance(line.d, box) + 2));
  }
  for (const other of taken) {
    // A number and a measure in one row keep farther apart: "6 29°" is not 629°.
    const air = box.air && other.air && box.measure !== other.measure ? box.air : 1;
    room = Math.min(
      room,
      Math.max(
        Math.abs(at[0] - other.p[0]) / (box.w + other.w + air),
        Math.abs(at[1] - other.p[1]) / (box.h + other.h + 1),
      ),
    );
    if (air !== 1 && room > ALMOST && stacked(at, box, other) && barred(at, other.p, lines)) room = ALMOST;
  }
  return room;
}

// Room for a text that had better stand elsewhere, and stays where there is no other place.
const ALMOST = 0.95;

/** Whether one of two texts stands over the other, within its width and with little air between. */
function stacked(at, box, other) {
  return (
    Math.abs(at[0] - other.p[0]) < Math.max(box.w, other.w) &&
    Math.abs(at[1] - other.p[1]) < box.h + other.h + 2.7 * Math.max(box.h, other.h)
  );
}

/** Whether a nearly level line runs between two texts: a number over it and a measure under it are read as a fraction. */
function barred(p, q, lines) {
  for (const name in lines) {
    const line = lines[name];
    if (!line || Math.abs(line.d[1]) > 0.26) continue;
    const side = (at) => (at[0] - line.a[0]) * line.d[1] - (at[1] - line.a[1]) * line.d[0];
    if (side(p) * side(q) < 0) return true;
  }
  return false;
}

// Where to try next, as (times the distance, share of the sector aside): near the first place before far from it.
const PLACES = [
  [1, 0],
  [1.2, 0],
  [1, 0.13],
  [1, -0.13],
  [0.82, 0],
  [1.45, 0],
  [1.25, 0.16],
  [1.25, -0.16],
  [0.85, 0.22],
  [0.85, -0.22],
  [1.7, 0],
  [0.66, 0],
  [1.5, 0.2],
  [1.5, -0.2],
  [2, 0],
  [2.4, 0],
  [1.1, 0.28],
  [1.1, -0.28],
  [0.7, 0.3],
  [0.7, -0.3],
  [2.8, 0],
];

// How far a sector may have turned or opened (degrees) before its texts, though they still have room, go to its middle again.
const STRAY = 6;

/**
 * In a drag a text stays where it is beside its crossing while it may, since moving texts is what costs most to lay out: `old` is
 * `{off: [dx, dy], from, sweep}`, how it was placed last. Null where it has to be placed anew.
 */
export function staying(old, p, from, sweep, box, lines, taken, view) {
  if (!old || Math.abs(sweep - old.sweep) > STRAY) return null;
  const turn = Math.abs(from + sweep / 2 - old.from - old.sweep / 2);
  if (Math.min(turn, Math.abs(360 - turn)) > STRAY) return null;
  const at = [p[0] + old.off[0], p[1] + old.off[1]];
  return roomAt(at, box, lines, taken, view) >= 1 ? at : null;
}

/** Give each line that is seen its `name`, a place; in a drag (`last`, the layout before) at the same spot of the line while it is free. */
export function layNames(lines, meets, angles, view, s, last) {
  const taken = [];
  for (const name in meets) if (meets[name].seen) taken.push({ p: meets[name].p, r: 40 * s.k });
  for (const name in angles) {
    const angle = angles[name];
    if (!angle) continue;
    taken.push({ p: angle.label, r: 12 * s.k + angle.box.w });
    if (angle.value) taken.push({ p: angle.value, r: 13 * s.k + angle.valueBox.w });
  }
  for (const name in lines) {
    if (!lines[name]) continue;
    const spot = namePlace(name, lines, taken, view, s.k, last?.lines[name]?.spot);
    lines[name].spot = spot;
    lines[name].name = spot.p;
    taken.push({ p: spot.p, r: 28 * s.k });
  }
}

const INWARD = [6, 34, 62, 100, 150];

/** The first spot beside a line's ends that is quite free, or the one that crowds the least: `{end, side, inward, p}`. */
function namePlace(name, lines, taken, view, k, had) {
  const line = lines[name];
  if (had) {
    const p = beside(line, had.end, had.side, had.inward, k);
    if (crowding(p, name, lines, taken, view, k) === 0) return { ...had, p };
  }
  let best = null;
  let least = Infinity;
  for (const end of [1, 0]) {
    for (const side of [1, -1]) {
      for (const inward of INWARD) {
        const p = beside(line, end, side, inward, k);
        const crowd = crowding(p, name, lines, taken, view, k);
        if (crowd >= least) continue;
        best = { end, side, inward, p };
        if (crowd === 0) return best;
        least = crowd;
      }
    }
  }
  return best;
}

function beside({ grips, d }, end, side, inward, k) {
  const [grip, far, off] = [grips[end], (end ? -inward : inward) * k, side * 19 * k];
  return [grip[0] + d[0] * far - d[1] * off, grip[1] + d[1] * far + d[0] * off];
}

export function apart(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function crowding(p, name, lines, taken, view, k) {
  let sum = Math.max(0, 14 * k - Math.min(p[0], p[1], view.width - p[0], view.height - p[1])) * 6;
  for (const other in lines) {
    const l = lines[other];
    if (other === name || !l) continue;
    sum += Math.max(0, 22 * k - Math.abs((p[0] - l.a[0]) * l.d[1] - (p[1] - l.a[1]) * l.d[0]));
    for (const g of l.grips) sum += Math.max(0, 26 - apart(p, g));
  }
  for (const t of taken) sum += Math.max(0, t.r - apart(p, t.p));
  return sum;
}
