// Where everything goes on the page: lines clipped to the paper, sectors, arc marks, numbers and letters that keep clear of each
// other. Cheap enough for every frame of a drag. Pure: a model and a view in, places and path strings out.
import { between, fullTurn, heading, order, ray, unit } from "./model.js";
import { clip } from "./view.js";

const f = (n) => Math.round(n * 10) / 10;

/** The sizes of a figure by how it is shown. */
export function sizes(size, view) {
  const small = size === "small" || view.width < 420 || view.height < 230;
  const k = size === "board" ? Math.max(1, view.width / 1280) * 1.65 : small ? 0.86 : 1;
  return { k, letter: 9 * k, digit: 10 * k, arc: 27 * k, arcStep: 6 * k, clear: 15 * k, grip: 26 };
}

/** A point at a distance from `p` in a direction of the plane (degrees, y up; the page's y is down). */
export function polar(p, degrees, r) {
  const u = unit(degrees);
  return [p[0] + u[0] * r, p[1] - u[1] * r];
}

/** The path of an arc around `p`, counterclockwise in the plane. */
export function arc(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(a[0])} ${f(a[1])}A${f(r)} ${f(r)} 0 ${sweep > 180 ? 1 : 0} 0 ${f(b[0])} ${f(b[1])}`;
}

export function sector(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(p[0])} ${f(p[1])}L${f(a[0])} ${f(a[1])}A${f(r)} ${f(r)} 0 0 0 ${f(b[0])} ${f(b[1])}Z`;
}

