// One frame of a drag: the elements that `draw` made are carried along, and nothing is made, named or described.
import { away, draw, drawMarks, drawSector, drawTrace, handlePlace, seen, setEnds, setPlace } from "./draw.js";
import { degrees, parallels } from "./model.js";
import { lay, shownOf } from "./scene.js";
import { picks } from "./state.js";
import { carry, put, set, write } from "../ui/svg.js";

/** One frame of a drag: as `draw`, but only what the hand can have moved is looked at. */
export function follow(state, sheet) {
  const last = sheet.drawn;
  const laid = lay(state, last);
  if (seen(laid) !== sheet.shown) return draw(state, sheet);
  const { by } = sheet;
  for (const name in by.meets) carry(by.meets[name], laid.meets[name].p);
  // Sectors without ink only answer to pointers and focus, and can wait until the hand rests.
  for (const name in by.sectors) if (inked(state, laid, name)) carry(by.sectors[name], laid.meets[name].p);
  for (const name in by.angles) followAngle(state, by, name, laid.angles[name], last.angles[name]);
  for (const name in by.lines) {
    const [line, old] = [laid.lines[name], last.lines[name]];
    if (line.of !== old.of) {
      if (picks(state, "line")) setEnds(by.lines[name].firstChild, line);
      setEnds(by.lines[name].lastChild, line);
    }
    if (line.name !== old.name) setPlace(by.texts[`line ${name}`], line.name);
  }
  for (const name in laid.meets) {
    const { off } = laid.meets[name];
    if (off && off !== last.meets[name].off) setPlace(by.texts[`meet ${name}`], off);
  }
  for (const key in by.handles)
    if (!away(state, by.handles[key])) carry(by.handles[key].element, handlePlace(laid, by.handles[key]));
  if (sheet.marks.firstChild || parallels(state.model).length) drawMarks(state, sheet, laid);
  if (state.path) drawTrace(state, sheet, laid);
  sheet.drawn = laid;
  return undefined;
}

/** Show which handle the hand has taken; the others of its line are out of sight until it lets go, and needn't be carried. */
export function take(state, sheet) {
  const { line, part } = state.gesture;
  const { lines, handles } = sheet.by;
  put(lines[line], { "data-held": "" });
  put(handles[`${line} ${part}`].element, { "data-held": null, "data-drag": "" });
  for (const key in handles) if (away(state, handles[key])) put(handles[key].element, { "data-away": "" });
}

function inked(state, laid, meet) {
  const { angles } = state.model;
  for (const name in laid.angles) {
    if (
      angles[name].at === meet &&
      (laid.angles[name]?.arcs || laid.angles[name]?.square || laid.angles[name]?.lead || shownOf(state).includes(name))
    )
      return true;
  }
  return false;
}

function followAngle(state, by, name, angle, old) {
  if (angle.arcs !== old.arcs) put(by.angles[name].parts[2], { d: angle.arcs || null });
  if (angle.square && angle.square !== old.square) set(by.angles[name].parts[3], "d", angle.square);
  if (angle.lead !== old.lead) put(by.angles[name].parts[5], { d: angle.lead });
  if (shownOf(state).includes(name)) drawSector(state, by.angles[name].parts, angle);
  if (angle.placed !== old.placed) setPlace(by.texts[`number ${name}`], angle.placed.off);
  if (!angle.value) return;
  const value = by.texts[`value ${name}`];
  if (value && angle.measure !== old.measure) write(value, degrees(angle.measure));
  if (angle.valuePlaced !== old.valuePlaced) setPlace(value ?? by.texts[`label ${name}`], angle.valuePlaced.off);
}
