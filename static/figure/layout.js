// Where everything goes on the page: lines clipped to the paper, sectors, arc marks, numbers and letters that keep clear of each
// other. Cheap enough for every frame of a drag. Pure: a model and a view in, places and path strings out.
import { between, fullTurn, heading, ray, unit } from "./model.js";
import { apart, boxOf, edgeToward, fits, free, layNames, nearest, outside, polar, roomAt, staying } from "./room.js";
import { clip } from "./view.js";

const f = (n) => Math.round(n * 10) / 10;

/** The sizes of a figure by how it is shown. */
export function sizes(size, view) {
  const small = size === "small" || view.width < 420 || view.height < 230;
  const k = size === "board" ? (view.unit ?? 1) * 1.65 : small ? 0.86 : 1;
  return { k, letter: 9 * k, digit: 10 * k, arc: 27 * k, arcStep: 6 * k, clear: 15 * k, grip: 26 };
}

/** The path of an arc around `p`, counterclockwise in the plane. */
export function arc(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(a[0])} ${f(a[1])}A${f(r)} ${f(r)} 0 ${sweep > 180 ? 1 : 0} 0 ${f(b[0])} ${f(b[1])}`;
}

/** The two sides of an angle about [0, 0]: what shows that it is chosen, since an arc would be one more mark of congruence. */
function sides(from, sweep, r) {
  const [a, b] = [polar([0, 0], from, r), polar([0, 0], from + sweep, r)];
  return `M${f(a[0])} ${f(a[1])}L0 0L${f(b[0])} ${f(b[1])}`;
}

export function sector(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(p[0])} ${f(p[1])}L${f(a[0])} ${f(a[1])}A${f(r)} ${f(r)} 0 0 0 ${f(b[0])} ${f(b[1])}Z`;
}

/**
 * `{lines, meets, angles, sizes}`. `arcs` gives how many arcs an angle has, `labels` what stands in it beside its number, `values`
 * whether its measure does. The paths of an angle are drawn about [0, 0], to be carried to its crossing.
 *
 * In a drag `last` is the layout before: what has not moved is taken from it, and texts stay beside their crossings while they
 * have room there; `only` names the angles whose sectors are wanted (those that are chosen).
 */
export function layout(
  model,
  view,
  {
    size = "seat",
    arcs = {},
    labels = {},
    squares = new Set(),
    values = false,
    movable = [],
    only = null,
    last = null,
  } = {},
) {
  const s = sizes(size, view);
  const meets = layMeets(model, view, s);
  const lines = layLines(model, view, s, meets, last);
  layLetters(model, meets, s, { arcs, squares, last });
  const angles = layAngles(model, view, s, lines, meets, { arcs, labels, squares, values, movable, only, last });
  layNames(lines, meets, angles, view, s, last);
  return { lines, meets, angles, sizes: s };
}

function layLines(model, view, s, meets, last) {
  const lines = {};
  for (const name in model.lines) {
    const of = model.lines[name];
    const old = last?.lines[name];
    const still = old?.of === of; // it is not this line that the hand moves
    const line = still ? { ...old } : ends(of, view, s);
    lines[name] = line;
    if (!line) continue;
    const { p, d, low, high } = line;
    const inner = [];
    for (const meet in meets) {
      if (!model.meets[meet].lines.includes(name)) continue;
      const k = (meets[meet].p[0] - p[0]) * d[0] + (meets[meet].p[1] - p[1]) * d[1];
      if (k > low && k < high) inner.push(k);
    }
    inner.sort((a, b) => a - b);
    const [first, end] = inner.length ? [inner[0], inner.at(-1)] : [(low + high) / 2, (low + high) / 2];
    const spread = { low: [low + line.inset, first], high: [end, high - line.inset] };
    const stays = still && inner.every((k) => Math.abs(k - old.ringAt) > 34);
    line.ringAt = stays ? old.ringAt : ringPlace(inner, spread);
    line.ring = stays ? old.ring : along(line, line.ringAt);
    line.arrows = along(line, spread.high[0] + (spread.high[1] - spread.high[0]) * 0.52);
    line.name = null;
  }
  return lines;
}

