// The same construction with its free points elsewhere: what was constructed holds, what was placed by eye comes apart. Pure.
//
// Which of two crossings a move marks is kept as a rule, as the judge keeps it (app/construction/replay.py): by its place in the
// order of crossings, or as the one that is (or is not) a point known to lie on both.
import { along, crossings, far, foot, heading, isCircle, pointAt, polar } from "./geometry.js";
import { givens, number, pointsOn, replay } from "./replay.js";

/**
 * What ties the construction together, read off the drawing as it is: {free, spots, picks}. `free` maps each point that can be
 * moved to its place: {at} anywhere, {of, t} on a line, {of, turn} on a circle.
 */
export function tie(start, moves) {
  const values = replay(start, moves);
  const free = new Map();
  const picks = new Map();
  for (const name of Object.keys(start.points)) free.set(name, bound(name, start, values) ?? { at: values.get(name) });
  for (const [i, move] of moves.entries()) {
    if (!values.has(move.name)) continue;
    if (move.op === "point") free.set(move.name, { at: values.get(move.name) });
    if (move.op === "on") free.set(move.name, placeOn(move.of, values.get(move.of), values.get(move.name)));
    if (move.op === "meet") picks.set(move.name, pickOf(move, values, start, moves.slice(0, i)));
  }
  return { start, moves, values, free, picks };
}

/** A given point that lies on a given line stays on it. */
function bound(name, start, values) {
  for (const [of, [, a, b]] of Object.entries(givens(start))) {
    const line = values.get(of);
    if (
      name === a ||
      name === b ||
      !Object.keys(start.points).slice(0, Object.keys(start.points).indexOf(name)).includes(a)
    )
      continue;
    const near = foot({ ...line, kind: "line" }, values.get(name));
    if (far(near, values.get(name)) < 1e-9 * (1 + far(line.p, line.q))) return placeOn(of, line, near);
  }
  return null;
}

function placeOn(of, thing, at) {
  return isCircle(thing) ? { of, turn: heading(thing.c, at) } : { of, t: along(thing, at) };
}

function pickOf(move, values, start, before) {
  const [a, b] = move.of.map((name) => values.get(name));
  const found = crossings(a, b);
  const at = values.get(move.name);
  const index = found.findIndex((place) => place === nearest(found, at));
  if (found.length < 2) return { index: 0 };
  const on = move.of.map((name) => pointsOn(name, start, before));
  const known = on[0].find((name) => on[1].includes(name) && values.has(name));
  return known ? { known, other: far(values.get(known), at) > 1e-7 * (1 + far(found[0], found[1])) } : { index };
}

const nearest = (found, at) => [...found].sort((x, y) => far(x, at) - far(y, at))[0];

/** The drawing with free points as `free` has them; null where something that was there can't be made. */
export function replayMoved(tied, free) {
  const values = new Map();
  const { start, moves } = tied;
  for (const name of Object.keys(start.points)) if (free.get(name).at) values.set(name, free.get(name).at);
  for (const name of Object.keys(start.points)) {
    const place = free.get(name);
    if (place.at) continue;
    const [, a, b] = givens(start)[place.of];
    values.set(name, pointAt({ kind: "line", p: values.get(a), q: values.get(b) }, place.t));
  }
  for (const [name, [kind, a, b]] of Object.entries(givens(start))) {
    values.set(name, { kind, p: values.get(a), q: values.get(b), given: true });
  }
  for (const move of moves) {
    if (!tied.values.has(move.name)) continue;
    const value = make(move, values, free, tied.picks);
    if (!value) return null;
    values.set(move.name, value);
  }
  return values;
}

function make(move, values, free, picks) {
  if (move.op === "point") return free.get(move.name).at;
  if (move.op === "on") return standing(free.get(move.name), values);
  if (move.op === "meet") return meet(move, values, picks.get(move.name));
  if (move.op === "arc") {
    const [c, a, b] = [move.center, ...move.opening].map((name) => values.get(name));
    return far(a, b) < 1e-9 ? null : { c, r: far(a, b), sweep: null };
  }
  const [p, q] = move.through.map((name) => values.get(name));
  return far(p, q) < 1e-9 ? null : { kind: move.op, p, q };
}

/** Where a point placed on an object is now. */
function standing(place, values) {
  const of = values.get(place.of);
  return place.turn === undefined ? pointAt(of, place.t) : polar(of.c, of.r, place.turn);
}

function meet(move, values, pick) {
  const [a, b] = move.of.map((name) => values.get(name));
  const found = crossings(a, b);
  if (!found.length) return null;
  if (!pick.known) return found[Math.min(pick.index, found.length - 1)];
  const order = [...found].sort((x, y) => far(x, values.get(pick.known)) - far(y, values.get(pick.known)));
  return pick.other ? order.at(-1) : order[0];
}

/** Free points with one of them moved toward a place: on its object, where it has one. */
export function moveTo(tied, free, name, at, values) {
  const place = free.get(name);
  const of = place.of && values.get(place.of);
  const next = !of
    ? { at }
    : isCircle(of)
      ? { of: place.of, turn: heading(of.c, at) }
      : { of: place.of, t: along(of, at) };
  return new Map(free).set(name, next);
}

/** All given points as numbers of a stage document, so that another page can draw the same. */
export function asPlaces(free) {
  return Object.fromEntries([...free].map(([name, { at, t, turn }]) => [name, at ?? [t ?? turn]]));
}

/** The free points that such numbers stand for; what is missing or no number stays where it was. */
export function fromPlaces(tied, places) {
  const free = new Map(tied.free);
  for (const [name, place] of free) {
    const told = places?.[name]?.map(number);
    if (!told?.length || !told.every(Number.isFinite)) continue;
    if (place.at && told.length === 2) free.set(name, { at: told });
    else if (place.t !== undefined && told.length === 1) free.set(name, { ...place, t: told[0] });
    else if (place.turn !== undefined && told.length === 1) free.set(name, { ...place, turn: told[0] });
  }
  return free;
}
