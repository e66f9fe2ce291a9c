// The figure as the page holds it: lines, meets, angles; where meets lie, in what order, how large angles are as drawn.
//
// Letters: l, m, t are lines; A, B are meets; a ray is "l+" or "l-"; an angle is the sector counterclockwise from its first ray
// to its second. Directions are degrees, y up. Pure: no DOM. A model is never changed, only replaced.

/** A point of the plane, or a way in it. @typedef {[number, number]} Point */
/** A number of the contract: 65, "18.5" or "37/2". @typedef {number | string} Exact */
/**
 * A line: its direction in [0, 180), a point on it. `given` is what the contract said, as long as nobody moves the line; `swapped`
 * where its rays run against those that were given.
 * @typedef {{direction: number, through: Point, swapped?: boolean, given?: {direction: Exact, through: Exact[]}}} Line
 */
/** @typedef {{at: string, from: string, to: string}} Angle */
/**
 * @typedef {{
 *   read: true,
 *   lines: Record<string, Line>,
 *   meets: Record<string, {lines: string[]}>,
 *   angles: Record<string, Angle>,
 *   transversal: string | null,
 *   frame: number[] | null,
 *   lettered: string[],
 *   at: Record<string, Point | null>,
 * }} Model
 */

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const NEAR = 1e-6;

/** A contract number (65, "18.5" or "37/2") as a float. */
export function number(value) {
  if (typeof value === "number") return value;
  const [over, under] = `${value}`.split("/");
  return under === undefined ? Number(over) : Number(over) / Number(under);
}

/** Degrees in [0, 180): the direction of a line. */
export function halfTurn(direction) {
  const d = ((direction % 180) + 180) % 180;
  return d > 180 - 1e-9 ? 0 : d;
}

export function fullTurn(direction) {
  return ((direction % 360) + 360) % 360;
}

export function ray(text) {
  let known = rays.get(text);
  if (!known) rays.set(text, (known = Object.freeze({ line: text.slice(0, -1), sign: text.at(-1) })));
  return known;
}

const rays = new Map(); // asked for many times a frame, and there are only a few

/** Contract JSON → model. Meets that are left out are lettered, standard numbering is carried out. */
export function readFigure(figure) {
  const lines = {};
  const flipped = new Set();
  for (const [name, line] of Object.entries(figure.lines ?? {})) {
    const given = fullTurn(number(line.direction));
    if (given >= 180) flipped.add(name);
    lines[name] = { direction: halfTurn(given), through: line.through.map(number), swapped: given >= 180 };
    // As it was given, so that a line nobody moves goes back to the server to the last digit.
    if (given < 180) lines[name].given = line;
  }
  const model = {
    read: true,
    lines,
    meets: {},
    angles: {},
    transversal: figure.transversal ?? null,
    frame: figure.frame?.map(number) ?? null,
  };
  if (figure.meets) {
    for (const [name, meet] of Object.entries(figure.meets)) model.meets[name] = { lines: [...(meet.lines ?? meet)] };
  } else {
    model.meets = letterAll(lines);
  }
  model.lettered = figure.meets ? [...(figure.lettered ?? [])] : Object.keys(model.meets);
  for (const [name, angle] of Object.entries(figure.angles ?? {})) {
    const [from, to] = [angle.from, angle.to].map((side) => {
      const r = ray(side);
      return flipped.has(r.line) ? r.line + back(r.sign) : side;
    });
    model.angles[name] = { at: angle.at, from, to };
  }
  placeAll(model);
  if (!figure.angles && figure.number === "standard") model.angles = numberStandard(model, model.transversal);
  return model;
}

/** Model → contract JSON: whole directions as they are, places rounded to what a drawing needs. */
export function writeFigure(model) {
  const figure = { lines: {}, meets: {}, angles: {} };
  for (const [name, line] of Object.entries(model.lines)) {
    const { direction, through } = line.given ?? {
      direction: round(line.direction, 6),
      through: line.through.map((c) => round(c, 6)),
    };
    figure.lines[name] = { direction, through: [...through] };
  }
  for (const [name, meet] of Object.entries(model.meets)) figure.meets[name] = [...meet.lines];
  for (const [name, angle] of Object.entries(model.angles)) figure.angles[name] = { ...angle };
  if (model.transversal) figure.transversal = model.transversal;
  if (model.lettered.length) figure.lettered = [...model.lettered];
  if (model.frame) figure.frame = [...model.frame];
  return figure;
}

