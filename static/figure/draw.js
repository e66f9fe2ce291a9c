// The figure as SVG. Elements are made once for a figure; a frame only writes the attributes that changed.
import { say } from "../words/say.js";

const SVG = "http://www.w3.org/2000/svg";

export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** Write an attribute only when it differs from what was written last. */
export function put(element, name, value) {
  const seen = (element.seen ??= {});
  if (seen[name] === value) return;
  seen[name] = value;
  if (value === null) element.removeAttribute(name);
  else element.setAttribute(name, value);
}

let count = 0;

/** The skeleton for one figure; answers the elements by name. */
export function build(figure, { pick, movable, letters }) {
  const id = `figure-${(count += 1)}`;
  const parts = { lines: {}, angles: {}, meets: {}, handles: {} };
  parts.title = svg("title", { id: `${id}-title` });
  parts.desc = svg("desc", { id: `${id}-desc` });
  parts.root = svg("svg", { class: "figure", role: "graphics-document", "aria-labelledby": `${id}-title`, "aria-describedby": `${id}-desc`, focusable: "false" }, parts.title, parts.desc);
  const layer = (name) => {
    const group = svg("g", { class: `figure-${name}` });
    parts.root.append(group);
    return group;
  };
  const wedges = layer("wedges");
  parts.trace = svg("path", { class: "figure-trace" });
  parts.traceBack = svg("path", { class: "figure-trace figure-trace-back" });
  const lines = layer("lines");
  lines.append(parts.traceBack, parts.trace);
  const marks = layer("marks");
  parts.right = marks.appendChild(svg("g"));
  const texts = layer("texts");
  const handles = layer("handles");

  for (const name of Object.keys(figure.lines)) {
    const line = { stroke: svg("line", { class: "stroke" }), heads: svg("path", { class: "heads" }), arrows: svg("path", { class: "arrows" }), hit: svg("line", { class: "hit" }), name: svg("text", { class: "name" }) };
    line.name.textContent = name;
    line.group = svg("g", { class: "figure-line", "data-do": "line", "data-name": name }, line.hit, line.stroke, line.heads, line.arrows);
    objects(line.group, say("figure.line", { name }), pick === "line" || pick === "any");
    lines.append(line.group);
    texts.append(line.name);
    parts.lines[name] = line;
  }
  for (const name of Object.keys(figure.angles)) {
    const angle = { wedge: svg("path", { class: "wedge" }), arcs: svg("path", { class: "arcs" }), spot: svg("circle", { class: "spot", r: 17 }), text: svg("text", { class: "number" }) };
    angle.group = svg("g", { class: "figure-angle", "data-do": "angle", "data-name": name }, angle.wedge, angle.spot);
    objects(angle.group, say("figure.angle", { name }), pick === "angle" || pick === "any");
    wedges.append(angle.group);
    marks.append(angle.arcs);
    texts.append(angle.text);
    parts.angles[name] = angle;
  }
  for (const name of letters ? Object.keys(figure.meets) : []) {
    const meet = { dot: svg("circle", { class: "dot", r: 3.5 }), text: svg("text", { class: "letter" }), hit: svg("circle", { class: "hit", r: 20 }) };
    meet.text.textContent = name;
    meet.group = svg("g", { class: "figure-meet", "data-do": "meet", "data-name": name }, meet.hit, meet.dot);
    objects(meet.group, say("figure.meet", { name }), pick === "meet");
    texts.append(meet.group, meet.text);
    parts.meets[name] = meet;
  }
  for (const name of movable) parts.handles[name] = handle(handles, name);
  return parts;
}

/** What can be chosen is a button in the figure; the rest is an object with a name. */
export function objects(group, label, pickable) {
  put(group, "role", pickable ? "button" : "graphics-object");
  put(group, "aria-label", label);
  put(group, "aria-pressed", pickable ? "false" : null);
  put(group, "tabindex", pickable ? "-1" : null);
}

