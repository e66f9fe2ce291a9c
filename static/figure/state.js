// All that one figure on a page knows. No DOM.
import { readFigure, writeFigure, parallels } from "./model.js";
import { limits, ranks, slideTo, turnBy, turnTo } from "./moves.js";
import { viewOf, windowOf } from "./view.js";

const MOST_UNDO = 60;

export function createState(options) {
  const model = readFigure(options.figure);
  return {
    model,
    born: model, // as it was when it was drawn first
    sized: Boolean(options.sized), // whether the description has measures though none are drawn
    rank: ranks(model), // the order of crossings along each line, which moves must keep
    frame: windowOf(model), // the part of the plane that is shown
    view: viewOf(windowOf(model), 600, 400),
    laid: null, // the last layout
    marks: options.marks ?? {},
    movable: options.movable ?? [],
    step: options.step ?? 1,
    measures: Boolean(options.measures),
    pick: options.pick ?? null, // what can be chosen: angle, line, meet, sides (angles and lines), any
    picked: [], // names of what is chosen
    asked: options.asked ?? [], // the angles in question, marked as long as it stands
    path: null, // [a, b]: the pair whose path is traced
    size: options.size ?? "seat",
    notice: options.notice ?? true, // whether lines that become parallel are remarked on
    reason: null, // why they are parallel, where that is established
    even: parallels(model), // pairs of lines of one direction at the start of the last move
    fresh: false, // whether the parallels have just come about
    held: null, // {line, part}: picked up by a tap, to be put down by another
    gesture: null, // a drag under way
    changed: false, // whether it is another figure than the page came with
    line: (options.movable ?? [])[0] ?? null, // the line the strip works on
    undo: [],
  };
}

/** Whether things of a kind can be chosen in this figure. */
export function picks(state, kind) {
  return state.pick === kind || state.pick === "any" || (state.pick === "sides" && kind !== "meet");
}

/** Put another figure in the place of this one; the window stays where both show the same lines. */
export function replace(state, figure) {
  const old = state.model;
  state.model = readFigure(figure);
  const same = Object.keys(old.lines).join() === Object.keys(state.model.lines).join();
  if (!same || !inWindow(state)) state.frame = windowOf(state.model);
  if (!same) state.undo = [];
  state.rank = ranks(state.model);
  state.view = viewOf(state.frame, state.view.width, state.view.height, state.view.unit);
  state.even = parallels(state.model);
  state.fresh = false;
}

function inWindow({ model, frame }) {
  return Object.values(model.angles).every(({ at }) => {
    const p = model.at[at];
    return p && Math.abs(p[0] - frame.x) < frame.w * 0.62 && Math.abs(p[1] - frame.y) < frame.h * 0.62;
  });
}

export function resize(state, width, height, unit = 1) {
  state.view = viewOf(state.frame, width, height, unit);
}

export function how(state, extra = {}) {
  return { view: state.view, rank: state.rank, step: state.step, ...extra };
}

/** One move: turn or slide a line from where the figure is, or from where a drag began. Answers why it was stopped short, or "". */
export function move(state, line, change, from = state.model) {
  let done;
  if (change.to !== undefined) done = turnTo(from, line, change.to, how(state, change));
  else if (change.by !== undefined) done = turnBy(from, line, change.by, how(state, change));
  else done = slideTo(from, line, change.point, how(state));
  state.model = done.model;
  return done.stopped ? done.why : "";
}

/** Remember the figure before a finished move. */
export function remember(state, before) {
  if (JSON.stringify(writeFigure(before)) === JSON.stringify(writeFigure(state.model))) return false;
  state.undo.push(before);
  if (state.undo.length > MOST_UNDO) state.undo.shift();
  return true;
}

const NONE = { came: [], went: [] };

/** The pairs of lines that have become, or are no longer, of one direction since the last look. */
export function evened(state) {
  const now = parallels(state.model);
  if (!now.length && !state.even.length) return NONE;
  const key = (pair) => pair.join(" ");
  const [before, after] = [new Set(state.even.map(key)), new Set(now.map(key))];
  const came = now.filter((pair) => !before.has(key(pair)));
  const went = state.even.filter((pair) => !after.has(key(pair)));
  state.even = now;
  return { came, went };
}

export { limits };