/** The model of either a contract figure or a model. */
export function modelOf(figure) {
  return figure.read ? figure : readFigure(figure);
}

export function round(value, digits = 2) {
  const k = 10 ** digits;
  const r = Math.round(value * k) / k;
  return r === 0 ? 0 : r;
}

export function back(sign) {
  return sign === "+" ? "-" : "+";
}

/** The unit vector of a direction. */
export function unit(direction) {
  const r = (direction * Math.PI) / 180;
  return [Math.cos(r), Math.sin(r)];
}

/** Where two lines cross; null for lines of one direction. */
export function crossing(l, m) {
  if (l.direction === m.direction) return null;
  const [u, v] = [unit(l.direction), unit(m.direction)];
  const turn = u[0] * v[1] - u[1] * v[0];
  if (Math.abs(turn) < 1e-12) return null;
  const [dx, dy] = [m.through[0] - l.through[0], m.through[1] - l.through[1]];
  const k = (dx * v[1] - dy * v[0]) / turn;
  return [l.through[0] + k * u[0], l.through[1] + k * u[1]];
}

/** Fill in where each meet lies, from the two of its lines that cross most squarely. */
export function placeAll(model) {
  model.at = {};
  for (const [name, meet] of Object.entries(model.meets)) {
    let best = null;
    let most = -1;
    for (let i = 0; i < meet.lines.length; i += 1) {
      for (let j = i + 1; j < meet.lines.length; j += 1) {
        const [l, m] = [model.lines[meet.lines[i]], model.lines[meet.lines[j]]];
        const square = Math.abs(Math.sin(((l.direction - m.direction) * Math.PI) / 180));
        if (square > most) [most, best] = [square, crossing(l, m)];
      }
    }
    model.at[name] = best;
  }
  return model;
}

function letterAll(lines) {
  const names = Object.keys(lines);
  const places = [];
  for (let i = 0; i < names.length; i += 1) {
    for (let j = i + 1; j < names.length; j += 1) {
      const at = crossing(lines[names[i]], lines[names[j]]);
      if (!at) continue;
      const same = places.find(
        (place) => Math.hypot(place.at[0] - at[0], place.at[1] - at[1]) < NEAR * (1 + Math.hypot(...at)),
      );
      if (same) for (const name of [names[i], names[j]]) same.lines.add(name);
      else places.push({ at, lines: new Set([names[i], names[j]]) });
    }
  }
  places.sort((a, b) => (Math.abs(a.at[1] - b.at[1]) > NEAR ? b.at[1] - a.at[1] : a.at[0] - b.at[0]));
  const free = [...LETTERS, ...[...LETTERS].map((c) => `${c}1`), ...[...LETTERS].map((c) => `${c}2`)].filter(
    (c) => !(c in lines),
  );
  return Object.fromEntries(
    places.map((place, i) => [free[i], { lines: names.filter((name) => place.lines.has(name)) }]),
  );
}

/** The direction in which a ray runs, in [0, 360). */
export function heading(model, side) {
  const r = typeof side === "string" ? ray(side) : side;
  return model.lines[r.line].direction + (r.sign === "+" ? 0 : 180);
}

/** Degrees counterclockwise from one ray to another, in [0, 360). */
export function between(model, from, to) {
  const d = fullTurn(heading(model, to) - heading(model, from));
  return Math.abs(d - Math.round(d)) < 1e-9 ? Math.round(d) % 360 : d;
}

/** An angle's measure in degrees, as drawn. */
export function measure(model, name) {
  const angle = model.angles[name];
  return between(model, angle.from, angle.to);
}