/** Where a line enters and leaves the paper; null where it isn't seen. */
function ends(of, view, s) {
  const p = view.toPage(of.through);
  const u = unit(of.direction);
  const d = of.swapped ? [-u[0], u[1]] : [u[0], -u[1]];
  const seen = clip(p, d, view.width, view.height, 3);
  if (!seen) return null;
  const [low, high] = seen;
  const inset = Math.min(s.grip, (high - low) / 6);
  const line = { of, p, d, low, high, inset, plus: [u[0], -u[1]] };
  line.a = along(line, low);
  line.b = along(line, high);
  line.grips = [along(line, low + inset), along(line, high - inset)];
  return line;
}

function along({ p, d }, k) {
  return [p[0] + d[0] * k, p[1] + d[1] * k];
}

/** The ring lies between two crossings where there is room, else in the middle of the longer free end. */
function ringPlace(inner, spread) {
  let [gap, middle] = [0, 0];
  for (let i = 1; i < inner.length; i += 1)
    if (inner[i] - inner[i - 1] > gap) [gap, middle] = [inner[i] - inner[i - 1], (inner[i] + inner[i - 1]) / 2];
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
    let near = Infinity;
    for (const other of names) if (other !== name) near = Math.min(near, apart(meets[name].p, meets[other].p));
    // Half way to the next crossing belongs to this one.
    meets[name].reach = Math.max(30, Math.min(118 * s.k, near * 0.5));
  }
  return meets;
}

/** How far out an angle's first arc lies: in a thin sector far enough to be seen as one. */
function arcBase(sweep, meet, s) {
  return Math.min(Math.max(s.arc, (17 * s.k * 180) / (Math.PI * sweep)), meet.reach * 0.75);
}

function layAngles(model, view, s, lines, meets, { arcs, labels, squares, values, movable, only, last }) {
  const angles = {};
  const taken = [];
  const crowded = []; // the angles whose values have no room in their sectors
  const letter = boxOf("M", 14 * s.k);
  for (const name in meets) if (meets[name].letter) taken.push({ p: meets[name].letter, ...letter });
  for (const name of movable)
    for (const p of lines[name] ? [...lines[name].grips, lines[name].ring] : [])
      taken.push({ p, w: 9, h: 9, handle: true });
  for (const name in model.angles) {
    const angle = model.angles[name];
    const meet = meets[angle.at];
    if (!meet?.seen) {
      angles[name] = null;
      continue;
    }
    const { p } = meet;
    const old = last?.angles[name];
    const from = fullTurn(heading(model, angle.from));
    const sweep = between(model, angle.from, angle.to);
    const count = arcs[name] ?? 0;
    const base = arcBase(sweep, meet, s);
    const box = old?.box ?? { ...boxOf(name, 17 * s.k), air: 7 * s.k };
    // Where the arcs have moved out, the number must make way.
    const arcsStay = !count || Math.abs((old?.placed.base ?? 0) - base) < 1;
    let label = arcsStay ? staying(old?.placed, p, from, sweep, box, lines, taken, view) : null;
    let placed = label && old.placed;
    if (!label) {
      const marked = count > 0 || squares.has(name);
      const inner = marked ? base + (count - 1) * s.arcStep + 14 * s.k : s.arc + 8 * s.k;
      label = free(
        { p, from, sweep, ...box, r: Math.max(inner, fits(from, sweep, box)), least: marked ? inner - 6 * s.k : 0 },
        lines,
        taken,
        view,
      );
      placed = { off: [label[0] - p[0], label[1] - p[1]], from, sweep, base };
    }
    taken.push({ p: label, ...box });
    let [value, valueBox, valuePlaced] = [null, null, null];
    if (values || labels[name]) {
      valueBox = {
        ...(labels[name] ? boxOf(labels[name], 15.5 * s.k) : boxOf("180°", 14 * s.k)),
        air: 7 * s.k,
        measure: true,
      };
      value =
        arcsStay || !labels[name] ? staying(old?.valuePlaced, p, from, sweep, valueBox, lines, taken, view) : null;
      valuePlaced = value && old.valuePlaced;
      if (!value) {
        value = placeValue(
          { p, from, sweep, ...valueBox, arcs: count && base + (count - 1) * s.arcStep },
          label,
          box,
          labels[name] ? s.arc + 4 : 0,
          lines,
          taken,
          view,
        );
        valuePlaced = { off: [value[0] - p[0], value[1] - p[1]], from, sweep, led: false };
        if (roomAt(value, valueBox, lines, taken, view) < 0.93) crowded.push(name);
      }
      if (crowded.at(-1) !== name) taken.push({ p: value, ...valueBox });
    }
    const same = old && old.from === from && old.sweep === sweep && old.base === base;
    const whole = !only || only.includes(name);
    const edge = count ? base + (count - 1) * s.arcStep + 3 : Math.min(base, 30 * s.k);
    angles[name] = {
      p,
      from,
      sweep,
      base,
      arcs: same ? old.arcs : arcMarks(from, sweep, base, count, s),
      square: squares.has(name) ? square([0, 0], from, sweep, 15 * s.k) : null,
      label,
      box,
      placed,
      value,
      valueBox,
      valuePlaced,
      lead: null,
      fill: whole ? sector([0, 0], from, sweep, edge) : "",
      outline: whole ? sides(from, sweep, edge) : "",
      hit: whole ? sector([0, 0], from, sweep, meet.reach) : "",
      measure: sweep,
    };
  }
  for (const name of crowded) placeOutside(angles[name], s, lines, taken, view);
  for (const name in angles) if (angles[name]?.valuePlaced?.led) angles[name].lead = leader(angles[name], s);
  return angles;
}

