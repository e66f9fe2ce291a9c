// The one state of a construction task, and the changes that can be made to it. No page here: tests build it as it is.
import { givens, replay } from "./replay.js";

export const MOST_MOVES = 80;
const CAPITALS = "BCDEFGHJKLMNRTUXYZAPQSVW";
const SMALL = "rstuknhjgdqefvwxyz";

/** A fresh state for a start; `saved` is what serialise gave earlier. */
export function createState(task, saved = null) {
  const state = {
    construction: task.construction,
    start: task.start,
    moves: [], // all moves done
    ahead: [], // moves undone, next to redo last
    shown: null, // how many moves are looked at; null for all
    result: null, // the name chosen as the answer; null for the newest line
    compass: "modern", // "collapsing": it closes when it is lifted, and carries no opening
    locked: task.compass === "collapsing", // whether the task says so
    tool: "compass", // the instrument in hand: "compass", "straightedge", "pencil"
    kind: "line", // what the straightedge draws: "line", "ray", "segment"
    free: false, // free hand: nothing snaps
    foot: null, // name of the point under the compass point
    opening: null, // the two names that the opening is carried from
    first: null, // the first point of a line being drawn
    values: new Map(), // the drawing of the shown moves
    told: null, // the next step, where it was asked for; until something is done
    marked: [], // notes of the last check, by move
    answered: false, // whether the last check found it constructed
  };
  if (saved?.moves) {
    state.moves = saved.moves;
    state.result = saved.result ?? null;
    state.opening = saved.opening ?? null;
    state.compass = saved.compass ?? "modern";
  } else if (["parallel through a point", "perpendicular through a point"].includes(task.construction)) {
    state.kind = "line";
  }
  if (task.construction === "copy an angle" || task.construction === "bisect an angle") state.kind = "ray";
  if (state.locked) state.compass = "collapsing";
  if (task.construction === "copy a segment") state.kind = "segment";
  if (task.construction === "parallel through a point" && task.route !== "rhombus" && !state.locked)
    state.tool = "straightedge";
  // A task whose way is the student's to find says nothing of the first step, and a rhombus begins somewhere on the line.
  state.led =
    task.demonstration !== false && !(task.construction === "parallel through a point" && state.tool === "compass");
  refresh(state);
  return state;
}

/** What is saved of it: enough to go on after a reload. */
export function serialise(state) {
  return { moves: state.moves, result: state.result, opening: state.opening, compass: state.compass };
}

/** The drawing again, and everything that names an object that is no more let go of. */
export function refresh(state) {
  state.values = replay(state.start, state.moves, state.shown ?? state.moves.length);
  for (const key of ["foot", "first", "result"]) if (!state.values.has(state[key])) state[key] = null;
  if (state.opening?.some((name) => !state.values.has(name))) state.opening = null;
}

/** The moves that are on show. */
export const shownMoves = (state) => (state.shown === null ? state.moves : state.moves.slice(0, state.shown));

const taken = (state) =>
  new Set([...Object.keys(state.start.points), ...Object.keys(givens(state.start)), ...state.moves.map((m) => m.name)]);

function fresh(state, letters) {
  const used = taken(state);
  for (const tail of ["", "1", "2", "3", "4"]) {
    for (const letter of letters) if (!used.has(letter + tail)) return letter + tail;
  }
  return `Z${state.moves.length + 10}`;
}

export const freshPoint = (state) => fresh(state, CAPITALS);
export const freshLine = (state) => fresh(state, SMALL);

export function freshArc(state) {
  const used = taken(state);
  for (let i = 1; ; i += 1) if (!used.has(`c${i}`)) return `c${i}`;
}

/**
 * Do moves at the end of what is shown: later ones are dropped, as going on from an earlier step does. Gives the moves as
 * added, or null when the paper is full or one can't be drawn.
 */
export function add(state, moves) {
  const before = shownMoves(state);
  if (before.length + moves.length > MOST_MOVES) return null;
  const drawn = replay(state.start, [...before, ...moves]);
  if (moves.some((move) => !drawn.has(move.name))) return null;
  state.moves = [...before, ...moves];
  state.ahead = [];
  state.shown = null;
  state.marked = [];
  state.answered = false;
  refresh(state);
  return moves;
}

/** Take the last step of the list back, one at a time; gives it, or null. */
export function undo(state) {
  if (state.shown !== null) state.shown = null;
  if (!state.moves.length) return null;
  const back = state.moves.slice(-1);
  state.moves = state.moves.slice(0, -1);
  state.ahead.push(back);
  changed(state);
  return back.at(-1);
}

/** Do again what was undone last; gives it, or null. */
export function redo(state) {
  const again = state.ahead.pop();
  if (!again) return null;
  state.shown = null;
  state.moves = [...state.moves, ...again];
  changed(state);
  return again.at(-1);
}

function changed(state) {
  state.marked = [];
  state.answered = false;
  refresh(state);
}

/** Look at the drawing as it was after `n` moves; null or all of them: as it is. */
export function goTo(state, n) {
  state.shown = n === null || n >= state.moves.length ? null : Math.max(0, n);
  refresh(state);
}

/** The lines, rays and segments drawn so far, newest first: one of them is the answer. */
export function answers(state) {
  const wanted = state.construction === "copy a segment" ? "segment" : "line ray segment";
  const found = shownMoves(state)
    .filter((m) => wanted.includes(m.op))
    .map((m) => m.name)
    .reverse();
  if (state.construction !== "bisect a segment") return found;
  return [
    ...found,
    ...shownMoves(state)
      .filter((m) => m.op === "meet")
      .map((m) => m.name)
      .reverse(),
  ];
}

/** The object handed in: the one chosen, or the newest line. */
export const answer = (state) =>
  state.result && answers(state).includes(state.result) ? state.result : (answers(state)[0] ?? null);

/** What is handed in: the moves, the answer, and the harder compass where it was taken. */
export function reply(state) {
  const own = state.compass === "collapsing" && !state.locked ? { compass: "collapsing" } : {};
  return { moves: contractMoves(state), result: answer(state), ...own };
}

/** The moves as the contract has them, without what older saved work has beside them. */
export function contractMoves(state) {
  return state.moves.map(({ with: _group, ...move }) => move);
}
