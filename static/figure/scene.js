// What is drawn of a figure, apart from how: its layout, its texts, its marks. For the SVG (draw.js) and for the ink of a drag
// (ink.js). Pure: no DOM.
import { arrows, layout, ticks } from "./layout.js";
import { degrees, parallels } from "./model.js";

/** Whether the measures stand in their sectors; where there is no room for that they stand in a row below. */
export function valuesInside({ measures, size, view }) {
  return measures && (size === "board" || (view.width >= 520 && view.height >= 260));
}

const dresses = new WeakMap();

/** What marks put into sectors, by angle: counts of arcs, labels, squares. */
function dressed(marks) {
  let found = dresses.get(marks);
  if (found) return found;
  found = { arcs: {}, labels: {}, squares: new Set((marks.right ?? []).map((one) => one.angle)) };
  for (const [name, mark] of Object.entries(marks.angles ?? {})) {
    found.arcs[name] = mark.arcs ?? 0;
    if (mark.label) found.labels[name] = mark.label;
  }
  dresses.set(marks, found);
  return found;
}

/** The angles whose sectors show: those that are chosen, and those that are in question. */
export function shownOf({ picked, asked = [] }) {
  return asked.length ? [...picked, ...asked] : picked;
}

export function lay(state, last) {
  const { arcs, labels, squares } = dressed(state.marks);
  const only = last ? shownOf(state) : null;
  state.laid = layout(state.model, state.view, {
    size: state.size,
    arcs,
    labels,
    squares,
    values: valuesInside(state),
    movable: state.movable,
    only,
    last,
  });
  return state.laid;
}

/** The texts at a crossing: its letter, and its angles' numbers, labels and measures. */
export function textsAt(state, laid, meet) {
  const wanted = {};
  for (const name in laid.angles) {
    const angle = laid.angles[name];
    if (!angle || state.model.angles[name].at !== meet) continue;
    const mark = state.marks.angles?.[name];
    const tone = mark?.tone ?? null;
    wanted[`number ${name}`] = {
      p: angle.placed.off,
      text: name,
      class: "angle-number",
      size: 17,
      tone,
      picked: state.picked.includes(name),
      asked: Boolean(state.asked?.includes(name)),
    };
    if (mark?.label)
      wanted[`label ${name}`] = { p: angle.valuePlaced.off, text: mark.label, class: "angle-label", size: 15.5, tone };
    else if (angle.value)
      wanted[`value ${name}`] = {
        p: angle.valuePlaced.off,
        text: degrees(angle.measure),
        class: "angle-value",
        size: 14,
      };
  }
  const { off } = laid.meets[meet];
  if (off) wanted[`meet ${meet}`] = { p: off, text: meet, class: "meet-name", size: 14 };
  return wanted;
}

/** The names of the lines. */
export function namesOf(laid) {
  const wanted = {};
  for (const [name, line] of Object.entries(laid.lines)) {
    if (line) wanted[`line ${name}`] = { p: line.name, text: name, class: "line-name", size: 20 };
  }
  return wanted;
}

/**
 * Arrow marks and ticks, by key: `{kind, d, tone, fresh?, drawn?}`. Lines that are parallel only as drawn get arrow marks of their
 * own (`drawn`), thin and open.
 */
export function marksOf({ model, marks, notice, reason, fresh }, laid) {
  const wanted = {};
  const { k } = laid.sizes;
  for (const [name, mark] of Object.entries(marks.lines ?? {})) {
    if (mark.arrows && laid.lines[name])
      wanted[`arrows ${name}`] = {
        kind: "arrows",
        d: arrows(laid.lines[name], mark.arrows, k),
        tone: mark.tone ?? "plain",
      };
  }
  if (notice && !Object.values(marks.lines ?? {}).some((mark) => mark.arrows)) {
    groupsOf(parallels(model)).forEach((group, i) => {
      for (const name of group) {
        if (!laid.lines[name]) continue;
        wanted[`arrows ${name}`] = {
          kind: "arrows",
          d: arrows(laid.lines[name], i + 1, k),
          tone: reason ? "follows" : "drawn",
          fresh,
          drawn: true,
        };
      }
    });
  }
  for (const [ends, mark] of Object.entries(marks.segments ?? {})) {
    const [p, q] = ends.split(" ").map((name) => laid.meets[name]?.p);
    if (p && q && mark.ticks)
      wanted[`ticks ${ends}`] = { kind: "ticks", d: ticks(p, q, mark.ticks, k), tone: mark.tone ?? "plain" };
  }
  return wanted;
}

function groupsOf(pairs) {
  const groups = [];
  for (const [a, b] of pairs) {
    const group = groups.find((one) => one.includes(a) || one.includes(b));
    if (group) group.push(...[a, b].filter((name) => !group.includes(name)));
    else groups.push([a, b]);
  }
  return groups;
}