function handle(layer, name) {
  const grip = (end) => svg("g", { class: "grip", "data-do": "turn", "data-name": name, "data-end": end }, svg("circle", { class: "hit", r: 22 }), svg("circle", { class: "ring-focus", r: 16 }), svg("circle", { class: "knob", r: 8.5 }));
  const parts = { ends: [grip("-"), grip("+")], ring: svg("g", { class: "ring", "data-do": "slide", "data-name": name }, svg("circle", { class: "hit", r: 22 }), svg("circle", { class: "ring-focus", r: 19 }), svg("circle", { class: "hoop", r: 11 })) };
  // One slider a movement: the grip at the other end is the same one for the hand only.
  const slider = (element, label, least, most) => {
    for (const [key, value] of Object.entries({ role: "slider", tabindex: "0", "aria-label": label, "aria-valuemin": least, "aria-valuemax": most, "aria-valuenow": "0" })) element.setAttribute(key, value);
  };
  parts.ends[0].setAttribute("aria-hidden", "true");
  slider(parts.ends[1], say("figure.turn", { name }), "0", "179");
  slider(parts.ring, say("figure.slide", { name }), "-100", "100");
  layer.append(parts.ends[0], parts.ends[1], parts.ring);
  return parts;
}

/** Bring the elements to a layout. `look`: picked names, even lines, the held handle. */
export function update(parts, drawn, look) {
  for (const [name, line] of Object.entries(parts.lines)) {
    const d = drawn.lines[name];
    put(line.group, "visibility", d ? "visible" : "hidden");
    if (!d) continue;
    for (const element of [line.stroke, line.hit]) {
      put(element, "x1", round(d.from[0]));
      put(element, "y1", round(d.from[1]));
      put(element, "x2", round(d.to[0]));
      put(element, "y2", round(d.to[1]));
    }
    put(line.heads, "d", d.heads);
    put(line.arrows, "d", d.arrows);
    put(line.group, "data-tone", d.tone);
    put(line.group, "data-even", look.even.has(name) ? "true" : null);
    put(line.group, "data-picked", look.picked.has(`line ${name}`) ? "true" : null);
    place(line.name, d.label);
  }
  for (const [name, angle] of Object.entries(parts.angles)) {
    const d = drawn.angles[name];
    put(angle.wedge, "d", d.wedge);
    put(angle.arcs, "d", d.arcs);
    put(angle.arcs, "data-tone", d.tone);
    put(angle.group, "data-picked", look.picked.has(`angle ${name}`) ? "true" : null);
    put(angle.group, "data-tone", d.tone);
    write(angle.text, d.lines, d.text, look.font);
    put(angle.spot, "cx", d.text ? d.text[0] : round(d.at[0]));
    put(angle.spot, "cy", d.text ? d.text[1] : round(d.at[1]));
  }
  for (const [name, meet] of Object.entries(parts.meets)) {
    const d = drawn.meets[name];
    for (const element of [meet.dot, meet.hit]) {
      put(element, "cx", d.at[0]);
      put(element, "cy", d.at[1]);
    }
    put(meet.group, "data-picked", look.picked.has(`meet ${name}`) ? "true" : null);
    place(meet.text, d.text);
  }
  while (parts.right.childElementCount < drawn.right.length) parts.right.append(svg("path", { class: "square" }));
  while (parts.right.childElementCount > drawn.right.length) parts.right.lastElementChild.remove();
  drawn.right.forEach((mark, i) => {
    put(parts.right.children[i], "d", mark.path);
    put(parts.right.children[i], "data-tone", mark.tone);
  });
  for (const [name, handles] of Object.entries(parts.handles)) {
    const d = drawn.lines[name];
    if (!d?.grips) continue;
    handles.ends.forEach((grip, i) => put(grip, "transform", `translate(${round(d.grips[i][0])} ${round(d.grips[i][1])})`));
    put(handles.ring, "transform", `translate(${round(d.ring[0])} ${round(d.ring[1])})`);
    for (const part of [...handles.ends, handles.ring]) put(part, "data-held", look.held === part ? "true" : null);
  }
}

const round = (value) => Math.round(value * 10) / 10;

function place(text, at) {
  put(text, "x", at[0]);
  put(text, "y", at[1]);
}

/** One or two lines of text, centred on a point. */
function write(text, lines, at, font) {
  put(text, "visibility", at ? "visible" : "hidden");
  if (!at) return;
  while (text.childElementCount < lines.length) text.append(svg("tspan", { class: text.childElementCount ? "value" : "index" }));
  while (text.childElementCount > lines.length) text.lastElementChild.remove();
  lines.forEach((line, i) => {
    const span = text.children[i];
    if (span.textContent !== line) span.textContent = line;
    put(span, "x", at[0]);
    put(span, "y", Math.round((at[1] + (i - (lines.length - 1) / 2) * font * 1.08) * 10) / 10);
  });
}
