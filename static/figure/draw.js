// Brings the SVG into step with the state: one layout, then only the attributes that changed.
import { say } from "../words/say.js";
import { angleName } from "./describe.js";
import { arrows, layout, pairPath, ticks } from "./layout.js";
import { degrees, parallels, round } from "./model.js";
import { freedom } from "./moves.js";
import { namePair } from "./pairs.js";
import { keyed, make, put, write } from "./svg.js";

const f = (n) => Math.round(n * 10) / 10;

/** The layers of a figure, from the bottom up. */
export function createSheet(svg) {
  const layer = (name, attributes = {}) => svg.appendChild(make("g", { class: `fig-${name}`, ...attributes }));
  return {
    trace: layer("trace").appendChild(make("path", { class: "trace", pathLength: 1 })),
    angles: layer("angles"),
    lines: layer("lines"),
    marks: layer("marks", { "aria-hidden": "true" }),
    meets: layer("meets"),
    texts: layer("texts", { "aria-hidden": "true" }),
    handles: layer("handles"),
  };
}

/** Whether the measures stand in their sectors; where there is no room for that they stand in a row below. */
export function valuesInside({ measures, size, view }) {
  return measures && (size === "board" || (view.width >= 520 && view.height >= 260));
}

export function draw(state, sheet) {
  const { model, marks } = state;
  const squares = new Set((marks.right ?? []).map((one) => one.angle));
  const arcs = {};
  const labels = {};
  for (const [name, mark] of Object.entries(marks.angles ?? {})) {
    arcs[name] = mark.arcs ?? 0;
    if (mark.label) labels[name] = mark.label;
  }
  const values = valuesInside(state);
  const laid = layout(model, state.view, { size: state.size, arcs, labels, squares, values, movable: state.movable, only: state.gesture ? state.picked : null });
  state.laid = laid;
  drawAngles(state, sheet, laid);
  drawLines(state, sheet, laid);
  drawMarks(state, sheet, laid);
  drawMeets(state, sheet, laid);
  drawTexts(state, sheet, laid, labels, values);
  drawHandles(state, sheet, laid);
  drawTrace(state, sheet, laid);
}

/** A thing that can be chosen is a button; one of its kind is in the tab order, the arrow keys go to the others. */
function button(state, kind, name, first) {
  const on = state.pick === kind || state.pick === "any";
  if (!on) return { role: null, tabindex: null, "aria-pressed": null };
  const picked = state.picked.includes(name);
  return { role: "button", tabindex: name === (state.roving?.[kind] ?? first) ? 0 : -1, "aria-pressed": picked ? "true" : "false" };
}

function drawAngles(state, sheet, laid) {
  const { marks } = state;
  const names = Object.keys(laid.angles).filter((name) => laid.angles[name]);
  const elements = keyed(sheet.angles, names, (name) => {
    const parts = ["hit", "fill", "arcs", "square", "outline"].map((kind) => make("path", { class: kind }));
    // What tells one angle from the next is said at once; its place and size follow when the hand rests.
    return Object.assign(make("g", { class: "angle", "data-kind": "angle", "data-name": name }, ...parts), { parts });
  });
  const active = state.pick === "angle" || state.pick === "any";
  for (const name of names) {
    const angle = laid.angles[name];
    const [hit, fill, arcs, square, outline] = elements[name].parts;
    const mark = marks.angles?.[name];
    const right = marks.right?.find((one) => one.angle === name);
    put(elements[name], {
      "data-picked": state.picked.includes(name) ? "" : null,
      "data-tone": mark?.tone ?? right?.tone ?? null,
      ...button(state, "angle", name, names[0]),
    });
    put(arcs, { d: angle.arcs || null });
    put(square, { d: angle.square });
    // Where nothing is chosen, the sector only answers to pointers and focus, and can wait until the hand rests.
    if (state.gesture && !state.picked.includes(name)) continue;
    put(hit, { d: active ? angle.hit : null });
    put(fill, { d: angle.fill });
    put(outline, { d: angle.outline });
  }
}