function apart(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/**
 * `{lines, meets, angles, sizes}`. `arcs` gives how many arcs an angle has, `labels` what stands in it beside its number, `values`
 * whether its measure does; `only` names the angles whose sectors are wanted (in a drag, those that are chosen).
 */
export function layout(model, view, { size = "seat", arcs = {}, labels = {}, squares = new Set(), values = false, movable = [], only = null } = {}) {
  const s = sizes(size, view);
  const lines = layLines(model, view, s);
  const meets = layMeets(model, view, s);
  layLetters(model, meets, s);
  const angles = layAngles(model, view, s, lines, meets, { arcs, labels, squares, values, movable, only });
  layNames(lines, meets, angles, view, s);
  return { lines, meets, angles, sizes: s };
}

function layLines(model, view, s) {
  const lines = {};
  for (const [name, line] of Object.entries(model.lines)) {
    const p = view.toPage(line.through);
    const u = unit(line.direction);
    const d = line.swapped ? [-u[0], u[1]] : [u[0], -u[1]];
    const ends = clip(p, d, view.width, view.height, 3);
    if (!ends) {
      lines[name] = null;
      continue;
    }
    const at = (k) => [p[0] + d[0] * k, p[1] + d[1] * k];
    const on = order(model, name).map((meet) => (view.toPage(model.at[meet])[0] - p[0]) * d[0] + (view.toPage(model.at[meet])[1] - p[1]) * d[1]);
    on.sort((a, b) => a - b);
    const inner = on.filter((k) => k > ends[0] && k < ends[1]);
    const [first, last] = [inner[0] ?? (ends[0] + ends[1]) / 2, inner.at(-1) ?? (ends[0] + ends[1]) / 2];
    const inset = Math.min(s.grip, (ends[1] - ends[0]) / 6);
    const spread = { low: [ends[0] + inset, first], high: [last, ends[1] - inset] };
    lines[name] = {
      a: at(ends[0]),
      b: at(ends[1]),
      d,
      plus: [u[0], -u[1]],
      at,
      grips: [at(ends[0] + inset), at(ends[1] - inset)],
      ring: at(ringPlace(inner, spread)),
      arrows: at(spread.high[0] + (spread.high[1] - spread.high[0]) * 0.52),
      name: null,
    };
  }
  return lines;
}

/** The ring lies between two crossings where there is room, else in the middle of the longer free end. */
function ringPlace(inner, spread) {
  const gaps = inner.slice(1).map((k, i) => [k - inner[i], (k + inner[i]) / 2]);
  const [gap, middle] = gaps.reduce((best, one) => (one[0] > best[0] ? one : best), [0, 0]);
  const low = spread.low[1] - spread.low[0];
  if (gap > 96 || (gap > 60 && gap > low)) return middle;
  return spread.low[0] + low * 0.5;
}

function layMeets(model, view, s) {
  const meets = {};
  const names = Object.keys(model.meets).filter((name) => model.at[name]);
  for (const name of names) {
    const p = view.toPage(model.at[name]);
    const seen = p[0] > -20 && p[1] > -20 && p[0] < view.width + 20 && p[1] < view.height + 20;
    meets[name] = { p, seen, letter: null };
  }
  for (const name of names) {
    const near = Math.min(...names.filter((other) => other !== name).map((other) => apart(meets[name].p, meets[other].p)), Infinity);
    // Half way to the next crossing belongs to this one.
    meets[name].reach = Math.max(30, Math.min(118 * s.k, near * 0.5));
  }
  return meets;
}

function layAngles(model, view, s, lines, meets, { arcs, labels, squares, values, movable, only }) {
  const angles = {};
  const taken = Object.values(meets).filter((meet) => meet.letter).map((meet) => ({ p: meet.letter, ...boxOf("M", 14 * s.k) }));
  for (const name of movable) for (const p of lines[name] ? [...lines[name].grips, lines[name].ring] : []) taken.push({ p, w: 9, h: 9 });
  for (const [name, angle] of Object.entries(model.angles)) {
    const meet = meets[angle.at];
    if (!meet?.seen) {
      angles[name] = null;
      continue;
    }
    const from = fullTurn(heading(model, angle.from));
    const sweep = between(model, angle.from, angle.to);
    const count = arcs[name] ?? 0;
    // In a thin sector the arc moves out until it is long enough to be seen as one.
    const base = Math.min(Math.max(s.arc, (17 * s.k * 180) / (Math.PI * sweep)), meet.reach * 0.75);
    const middle = from + sweep / 2;
    const marks = [];
    for (let i = 0; i < count; i += 1) marks.push(arc(meet.p, from, sweep, base + i * s.arcStep));
    const box = boxOf(name, 17 * s.k);
    const inner = count || squares.has(name) ? base + (count - 1) * s.arcStep + 14 * s.k : s.arc + 8 * s.k;
    const at = free({ p: meet.p, from, sweep, ...box, r: Math.max(inner, fits(from, sweep, box)) }, lines, taken, view);
    taken.push({ p: at, ...box });
    let value = null;
    let valueBox = null;
    if (values || labels[name]) {
      valueBox = labels[name] ? boxOf(labels[name], 15.5 * s.k) : boxOf("180°", 14 * s.k);
      const [x, y] = unit(middle).map(Math.abs);
      // Far enough out for the two boxes to clear each other along the middle of the sector.
      const apart_ = Math.min((box.w + valueBox.w + 4) / Math.max(x, 0.05), (box.h + valueBox.h + 5) / Math.max(y, 0.05));
      const r = Math.max(Math.hypot(at[0] - meet.p[0], at[1] - meet.p[1]) + apart_, fits(from, sweep, valueBox));
      const place = { p: meet.p, from, sweep, ...valueBox, r };
      value = labels[name] ? nearest({ ...place, r: s.arc + 4 }, lines, taken, view) : free(place, lines, taken, view);
      taken.push({ p: value, ...valueBox });
    }
    const whole = !only || only.includes(name);
    const edge = count ? base + (count - 1) * s.arcStep + 3 : Math.min(base, 24 * s.k);
    angles[name] = {
      p: meet.p,
      from,
      sweep,
      arcs: marks.join(""),
      square: squares.has(name) ? square(meet.p, from, sweep, 15 * s.k) : null,
      mid: base,
      label: at,
      box,
      valueBox,
      value,
      fill: whole ? sector(meet.p, from, sweep, edge) : "",
      outline: whole ? arc(meet.p, from, sweep, edge) : "",
      hit: whole ? sector(meet.p, from, sweep, meet.reach) : "",
      measure: sweep,
    };
  }
  return angles;
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
function fits(from, sweep, box) {
  const sides = [from, from + sweep].map((direction) => clearance(unit(direction), box));
  return Math.min((Math.max(...sides) + 2) / Math.sin((Math.min(sweep, 180) * Math.PI) / 360), 230);
}

/**
 * A free place for a text in a sector: on its middle at distance `r` if that is free, else farther out, nearer, or to one side;
 * the place with most room where none is free.
 */
function free(label, lines, taken, view) {
  let best = { room: -Infinity, at: null };
  const tried = (r, aside) => {
    const at = polar(label.p, label.from + label.sweep * (0.5 + aside), r);
    const room = roomAt(at, label, lines, taken, view);
    if (room > best.room) best = { room, at };
    return room;
  };
  for (const [stretch, aside] of PLACES) if (tried(label.r * stretch, aside) >= 1) return best.at;
  // Hardly ever: a thin sector that points at the edge of the paper, or through other lines. Look everywhere in it.
  if (best.room < 0.85) for (let r = 18; r < 240; r += 7) for (const aside of [0, 0.12, -0.12, 0.24, -0.24]) tried(r, aside);
  return best.at;
}

/** The free place nearest to the crossing: a long label must not be read as another angle's. */
function nearest(label, lines, taken, view) {
  let best = { room: -Infinity, at: null };
  for (let r = label.r; r < 240; r += 6) {
    for (const aside of ASIDE) {
      const at = polar(label.p, label.from + label.sweep * (0.5 + aside), r);
      const room = roomAt(at, label, lines, taken, view);
      if (room >= 1) return at;
      if (room > best.room) best = { room, at };
    }
  }
  return best.at;
}

const ASIDE = [0, 0.08, -0.08, 0.16, -0.16, 0.24, -0.24, 0.32, -0.32, 0.4, -0.4];

/** How much of the wanted room there is around a place: 1 is all of it. */
function roomAt(at, box, lines, taken, view) {
  let room = Math.min(Math.min(at[0], view.width - at[0]) / (box.w + 3), Math.min(at[1], view.height - at[1]) / (box.h + 3));
  for (const name in lines) {
    const line = lines[name];
    if (!line) continue;
    const off = Math.abs((at[0] - line.a[0]) * line.d[1] - (at[1] - line.a[1]) * line.d[0]);
    room = Math.min(room, off / (clearance(line.d, box) + 2));
  }
  for (const other of taken) {
    room = Math.min(room, Math.max(Math.abs(at[0] - other.p[0]) / (box.w + other.w + 1), Math.abs(at[1] - other.p[1]) / (box.h + other.h + 1)));
  }
  return room;
}

// Where to try next, as (times the distance, share of the sector aside): near the first place before far from it.
const PLACES = [
  [1, 0], [1.2, 0], [1, 0.13], [1, -0.13], [0.82, 0], [1.45, 0], [1.25, 0.16], [1.25, -0.16], [0.85, 0.22], [0.85, -0.22],
  [1.7, 0], [0.66, 0], [1.5, 0.2], [1.5, -0.2], [2, 0], [2.4, 0], [1.1, 0.28], [1.1, -0.28], [0.7, 0.3], [0.7, -0.3], [2.8, 0],
];

/** The square of a right angle; drawn as the parallelogram of its sides, so that it lies in its corner at any turn. */
function square(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(a[0])} ${f(a[1])}L${f(a[0] + b[0] - p[0])} ${f(a[1] + b[1] - p[1])}L${f(b[0])} ${f(b[1])}`;
}

/** The letter of a crossing stands close to it in its widest sector. */
function layLetters(model, meets, s) {
  for (const [name, meet] of Object.entries(model.meets)) {
    if (!meets[name]?.seen) continue;
    const headings = meet.lines
      .flatMap((line) => [model.lines[line].direction, model.lines[line].direction + 180])
      .sort((a, b) => a - b);
    let best = [0, 0];
    headings.forEach((from, i) => {
      const sweep = fullTurn((headings[i + 1] ?? headings[0] + 360) - from);
      // Of two sectors of one size the one to the right or above, whichever the last frame had.
      if (sweep > best[0] + 0.5) best = [sweep, from + sweep / 2];
    });
    const half = Math.sin((best[0] * Math.PI) / 360);
    meets[name].letter = polar(meets[name].p, best[1], Math.max(14 * s.k, s.letter / Math.max(half, 0.3)));
  }
}

/** The name of a line beside one of its ends, where it keeps clear of other lines, of crossings and of other names. */
function layNames(lines, meets, angles, view, s) {
  const taken = Object.values(meets).filter((meet) => meet.seen).map((meet) => ({ p: meet.p, r: 40 * s.k }));
  for (const angle of Object.values(angles)) {
    if (!angle) continue;
    taken.push({ p: angle.label, r: 12 * s.k + angle.box.w });
    if (angle.value) taken.push({ p: angle.value, r: 13 * s.k + angle.valueBox.w });
  }
  for (const name in lines) {
    if (!lines[name]) continue;
    const p = namePlace(name, lines, taken, view, s.k);
    lines[name].name = p;
    taken.push({ p, r: 28 * s.k });
  }
}

const INWARD = [6, 34, 62, 100, 150];

/** The first place beside a line's ends that is quite free, or the one that crowds the least. */
function namePlace(name, lines, taken, view, k) {
  const line = lines[name];
  let best = null;
  for (const end of [1, 0]) {
    const grip = line.grips[end];
    for (const side of [1, -1]) {
      for (const inward of INWARD) {
        const far = (end ? -inward : inward) * k;
        const p = [grip[0] + line.d[0] * far - line.d[1] * side * 19 * k, grip[1] + line.d[1] * far + line.d[0] * side * 19 * k];
        const crowd = crowding(p, name, lines, taken, view, k);
        if (crowd === 0) return p;
        if (!best || crowd < best.crowd) best = { crowd, p };
      }
    }
  }
  return best.p;
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

/** The marks that say that lines are parallel: `count` arrowheads along the line. */
export function arrows(line, count, k = 1) {
  const [x, y] = line.arrows;
  // Arrowheads of parallel lines point the same way: along the + direction, whichever way the line has been turned.
  const d = line.plus;
  const n = [-d[1], d[0]];
  let path = "";
  for (let i = 0; i < count; i += 1) {
    const at = (i - (count - 1) / 2) * 9 * k;
    const tip = [x + d[0] * (at + 6 * k), y + d[1] * (at + 6 * k)];
    const wing = (side) => [tip[0] - d[0] * 11 * k + n[0] * side * 7 * k, tip[1] - d[1] * 11 * k + n[1] * side * 7 * k];
    const [a, b] = [wing(1), wing(-1)];
    path += `M${f(a[0])} ${f(a[1])}L${f(tip[0])} ${f(tip[1])}L${f(b[0])} ${f(b[1])}`;
  }
  return path;
}

/** Ticks across the middle of the segment between two points. */
export function ticks(p, q, count, k = 1) {
  const long = apart(p, q) || 1;
  const d = [(q[0] - p[0]) / long, (q[1] - p[1]) / long];
  let path = "";
  for (let i = 0; i < count; i += 1) {
    const at = (i - (count - 1) / 2) * 6 * k;
    const m = [(p[0] + q[0]) / 2 + d[0] * at, (p[1] + q[1]) / 2 + d[1] * at];
    path += `M${f(m[0] - d[1] * 7 * k)} ${f(m[1] + d[0] * 7 * k)}L${f(m[0] + d[1] * 7 * k)} ${f(m[1] - d[0] * 7 * k)}`;
  }
  return path;
}

/** The path that joins two angles along their transversal: out on one, along, out on the other; "" where they have none. */
export function pairPath(model, laid, pair, a, b) {
  if (!pair.transversal) return "";
  const reach = 74 * laid.sizes.k;
  const [one, two] = [model.angles[a], model.angles[b]];
  const side = (angle, on) => [angle.from, angle.to].find((r) => (ray(r).line === pair.transversal) === on);
  const out = (angle, on) => polar(laid.meets[angle.at].p, heading(model, side(angle, on)), reach);
  const points = [out(one, false), laid.meets[one.at].p, laid.meets[two.at].p, out(two, false)];
  let path = points.map((p, i) => `${i ? "L" : "M"}${f(p[0])} ${f(p[1])}`).join("");
  for (const [angle, inside] of [[one, pair.inside[0]], [two, pair.inside[1]]]) {
    if (inside) continue;
    // An outside angle's other side runs on along the transversal.
    const [from, to] = [laid.meets[angle.at].p, out(angle, true)];
    path += `M${f(from[0])} ${f(from[1])}L${f(to[0])} ${f(to[1])}`;
  }
  return path;
}

/** The angles that a point of the page may mean: the sector it lies in, and its neighbours where the sector is thin there. */
export function anglesAt(model, laid, point) {
  const found = [];
  for (const [name, angle] of Object.entries(laid.angles)) {
    if (!angle) continue;
    const [dx, dy] = [point[0] - angle.p[0], point[1] - angle.p[1]];
    const r = Math.hypot(dx, dy);
    const meet = laid.meets[model.angles[name].at];
    if (r > Math.max(meet.reach, 60)) continue;
    const turn = fullTurn((Math.atan2(-dy, dx) * 180) / Math.PI - angle.from);
    const inside = turn < angle.sweep;
    const off = inside ? 0 : Math.min(turn - angle.sweep, 360 - turn);
    const miss = off >= 90 ? r : r * Math.sin((off * Math.PI) / 180);
    const depth = inside ? r * Math.sin((Math.min(turn, angle.sweep - turn, 90) * Math.PI) / 180) : 0;
    const thin = inside && 2 * r * Math.sin((Math.min(angle.sweep, 180) * Math.PI) / 360) < 24;
    found.push({ name, inside, miss, depth, thin, r });
  }
  // The nearest crossing only: reaches may overlap a little.
  const nearest = Math.min(...found.map((one) => one.r));
  const here = found.filter((one) => one.r < nearest + 1);
  const hit = here.find((one) => one.inside);
  if (!hit) return [];
  if (hit.r < 11) return here.map((one) => one.name);
  if (!hit.thin && hit.depth >= 4) return [hit.name];
  return [hit.name, ...here.filter((one) => !one.inside && one.miss < 12).sort((a, b) => a.miss - b.miss).map((one) => one.name)];
}

/** The corner of the paper ("tl", "tr", "bl", "br") where a note of `w` by `h` px covers least; the one it had, where that is free. */
export function freeCorner(laid, view, w, h, had = "tl") {
  const places = [];
  for (const angle of Object.values(laid.angles)) if (angle) places.push(angle.label, angle.p, ...(angle.value ? [angle.value] : []));
  for (const line of Object.values(laid.lines)) if (line) places.push(line.name, ...line.grips);
  const covered = (corner) => {
    const [left, top] = [corner[1] === "l" ? 0 : view.width - w, corner[0] === "t" ? 0 : view.height - h];
    return places.filter((p) => p[0] > left - 12 && p[0] < left + w + 12 && p[1] > top - 12 && p[1] < top + h + 12).length;
  };
  return [had, "tl", "tr", "bl", "br"].reduce((best, corner) => (covered(corner) < covered(best) ? corner : best));
}