/** A value that has no room in its thin sector stands beside it, and a leader goes from it into the sector, as on technical drawings. */
function placeOutside(angle, s, lines, taken, view) {
  const { p, valueBox, valuePlaced } = angle;
  const end = leadEnd(angle, s);
  const at = outside({ p, end: [p[0] + end[0], p[1] + end[1]], ...valueBox }, lines, taken, view);
  if (at) {
    angle.value = at;
    angle.valuePlaced = { ...valuePlaced, off: [at[0] - p[0], at[1] - p[1]], led: true };
  }
  taken.push({ p: angle.value, ...valueBox });
}

/** Where a leader ends: in the sector, before its number, where the sides are far enough apart to see which sector it is. */
function leadEnd({ p, from, sweep, label, box }, s) {
  const wanted = Math.max(s.arc, 4.5 / Math.sin((Math.min(sweep, 180) * Math.PI) / 360));
  return polar([0, 0], from + sweep / 2, Math.max(14, Math.min(wanted, apart(label, p) - box.w - 6)));
}

/** The path of a leader, about [0, 0]: a dot in the sector, and a stroke from it to the text. */
function leader(angle, s) {
  const end = leadEnd(angle, s);
  const start = edgeToward(angle.valuePlaced.off, end, angle.valueBox);
  const r = 1.4 * s.k;
  const dot = `M${f(end[0] - r)} ${f(end[1])}a${f(r)} ${f(r)} 0 1 0 ${f(2 * r)} 0a${f(r)} ${f(r)} 0 1 0 ${f(-2 * r)} 0`;
  return `${dot}M${f(start[0])} ${f(start[1])}L${f(end[0])} ${f(end[1])}`;
}

function arcMarks(from, sweep, base, count, s) {
  let path = "";
  for (let i = 0; i < count; i += 1) path += arc([0, 0], from, sweep, base + i * s.arcStep);
  return path;
}

/** The place of an angle's measure, farther out than its number; a long label (`near` > 0) as near to the crossing as it can be. */
function placeValue(place, label, box, near, lines, taken, view) {
  if (near) return nearest({ ...place, r: near }, lines, taken, view);
  const [x, y] = unit(place.from + place.sweep / 2).map(Math.abs);
  // Far enough out for the two boxes to clear each other along the middle of the sector.
  const clear = Math.min((box.w + place.w + 4) / Math.max(x, 0.05), (box.h + place.h + 5) / Math.max(y, 0.05));
  const r = Math.max(apart(label, place.p) + clear, fits(place.from, place.sweep, place));
  return free({ ...place, r, least: 0 }, lines, taken, view);
}

/** The square of a right angle; drawn as the parallelogram of its sides, so that it lies in its corner at any turn. */
function square(p, from, sweep, r) {
  const [a, b] = [polar(p, from, r), polar(p, from + sweep, r)];
  return `M${f(a[0])} ${f(a[1])}L${f(a[0] + b[0] - p[0])} ${f(a[1] + b[1] - p[1])}L${f(b[0])} ${f(b[1])}`;
}

/**
 * The letter of a crossing stands close to it in its widest sector that has no arcs: among arcs it would be read as the angle's name.
 * Where all wide ones have some, beyond them. In a drag where it stood, unless that has moved away.
 */
