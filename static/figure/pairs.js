// The name of a pair of angles: two angles at different meets share a transversal if one line carries a side of each.
// A side that points at the other meet is inside, else outside; then the sides of the transversal decide. As app/figure/pairs.py.
import { back, between, lineThrough, modelOf, ray, rayOff, rayOn, toward } from "./model.js";

const CONGRUENT = ["corresponding", "alternate interior", "alternate exterior"];
const SUPPLEMENTARY = ["consecutive interior", "consecutive exterior"];

/** What proves the lines parallel for a pair of this name. */
export function relationFor(pair) {
  if (CONGRUENT.includes(pair)) return "congruent";
  return SUPPLEMENTARY.includes(pair) ? "supplementary" : null;
}

/** `{pair, transversal, lines, relation}` and, across a transversal, `inside: [bool, bool]` and `sameSide`. */
export function namePair(figure, a, b) {
  const model = modelOf(figure);
  const [one, two] = [model.angles[a], model.angles[b]];
  const none = { pair: "none", transversal: null, lines: null, relation: null };
  if (one.at === two.at) return { ...none, pair: atOneMeet(one, two) };
  const t = lineThrough(model, one.at, two.at);
  const [onOne, onTwo] = [t && rayOn(one, t), t && rayOn(two, t)];
  if (!onOne || !onTwo) return none;
  const [offOne, offTwo] = [rayOff(one, t), rayOff(two, t)];
  const inside = [onOne === toward(model, t, one.at, two.at), onTwo === toward(model, t, two.at, one.at)];
  const sameSide = left(model, t, offOne) === left(model, t, offTwo);
  const pair = across(inside, sameSide);
  return {
    pair,
    transversal: t,
    lines: [ray(offOne).line, ray(offTwo).line],
    relation: relationFor(pair),
    inside,
    sameSide,
  };
}

function atOneMeet(a, b) {
  const opposite = (side) => ray(side).line + back(ray(side).sign);
  if (a.from === b.from && a.to === b.to) return "same";
  if (opposite(a.from) === b.from && opposite(a.to) === b.to) return "vertical";
  const follows = a.to === b.from && a.from === opposite(b.to);
  const precedes = b.to === a.from && b.from === opposite(a.to);
  return follows || precedes ? "linear pair" : "none";
}

function left(model, line, side) {
  return between(model, `${line}+`, side) < 180;
}

function across(inside, sameSide) {
  if (inside[0] !== inside[1]) return sameSide ? "corresponding" : "none";
  if (inside[0]) return sameSide ? "consecutive interior" : "alternate interior";
  return sameSide ? "consecutive exterior" : "alternate exterior";
}
