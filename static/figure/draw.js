// Brings the SVG into step with the state: one layout, then only the attributes that changed. What belongs to a crossing (its
// sectors, its texts) lies in groups that are carried there, so that a crossing moves with two attributes and no text is laid out.
import { say } from "../words/say.js";
import { pairPath } from "./layout.js";
import { round } from "./model.js";
import { freedom } from "./moves.js";
import { namePair } from "./pairs.js";
import { lay, marksOf, namesOf, textsAt } from "./scene.js";
import { picks } from "./state.js";
import { keyed } from "../ui/elements.js";
import { carry, make, put, set, write } from "../ui/svg.js";

const f = (n) => Math.round(n * 10) / 10;

/** The layers of a figure, from the bottom up; and, by name, the elements that a drag moves. */
export function createSheet(svg) {
  const layer = (name, attributes = {}) => svg.appendChild(make("g", { class: `fig-${name}`, ...attributes }));
  return {
    trace: layer("trace").appendChild(make("path", { class: "trace", pathLength: 1 })),
    angles: layer("angles"),
    lines: layer("lines"),
    marks: layer("marks", { "aria-hidden": "true" }),
    meets: layer("meets"), // a group for each: its dot, and its texts over it
    names: layer("texts", { "aria-hidden": "true" }),
    handles: layer("handles"),
    shown: "", // which parts are seen
    by: { sectors: {}, meets: {}, angles: {}, lines: {}, texts: {}, handles: {} },
  };
}

/** Everything, as it is at rest. */
export function draw(state, sheet) {
  const laid = lay(state, null);
  const { angles, sectors } = drawAngles(state, sheet, laid);
  const lines = drawLines(state, sheet, laid);
  drawMarks(state, sheet, laid);
  const { meets, texts } = drawMeets(state, sheet, laid);
  drawNames(sheet, laid, texts);
  const handles = drawHandles(state, sheet, laid);
  drawTrace(state, sheet, laid);
  sheet.by = { angles, sectors, lines, meets, texts, handles };
  sheet.shown = seen(laid);
  sheet.drawn = laid;
}

export function setPlace(element, p) {
  set(element, "x", f(p[0]));
  set(element, "y", f(p[1]));
}

export function setEnds(element, { a, b }) {
  set(element, "x1", f(a[0]));
  set(element, "y1", f(a[1]));
  set(element, "x2", f(b[0]));
  set(element, "y2", f(b[1]));
}

/** What of a figure is on the paper: while that stays, a drag moves the elements there are. */
export function seen({ lines, meets, angles }) {
  let text = "";
  for (const name in lines) if (lines[name]) text += `${name} `;
  for (const name in meets) if (meets[name].seen) text += `${name}. `;
  for (const name in angles) if (angles[name]) text += `${name}: `;
  return text;
}

/** A thing that can be chosen is a button; one of its kind is in the tab order, the arrow keys go to the others. */
function button(state, kind, name, first) {
  const on = picks(state, kind);
  if (!on) return { role: null, tabindex: null, "aria-pressed": null };
  const picked = state.picked.includes(name);
  return {
    role: "button",
    tabindex: name === (state.roving?.[kind] ?? first) ? 0 : -1,
    "aria-pressed": picked ? "true" : "false",
  };
}

/** The crossings of the angles that are seen, each with the names of its angles. */
function byMeet(state, laid) {
  const found = {};
  for (const name in laid.angles) if (laid.angles[name]) (found[state.model.angles[name].at] ??= []).push(name);
  return found;
}

function drawAngles(state, sheet, laid) {
  const { marks } = state;
  const grouped = byMeet(state, laid);
  const sectors = keyed(sheet.angles, Object.keys(grouped), () => make("g"));
  for (const meet in grouped) carry(sectors[meet], laid.meets[meet].p);
  const names = Object.values(grouped).flat();
  const elements = {};
  for (const meet in grouped) Object.assign(elements, keyed(sectors[meet], grouped[meet], makeAngle));
  for (const name of names) {
    const angle = laid.angles[name];
    const mark = marks.angles?.[name];
    const right = marks.right?.find((one) => one.angle === name);
    put(elements[name], {
      "data-picked": state.picked.includes(name) ? "" : null,
      "data-asked": state.asked.includes(name) ? "" : null,
      "data-tone": mark?.tone ?? right?.tone ?? null,
      ...button(state, "angle", name, names[0]),
    });
    put(elements[name].parts[2], { d: angle.arcs || null });
    put(elements[name].parts[3], { d: angle.square });
    put(elements[name].parts[5], { d: angle.lead });
    drawSector(state, elements[name].parts, angle);
  }
  return { angles: elements, sectors };
}

function makeAngle(name) {
  const parts = ["hit", "fill", "arcs", "square", "outline", "lead"].map((kind) => make("path", { class: kind }));
  // What tells one angle from the next is said at once; its place and size follow when the hand rests.
  return Object.assign(make("g", { class: "angle", "data-kind": "angle", "data-name": name }, ...parts), { parts });
}

export function drawSector(state, [hit, fill, , , outline], angle) {
  const active = picks(state, "angle");
  put(hit, { d: active ? angle.hit : null });
  put(fill, { d: angle.fill });
  put(outline, { d: angle.outline });
}

