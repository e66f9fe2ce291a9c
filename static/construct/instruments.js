// What the instruments do with a tap, a drag or a key: changes to the state, and the sentence to say. Pure.
//
// Compass: a point for its foot, then how far to open it; then it swings where the dotted circle is touched, and keeps its
// opening when it is lifted. Straightedge: two points. Pencil: marks a spot.
import { crossings, drawnAt, far, heading, isCircle, polar } from "./geometry.js";
import { add, freshArc, freshLine, refresh } from "./state.js";
import { marking, onCircle } from "./spots.js";

const SWING = 55; // degrees to each side of where an arc is asked for
const PAST = 16; // degrees that an arc goes on beyond what it is to cross

/** The compass as it stands: {c, r, pencil} or null while it has no foot or no opening. */
export function standing(state) {
  const c = state.values.get(state.foot);
  const [a, b] = (state.opening ?? []).map((name) => state.values.get(name));
  if (!c || !a || !b) return null;
  const r = far(a, b);
  return { c, r, pencil: polar(c, r, state.turn ?? 0) };
}

/** Pick an instrument up: what was begun with another is let go of. */
export function pickUp(state, tool) {
  state.tool = tool;
  lift(state);
}

/** Do what a tap on this spot means; gives {said: [key, fields], moves} or {said} alone when nothing was drawn. */
export function tap(state, spot, reach) {
  if (state.tool === "pencil") return mark(state, spot);
  if (state.tool === "straightedge") return ruled(state, spot);
  if (!state.foot) return footAt(state, spot);
  if (!state.opening) return openTo(state, spot);
  const stands = standing(state);
  if (onCircle(stands, spot.at, reach)) return swing(state, heading(stands.c, spot.at));
  return carry(state, spot);
}

/** The name of the point at a spot, marked first if it has none; null when the paper is full. */
function named(state, spot) {
  if (spot.kind === "point") return spot.name;
  const move = marking(state, spot);
  return add(state, [move]) ? move.name : null;
}

/** Give a spot its name, whatever instrument is in hand; that one stays there. */
export function mark(state, spot) {
  if (spot.kind === "point") return { said: ["spot_point", { name: spot.name }] };
  const move = marking(state, spot);
  return add(state, [move]) ? { moves: [move] } : full();
}

function full() {
  return { said: ["full", { most: 80 }] };
}

function footAt(state, spot) {
  const before = state.moves.length;
  const name = named(state, spot);
  if (!name) return full();
  state.foot = name;
  if (state.opening) {
    state.turn = likelyTurn(state);
    return {
      said: ["carried", { a: state.opening[0], b: state.opening[1], foot: name }],
      moves: state.moves.slice(before),
    };
  }
  return { said: ["footed", { foot: name }], moves: state.moves.slice(before) };
}

/** Carried to a new place, the pencil points along a line or ray that begins or passes there, else as it did before. */
function likelyTurn(state) {
  const at = state.values.get(state.foot);
  for (const thing of state.values.values()) {
    if (thing.p && far(thing.p, at) < 1e-9) return heading(thing.p, thing.q);
    if (thing.q && far(thing.q, at) < 1e-9) return heading(thing.q, thing.p);
  }
  return state.turn ?? 0;
}

function carry(state, spot) {
  if (spot.kind === "point" && spot.name === state.foot) return { said: ["same_point", {}] };
  if (state.compass === "collapsing") {
    const [a, b] = state.opening;
    newOpening(state);
    const done = footAt(state, spot);
    return done.said[0] === "full" ? done : { ...done, said: ["collapsed", { a, b, foot: state.foot }] };
  }
  return footAt(state, spot);
}

function openTo(state, spot) {
  if (spot.kind === "point" && spot.name === state.foot) return { said: ["same_point", {}] };
  const before = state.moves.length;
  const foot = state.foot;
  const name = named(state, spot);
  if (!name) return full();
  state.foot = foot;
  state.opening = [foot, name];
  state.turn = heading(state.values.get(foot), state.values.get(name));
  return { said: ["opened", { foot, to: name }], moves: state.moves.slice(before) };
}

/**
 * How far an arc is swung where nobody showed it, as a hand would do it: past the arcs that it is to cross; else past the lines
 * that begin at its center, and as far as the arc before it with the same opening.
 */