/** "65°", or one decimal where a measure isn't whole. */
export function degrees(value) {
  return `${round(value, 1)}°`;
}

/** How far along a line's + direction a point lies. */
export function along(line, p) {
  const u = unit(line.direction);
  return (p[0] - line.through[0]) * u[0] + (p[1] - line.through[1]) * u[1];
}

/** The meets on a line in the order in which its + direction reaches them. */
export function order(model, line) {
  // Asked many times for one model, which never changes.
  const known = orders.get(model) ?? orders.set(model, {}).get(model);
  return [...(known[line] ??= ordered(model, line))];
}

const orders = new WeakMap();

function ordered(model, line) {
  const on = Object.keys(model.meets).filter((name) => model.at[name] && model.meets[name].lines.includes(line));
  const far = new Map(on.map((name) => [name, along(model.lines[line], model.at[name])]));
  return on.sort((a, b) => far.get(a) - far.get(b));
}

/** The ray of a line from one of its meets toward another. */
export function toward(model, line, here, there) {
  const way = along(model.lines[line], model.at[there]) - along(model.lines[line], model.at[here]);
  return line + (way > 0 ? "+" : "-");
}

/** The line that passes through both meets, or null. */
export function lineThrough(model, a, b) {
  return model.meets[a].lines.find((name) => model.meets[b].lines.includes(name)) ?? null;
}

/** The side of an angle that lies on a line, and the other one. */
export function rayOn(angle, line) {
  return [angle.from, angle.to].find((side) => ray(side).line === line) ?? null;
}

export function rayOff(angle, line) {
  return ray(angle.from).line === line ? angle.to : angle.from;
}

/** Pairs of lines with one direction, as drawn. */
export function parallels(model) {
  const names = Object.keys(model.lines);
  const found = [];
  for (let i = 0; i < names.length; i += 1) {
    for (let j = i + 1; j < names.length; j += 1) {
      if (model.lines[names[i]].direction === model.lines[names[j]].direction) found.push([names[i], names[j]]);
    }
  }
  return found;
}

/** The sectors between neighbouring rays at a meet, counterclockwise. */
export function sectors(model, meet) {
  const sides = model.meets[meet].lines.flatMap((line) => [`${line}+`, `${line}-`]);
  sides.sort((a, b) => heading(model, a) - heading(model, b));
  return sides.map((from, i) => ({ at: meet, from, to: sides[(i + 1) % sides.length] }));
}

/** The eight angles along a transversal: upper meet first; upper left, upper right, lower left, lower right. */
export function numberStandard(model, transversal) {
  const meets = order(model, transversal).filter((name) => model.meets[name].lines.length === 2);
  if (meets.length !== 2) return {};
  if (model.lines[transversal].direction !== 0) meets.reverse();
  const angles = {};
  for (const meet of meets) {
    for (const sector of fourInOrder(model, meet, transversal)) angles[Object.keys(angles).length + 1] = sector;
  }
  return angles;
}

function fourInOrder(model, meet, transversal) {
  const found = sectors(model, meet);
  const middles = found.map((s) => fullTurn(heading(model, s.from) + between(model, s.from, s.to) / 2));
  const tied = middles.some((middle) => Math.abs(middle % 90) < 1e-9);
  const places = tied
    ? found.map((sector) => placeByLines(model, sector, transversal))
    : middles.map((middle) => 2 * (middle < 180 ? 0 : 1) + (middle > 90 && middle < 270 ? 0 : 1));
  return found
    .map((sector, i) => [places[i], sector])
    .sort((a, b) => a[0] - b[0])
    .map(([, sector]) => sector);
}

/** Where middles run along the page: upper and lower against the line, left and right against the transversal. */
function placeByLines(model, sector, transversal) {
  const alongLine = rayOff(sector, transversal);
  const line = ray(alongLine).line;
  const above = between(model, `${line}+`, rayOn(sector, transversal)) < 180 === model.lines[line].direction < 90;
  const left = between(model, `${transversal}+`, alongLine) < 180;
  return 2 * (above ? 0 : 1) + (left ? 0 : 1);
}