function drawLines(state, sheet, laid) {
  const names = Object.keys(laid.lines).filter((name) => laid.lines[name]);
  const active = picks(state, "line");
  const elements = keyed(sheet.lines, names, (name) =>
    make(
      "g",
      { class: "line", "data-kind": "line", "data-name": name },
      make("line", { class: "line-hit" }),
      make("line", { class: "line-ink" }),
    ),
  );
  for (const name of names) {
    put(elements[name], {
      "data-picked": state.picked.includes(name) ? "" : null,
      "data-tone": state.marks.lines?.[name]?.tone ?? null,
      "data-held": state.held?.line === name || state.gesture?.line === name ? "" : null,
      ...button(state, "line", name, names[0]),
      "aria-label": active ? say("figure.line", { name }) : null,
    });
    setEnds(elements[name].firstChild, active ? laid.lines[name] : NOWHERE);
    setEnds(elements[name].lastChild, laid.lines[name]);
  }
  return elements;
}

const NOWHERE = { a: [0, 0], b: [0, 0] };

export function drawMarks(state, sheet, laid) {
  const wanted = marksOf(state, laid);
  const elements = keyed(sheet.marks, Object.keys(wanted), () => make("path"));
  for (const key in wanted) {
    const { kind, d, tone, fresh, drawn } = wanted[key];
    put(elements[key], {
      class: kind,
      d,
      "data-tone": tone,
      "data-fresh": fresh ? "" : null,
      pathLength: drawn ? 1 : null,
    });
  }
}

function drawMeets(state, sheet, laid) {
  const names = Object.keys(laid.meets).filter((name) => laid.meets[name].seen);
  const meets = keyed(sheet.meets, names, makeMeet);
  const active = picks(state, "meet");
  const texts = {};
  for (const name of names) {
    carry(meets[name], laid.meets[name].p);
    const [meet, beside] = meets[name].parts;
    put(meet, {
      "data-picked": state.picked.includes(name) ? "" : null,
      ...button(state, "meet", name, names[0]),
      "aria-label": active ? say("figure.meet", { name }) : null,
    });
    put(meet.lastElementChild, { r: round(3.2 * laid.sizes.k, 1) });
    drawTexts(beside, textsAt(state, laid, name), laid.sizes.k, texts);
  }
  return { meets, texts };
}

function makeMeet(name) {
  const meet = make(
    "g",
    { class: "meet", "data-kind": "meet", "data-name": name },
    make("circle", { class: "meet-hit", r: 14 }),
    make("circle", { class: "meet-dot" }),
  );
  const beside = make("g", { class: "fig-texts", "aria-hidden": "true" });
  return Object.assign(make("g", {}, meet, beside), { parts: [meet, beside] });
}

function drawNames(sheet, laid, into) {
  drawTexts(sheet.names, namesOf(laid), laid.sizes.k, into);
}

function drawTexts(host, wanted, k, into) {
  const elements = keyed(host, Object.keys(wanted), () => make("text"));
  for (const key in wanted) {
    const { p, text, size, tone, picked, asked, class: kind } = wanted[key];
    write(elements[key], text);
    put(elements[key], {
      x: f(p[0]),
      y: f(p[1]),
      class: kind,
      "font-size": round(size * k, 1),
      "data-tone": tone ?? null,
      "data-picked": picked ? "" : null,
      "data-asked": asked ? "" : null,
    });
  }
  Object.assign(into, elements);
}

export function handlePlace(laid, { line, part }) {
  const { grips, ring } = laid.lines[line];
  return part === "ring" ? ring : grips[part === "b" ? 1 : 0];
}

/** Whether a handle is one of the line in hand, but not the one that the hand has. */
export function away({ gesture }, { line, part }) {
  return Boolean(gesture) && gesture.line === line && gesture.part !== part;
}

function drawHandles(state, sheet, laid) {
  const wanted = {};
  for (const line of state.movable) {
    if (!laid.lines[line]) continue;
    const free = freedom(state.model, line);
    if (free.turn) {
      wanted[`${line} b`] = { line, part: "b" };
      wanted[`${line} a`] = { line, part: "a" };
    }
    if (free.slide) wanted[`${line} ring`] = { line, part: "ring" };
  }
  const elements = keyed(sheet.handles, Object.keys(wanted), (key) => {
    const ring = key.endsWith("ring");
    return make(
      "g",
      { class: `handle handle-${ring ? "ring" : "grip"}` },
      make("circle", { class: "handle-hit", r: 22 }),
      make("circle", { class: "handle-focus", r: ring ? 14 : 13 }),
      make("circle", { class: "handle-ink", r: ring ? 8 : 7 }),
    );
  });
  for (const key in wanted) {
    const { line, part } = wanted[key];
    wanted[key].element = elements[key];
    carry(elements[key], handlePlace(laid, wanted[key]));
    put(elements[key], {
      "data-line": line,
      "data-part": part,
      "data-held": state.held?.line === line && state.held.part === part ? "" : null,
      "data-drag": state.gesture?.line === line && state.gesture.part === part ? "" : null,
      "data-away": away(state, wanted[key]) ? "" : null,
    });
  }
  return wanted;
}

export function drawTrace(state, sheet, laid) {
  let d = "";
  if (state.path) {
    const [a, b] = state.path;
    if (laid.angles[a] && laid.angles[b]) d = pairPath(state.model, laid, namePair(state.model, a, b), a, b);
  }
  put(sheet.trace, { d: d || null, "data-pair": state.path?.join() ?? null });
}