export function handySweep(state) {
  const stands = standing(state);
  const circle = { c: stands.c, r: stands.r };
  const turn = state.turn ?? 0;
  const arcs = [...state.values.values()].filter((thing) => isCircle(thing) && far(thing.c, stands.c) > 1e-9);
  const wanted = arcs
    .filter((arc) => Math.abs(arc.r - stands.r) > 1e-9 || state.opening.includes(state.foot) || arcs.length > 1)
    .flatMap((arc) => crossings(circle, arc).filter((at) => drawnAt(arc, at)))
    .map((at) => heading(stands.c, at));
  if (wanted.length) return around(wanted);
  const lines = [...state.values.values()]
    .filter((thing) => thing.p && (far(thing.p, stands.c) < 1e-9 || far(thing.q, stands.c) < 1e-9))
    .map((thing) => (far(thing.p, stands.c) < 1e-9 ? heading(thing.p, thing.q) : heading(thing.q, thing.p)));
  const before = state.moves.findLast(
    (move) =>
      move.op === "arc" &&
      move.sweep &&
      move.opening.join() === state.opening.join() &&
      move.opening[0] === move.center,
  );
  const [from, extent] = around(
    [turn - SWING + PAST, turn + SWING - PAST, ...lines.filter((way) => Math.abs(gap(way, turn)) < 150)],
    turn,
  );
  if (!before) return [from, extent];
  // As far to each side as that one went from where its opening was taken.
  const [center, pencil] = before.opening.map((name) => state.values.get(name));
  const began = gap(before.sweep[0], heading(center, pencil));
  const half = Math.max(SWING, Math.min(180, Math.max(Math.abs(began), Math.abs(began + before.sweep[1]))));
  return [turn - half, 2 * half];
}

const gap = (a, b) => ((((a - b + 180) % 360) + 360) % 360) - 180;

/** The shorter way round that passes all these directions, and a bit more at both ends; from `first`, where it is told. */
function around(turns, first = turns[0]) {
  const all = turns.map((turn) => gap(turn, first)).sort((a, b) => a - b);
  const ends = all.map((turn, i) => [turn, i ? all[i - 1] + 360 : all.at(-1)]);
  // It begins after the widest gap.
  const [from, to] = ends.sort((a, b) => a[1] - a[0] - (b[1] - b[0]))[0];
  return [first + from - PAST, Math.min(360, to - from + 2 * PAST)];
}

/** Swing an arc around the direction `turn`; `sweep` gives its exact ends after a drag. */
export function swing(state, turn, sweep = null) {
  const stands = standing(state);
  if (!stands) return { said: ["now_compass_foot", {}] };
  const [from, extent] = sweep ?? [turn - SWING, 2 * SWING];
  const move = {
    op: "arc",
    name: freshArc(state),
    center: state.foot,
    opening: [...state.opening],
    sweep: [tenth(((from % 360) + 360) % 360), Math.min(360, tenth(extent))],
  };
  const [foot, opening] = [state.foot, state.opening];
  if (!add(state, [move])) return full();
  state.turn = turn;
  // Drawn: the compass is lifted and keeps its opening, unless it is one that collapses.
  state.foot = null;
  state.opening = state.compass === "collapsing" ? null : opening;
  state.last = foot;
  return { moves: [move] };
}

const tenth = (n) => Math.round(n * 10) / 10;

/** The last arc, longer at both ends. */
export function lengthen(state, by = 30) {
  const i = state.moves.findLastIndex((move) => move.op === "arc");
  if (i < 0 || !state.moves[i].sweep) return null;
  const [from, extent] = state.moves[i].sweep;
  const longer = Math.min(360, extent + 2 * by);
  const sweep = [tenth((((from - (longer - extent) / 2) % 360) + 360) % 360), tenth(longer)];
  state.moves = state.moves.map((move, k) => (k === i ? { ...move, sweep } : move));
  refresh(state);
  return state.moves[i];
}

function ruled(state, spot) {
  if (!state.first) {
    const before = state.moves.length;
    const name = named(state, spot);
    if (!name) return full();
    state.first = name;
    return { said: ["now_straightedge_second", { first: name }], moves: state.moves.slice(before) };
  }
  if (spot.kind === "point" && spot.name === state.first) return { said: ["same_point", {}] };
  const first = state.first;
  const before = state.moves.length;
  const second = named(state, spot);
  if (!second) return full();
  const move = { op: state.kind, name: freshLine(state), through: [first, second] };
  if (!add(state, [move])) return full();
  state.first = null;
  return { moves: state.moves.slice(before) };
}

/** A drag from one spot to another: the compass is opened between them, the straightedge ruled along them. */
export function drag(state, from, to, reach) {
  const before = state.moves.length;
  const one = tap(state, from, reach);
  if (one.said?.[0] === "full" || one.said?.[0] === "same_point") return one;
  const two = tap(state, to, reach);
  return { ...two, moves: state.moves.slice(before) };
}

/** Unlock the opening, so that the next spot sets it anew from where the compass stands. */
export function newOpening(state) {
  state.opening = null;
  state.turn = null;
}

export function lift(state) {
  state.foot = null;
  state.first = null;
  if (state.compass === "collapsing") state.opening = null;
}

/** Take the compass that keeps its opening, or the one that collapses. */
export function takeCompass(state, compass) {
  state.compass = compass;
  lift(state);
}
