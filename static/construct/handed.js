// A constructed parallel pulled into a later task: the student's own figure in place of the task's, where the two fit. Pure.
import { modelOf } from "../figure/model.js";
import { holds } from "../tasks/reach.js";
import { number } from "./replay.js";

/**
 * What `carry.get("constructed")` holds, as a figure of the task: {figure, given, marks} in the task's own names, else null. It fits
 * where the task has two lines and a transversal with the same eight angles, and everything that the task gives holds in it as
 * drawn. The marks of the construction come along only where they say what the task gives, or where it gives nothing.
 */
export function handed(carried, task) {
  const [own, other] = [carried?.figure, task?.figure];
  const names = own && other && renaming(own, other);
  if (!names) return null;
  const whole = rename(own, names, (direction) => Math.round(direction) % 180);
  const given = carried.given ?? [];
  const wanted = task.given ?? [];
  if (!wanted.every((statement) => holds(modelOf(whole), statement) === true)) return null;
  const says = wanted.length === 0 || given.every((one) => wanted.some((two) => same(one, two)));
  // Where lines are turned in whole degrees, they have to stand at whole degrees, or they could never be made parallel again.
  const figure = task.kind === "explore" ? whole : rename(own, names, null);
  return { figure, given, marks: says ? renameMarks(carried.marks ?? {}, names) : {} };
}

/** Lines and meets of one figure → those of the other, by the angles that lie on them; null where the figures differ. */
function renaming(own, other) {
  const keys = (part) =>
    Object.keys(part ?? {})
      .sort()
      .join(" ");
  if (keys(own.angles) !== keys(other.angles) || Object.keys(own.angles).length !== 8) return null;
  if (
    Object.keys(own.lines).length !== 3 ||
    Object.keys(other.lines).length !== 3 ||
    !own.transversal ||
    !other.transversal
  )
    return null;
  const lines = { [own.transversal]: other.transversal };
  const meets = {};
  for (const [name, angle] of Object.entries(own.angles)) {
    const [at, there] = [angle.at, other.angles[name].at];
    const across = (figure, meet) => figure.meets[meet].lines.find((line) => line !== figure.transversal);
    if (!across(own, at) || !across(other, there)) return null;
    if ((meets[at] ??= there) !== there) return null;
    if ((lines[across(own, at)] ??= across(other, there)) !== across(other, there)) return null;
  }
  return new Set(Object.values(lines)).size === 3 ? { lines, meets } : null;
}

function rename(figure, { lines, meets }, direction) {
  const ray = (text) => `${lines[text.slice(0, -1)]}${text.slice(-1)}`;
  const map = (part, names, change) =>
    Object.fromEntries(Object.entries(part).map(([name, value]) => [names?.[name] ?? name, change(value)]));
  const made = {
    ...figure,
    lines: map(figure.lines, lines, (line) =>
      direction ? { ...line, direction: direction(number(line.direction)) } : line,
    ),
    // Turned lines cross elsewhere: the places of the meets are found anew.
    meets: map(figure.meets, meets, (meet) => ({
      ...(direction ? {} : meet),
      lines: meet.lines.map((line) => lines[line]),
    })),
    angles: map(figure.angles, null, (angle) => ({ at: meets[angle.at], from: ray(angle.from), to: ray(angle.to) })),
    transversal: lines[figure.transversal],
  };
  if (figure.lettered) made.lettered = figure.lettered.map((name) => meets[name]);
  return made;
}

function renameMarks(marks, { lines }) {
  return marks.lines
    ? {
        ...marks,
        lines: Object.fromEntries(Object.entries(marks.lines).map(([name, mark]) => [lines[name] ?? name, mark])),
      }
    : marks;
}

/** Whether two statements say the same pair congruent. */
function same(one, two) {
  const pair = (text) => (text.match(/^m?∠(\w+)\s*[≅=]\s*m?∠(\w+)$/u) ?? []).slice(1).sort().join(" ");
  return one === two || (pair(one) !== "" && pair(one) === pair(two));
}