function layLetters(model, meets, s, { arcs, squares, last }) {
  const marked = {}; // by crossing: the sectors with arcs or a square, and how far out those reach
  for (const name in model.angles) {
    const angle = model.angles[name];
    if (!meets[angle.at]?.seen || !(arcs[name] || squares.has(name))) continue;
    const sweep = between(model, angle.from, angle.to);
    const out = arcs[name] ? arcBase(sweep, meets[angle.at], s) + (arcs[name] - 1) * s.arcStep : 22 * s.k;
    (marked[angle.at] ??= []).push({ from: fullTurn(heading(model, angle.from)), sweep, out });
  }
  for (const name in meets) {
    const meet = meets[name];
    if (!meet.seen) continue;
    const headings = [];
    for (const line of model.meets[name].lines)
      headings.push(model.lines[line].direction, model.lines[line].direction + 180);
    headings.sort((a, b) => a - b);
    let [best, widest, middle, out] = [-Infinity, 0, 0, 0];
    headings.forEach((from, i) => {
      const sweep = fullTurn((headings[i + 1] ?? headings[0] + 360) - from);
      const reach = Math.max(
        0,
        ...(marked[name] ?? [])
          .filter((one) => fullTurn(from + sweep / 2 - one.from) < one.sweep)
          .map((one) => one.out),
      );
      const worth = Math.min(sweep, 90) + sweep / 100 - (reach ? 50 : 0);
      // Of two sectors of one size the one to the right or above, whichever the last frame had.
      if (worth > best + 0.5) [best, widest, middle, out] = [worth, sweep, from + sweep / 2, reach];
    });
    const half = Math.sin((widest * Math.PI) / 360);
    const off = polar([0, 0], middle, Math.max(14 * s.k, s.letter / Math.max(half, 0.3), out && out + 11 * s.k));
    const had = last?.meets[name]?.off;
    meet.off = had && apart(off, had) < 2 ? had : off;
    meet.letter = [meet.p[0] + meet.off[0], meet.p[1] + meet.off[1]];
  }
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
  for (const [angle, inside] of [
    [one, pair.inside[0]],
    [two, pair.inside[1]],
  ]) {
    if (inside) continue;
    // An outside angle's other side runs on along the transversal.
    const [from, to] = [laid.meets[angle.at].p, out(angle, true)];
    path += `M${f(from[0])} ${f(from[1])}L${f(to[0])} ${f(to[1])}`;
  }
  return path;
}

/** The angles that a point of the page may mean: the one whose number it is on; else the sector it lies in, and its neighbours where the sector is thin there. */
export function anglesAt(model, laid, point) {
  for (const [name, angle] of Object.entries(laid.angles)) {
    if (
      angle &&
      Math.abs(point[0] - angle.label[0]) <= angle.box.w &&
      Math.abs(point[1] - angle.label[1]) <= angle.box.h
    )
      return [name];
  }
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
  const least = Math.min(...found.map((one) => one.r));
  const here = found.filter((one) => one.r < least + 1);
  const hit = here.find((one) => one.inside);
  if (!hit) return [];
  if (hit.r < 11) return here.map((one) => one.name);
  if (!hit.thin && hit.depth >= 4) return [hit.name];
  return [
    hit.name,
    ...here
      .filter((one) => !one.inside && one.miss < 12)
      .sort((a, b) => a.miss - b.miss)
      .map((one) => one.name),
  ];
}

/** The corner of the paper ("tl", "tr", "bl", "br") where a note of `w` by `h` px covers least; the one it had, where that is free. */
export function freeCorner(laid, view, w, h, had = "tl") {
  const places = [];
  const put = (p, box) => places.push({ p, w: box.w + 4, h: box.h + 4 });
  const dot = { w: 8, h: 8 };
  for (const { label, box, p, value, valueBox } of Object.values(laid.angles).filter(Boolean)) {
    put(label, box);
    put(p, dot);
    if (value) put(value, valueBox);
  }
  for (const line of Object.values(laid.lines)) if (line) for (const p of [line.name, ...line.grips]) put(p, dot);
  const covered = (corner) => {
    const [left, top] = [corner[1] === "l" ? 0 : view.width - w, corner[0] === "t" ? 0 : view.height - h];
    return places.filter(
      (one) => Math.abs(one.p[0] - left - w / 2) < one.w + w / 2 && Math.abs(one.p[1] - top - h / 2) < one.h + h / 2,
    ).length;
  };
  return [had, "tl", "tr", "bl", "br"].reduce((best, corner) => (covered(corner) < covered(best) ? corner : best));
}