function drawLines(state, sheet, laid) {
  const names = Object.keys(laid.lines).filter((name) => laid.lines[name]);
  const elements = keyed(sheet.lines, names, (name) =>
    make("g", { class: "line", "data-kind": "line", "data-name": name }, make("line", { class: "line-hit" }), make("line", { class: "line-ink" })));
  const active = state.pick === "line" || state.pick === "any";
  for (const name of names) {
    const { a, b } = laid.lines[name];
    const ends = { x1: f(a[0]), y1: f(a[1]), x2: f(b[0]), y2: f(b[1]) };
    put(elements[name], {
      "data-picked": state.picked.includes(name) ? "" : null,
      "data-tone": state.marks.lines?.[name]?.tone ?? null,
      "data-held": state.held?.line === name || state.gesture?.line === name ? "" : null,
      ...button(state, "line", name, names[0]),
      "aria-label": active ? say("figure.line", { name }) : null,
    });
    put(elements[name].firstChild, active ? ends : { x1: 0, y1: 0, x2: 0, y2: 0 });
    put(elements[name].lastChild, ends);
  }
}

/** Arrow marks and ticks. Lines that are parallel only as drawn get arrow marks of their own, thin and open. */
function drawMarks(state, sheet, laid) {
  const { model, marks } = state;
  const wanted = {};
  for (const [name, mark] of Object.entries(marks.lines ?? {})) {
    if (mark.arrows && laid.lines[name]) {
      wanted[`arrows ${name}`] = { class: "arrows", d: arrows(laid.lines[name], mark.arrows, laid.sizes.k), "data-tone": mark.tone ?? "plain" };
    }
  }
  if (state.notice && !Object.values(marks.lines ?? {}).some((mark) => mark.arrows)) {
    groupsOf(parallels(model)).forEach((group, i) => {
      for (const name of group) {
        if (!laid.lines[name]) continue;
        const tone = state.reason ? "follows" : "drawn";
        wanted[`arrows ${name}`] = { class: "arrows", d: arrows(laid.lines[name], i + 1, laid.sizes.k), "data-tone": tone, "data-fresh": state.fresh ? "" : null, pathLength: 1 };
      }
    });
  }
  for (const [ends, mark] of Object.entries(marks.segments ?? {})) {
    const [p, q] = ends.split(" ").map((name) => laid.meets[name]?.p);
    if (p && q && mark.ticks) wanted[`ticks ${ends}`] = { class: "ticks", d: ticks(p, q, mark.ticks, laid.sizes.k), "data-tone": mark.tone ?? "plain" };
  }
  const elements = keyed(sheet.marks, Object.keys(wanted), () => make("path"));
  for (const key in wanted) put(elements[key], { "data-fresh": null, pathLength: null, ...wanted[key] });
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

function drawMeets(state, sheet, laid) {
  const names = Object.keys(laid.meets).filter((name) => laid.meets[name].seen);
  const elements = keyed(sheet.meets, names, (name) => make("g", { class: "meet", "data-kind": "meet", "data-name": name }, make("circle", { class: "meet-hit", r: 14 }), make("circle", { class: "meet-dot" })));
  const active = state.pick === "meet" || state.pick === "any";
  for (const name of names) {
    const [x, y] = laid.meets[name].p;
    put(elements[name], {
      transform: `translate(${f(x)} ${f(y)})`,
      "data-picked": state.picked.includes(name) ? "" : null,
      ...button(state, "meet", name, names[0]),
      "aria-label": active ? say("figure.meet", { name }) : null,
    });
    put(elements[name].lastChild, { r: round(3.2 * laid.sizes.k, 1) });
  }
}

function drawTexts(state, sheet, laid, labels, values) {
  const { k } = laid.sizes;
  const wanted = {};
  for (const [name, angle] of Object.entries(laid.angles)) {
    if (!angle) continue;
    const tone = state.marks.angles?.[name]?.tone ?? null;
    wanted[`number ${name}`] = { p: angle.label, text: name, class: "angle-number", size: 17, tone, picked: state.picked.includes(name) };
    if (labels[name]) wanted[`label ${name}`] = { p: angle.value, text: labels[name], class: "angle-label", size: 15.5, tone };
    else if (values) wanted[`value ${name}`] = { p: angle.value, text: degrees(angle.measure), class: "angle-value", size: 14 };
  }
  for (const [name, meet] of Object.entries(laid.meets)) {
    if (meet.seen && meet.letter) wanted[`meet ${name}`] = { p: meet.letter, text: name, class: "meet-name", size: 14 };
  }
  for (const [name, line] of Object.entries(laid.lines)) {
    if (line) wanted[`line ${name}`] = { p: line.name, text: name, class: "line-name", size: 20 };
  }
  const elements = keyed(sheet.texts, Object.keys(wanted), () => make("text"));
  // While a line moves, half of the texts follow in one frame and half in the next: they are what costs most to lay out.
  state.turn = state.gesture ? 1 - (state.turn ?? 0) : null;
  let i = 0;
  for (const key in wanted) {
    i += 1;
    if (state.turn !== null && i % 2 === state.turn) continue;
    const { p, text, size, tone, picked, class: kind } = wanted[key];
    write(elements[key], text);
    // By x and y: a new transform would cost three times as much, in style alone.
    put(elements[key], { x: f(p[0]), y: f(p[1]), class: kind, "font-size": round(size * k, 1), "data-tone": tone ?? null, "data-picked": picked ? "" : null });
  }
}

function drawHandles(state, sheet, laid) {
  const wanted = {};
  for (const name of state.movable) {
    const line = laid.lines[name];
    if (!line) continue;
    const free = freedom(state.model, name);
    if (free.turn) {
      wanted[`${name} b`] = { p: line.grips[1], line: name, part: "b" };
      wanted[`${name} a`] = { p: line.grips[0], line: name, part: "a" };
    }
    if (free.slide) wanted[`${name} ring`] = { p: line.ring, line: name, part: "ring" };
  }
  const elements = keyed(sheet.handles, Object.keys(wanted), (key) => {
    const ring = key.endsWith("ring");
    return make("g", { class: `handle handle-${ring ? "ring" : "grip"}` }, make("circle", { class: "handle-hit", r: 22 }), make("circle", { class: "handle-focus", r: ring ? 14 : 13 }), make("circle", { class: "handle-ink", r: ring ? 8 : 7 }));
  });
  for (const [key, { p, line, part }] of Object.entries(wanted)) {
    put(elements[key], {
      transform: `translate(${f(p[0])} ${f(p[1])})`,
      "data-line": line,
      "data-part": part,
      "data-held": state.held?.line === line && state.held.part === part ? "" : null,
      "data-drag": state.gesture?.line === line && state.gesture.part === part ? "" : null,
    });
  }
}

/** The names and values of what can be focused, for ears. Not part of a frame: at the end of a move, and while one goes on now and then. */
export function label(state, sheet) {
  const { model } = state;
  const active = state.pick === "angle" || state.pick === "any";
  for (const element of sheet.angles.children) {
    put(element, { "aria-label": active ? angleName(model, element.dataset.name, state.measures) : null });
  }
  for (const element of sheet.handles.children) {
    const { line, part } = element.dataset;
    if (part === "a") put(element, { "aria-hidden": "true" }); // the other end of the same line says it all
    else if (part === "ring") put(element, slider("slide", line, Math.round(10 * (state.slides?.[line] ?? 0)), -100, 100));
    else put(element, slider("turn", line, round(model.lines[line].direction, 1), 0, 180));
  }
}

function slider(kind, line, value, low, high) {
  const text = kind === "turn" ? say("figure.turn_value", { degrees: value }) : say("figure.slide_value", { n: value / 10 });
  return {
    role: "slider",
    tabindex: 0,
    "aria-label": say(`figure.${kind}`, { line }),
    "aria-valuemin": low,
    "aria-valuemax": high,
    "aria-valuenow": Math.max(low, Math.min(high, value)),
    "aria-valuetext": text,
  };
}

function drawTrace(state, sheet, laid) {
  let d = "";
  if (state.path) {
    const [a, b] = state.path;
    if (laid.angles[a] && laid.angles[b]) d = pairPath(state.model, laid, namePair(state.model, a, b), a, b);
  }
  put(sheet.trace, { d: d || null, "data-pair": state.path?.join() ?? null });
}
