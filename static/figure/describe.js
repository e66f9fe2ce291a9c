// The figure in words, from the same model as the drawing. Parts are described; nothing is said to look like anything, and
// arrow marks are told by their shape, since what they mean may be what the task asks for. As app/figure/words.py.
import { say } from "../words/say.js";
import { back, between, fullTurn, heading, measure, order, ray, rayOff, rayOn, round, toward } from "./model.js";

const LONGEST = 124;

export function joined(names) {
  if (names.length < 2) return names.join("");
  return say("figure.and", { first: names.slice(0, -1).join(", "), last: names.at(-1) });
}

/** The transversal of a figure of two lines and a transversal, or null. */
export function cutting(model) {
  const names = Object.keys(model.lines);
  const on = (line) => named(model, line).length;
  if (names.length !== 3) return null;
  if (model.transversal) return on(model.transversal) === 2 ? model.transversal : null;
  const through = names.filter((line) => on(line) === 2);
  return through.length === 1 ? through[0] : null;
}

/** The meets of a line that have been given a name, or an angle. */
function named(model, line) {
  const used = new Set(Object.values(model.angles).map((angle) => angle.at));
  return order(model, line).filter((meet) => used.has(meet) || !model.lettered.includes(meet));
}

export function title(model) {
  const long = longTitle(model);
  const count = say(`figure.count_${Object.keys(model.lines).length}`);
  return long.length <= LONGEST ? long : say("figure.title_many", { count, meets: Object.keys(model.meets).length });
}

function longTitle(model) {
  const names = Object.keys(model.lines);
  const meets = Object.keys(model.meets);
  const t = cutting(model);
  if (t) {
    const [l, m] = names.filter((name) => name !== t);
    return say("figure.title_cut", { l, m, t });
  }
  if (names.length === 1) return say("figure.title_one", { l: names[0] });
  const count = say(`figure.count_${names.length}`);
  const lines = joined(names);
  if (!meets.length) return say("figure.title_apart", { count, lines });
  if (names.length === 2) return say("figure.title_cross", { l: names[0], m: names[1], at: meets[0] });
  if (meets.length === 1 && model.meets[meets[0]].lines.length === names.length)
    return say("figure.title_through", { count, at: meets[0], lines });
  if (names.length === 3 && meets.length === 3)
    return say("figure.title_triangle", { lines, a: meets[0], b: meets[1], c: meets[2] });
  return say("figure.title_network", { count, lines, meets: meets.length });
}

/** Where an angle lies: inside or outside and on which side of the transversal, else between which rays. */
export function place(model, name) {
  const angle = model.angles[name];
  const t = cutting(model);
  const on = t && rayOn(angle, t);
  if (on) {
    const other = named(model, t).find((meet) => meet !== angle.at);
    const inside = say(on === toward(model, t, angle.at, other) ? "figure.inside" : "figure.outside");
    return say("figure.place_cut", { inside, side: say(`figure.${sideOf(model, t, angle)}`), t, at: angle.at });
  }
  return say("figure.place_sides", {
    at: angle.at,
    one: side(model, angle, angle.from),
    other: side(model, angle, angle.to),
  });
}

function sideOf(model, t, angle) {
  const { direction } = model.lines[t];
  const left = between(model, `${t}+`, rayOff(angle, t)) < 180;
  if (direction >= 30 && direction <= 150) return left ? "left" : "right";
  return left === direction < 90 ? "above" : "below";
}

function side(model, angle, text) {
  const { line, sign } = ray(text);
  const on = named(model, line);
  const here = on.indexOf(angle.at);
  const ways = { "+": on.slice(here + 1), "-": on.slice(0, here).reverse() };
  if (ways[sign].length) return say("figure.ray_to", { line, meet: ways[sign][0] });
  if (ways[back(sign)].length) return say("figure.ray_from", { line, meet: ways[back(sign)][0] });
  const quarter = Math.floor(fullTurn(heading(model, text) + 45) / 90) % 4;
  return say(`figure.ray_${["right", "up", "left", "down"][quarter]}`, { line });
}

/** "angle 3, inside, left of t, at A: 65 degrees": the name of an angle that can be chosen. */
export function angleName(model, name, values) {
  const value = values ? say("figure.value", { degrees: inWords(measure(model, name)) }) : "";
  return say("figure.angle_name", { name: spaced(name), place: place(model, name), value });
}

/** "65 degrees", "1 degree". */
export function inWords(value) {
  const n = round(value, 1);
  return say(n === 1 ? "figure.degree" : "figure.degrees", { n });
}

export function spaced(name) {
  return /^\d+$/.test(name) ? name : [...name].join(" ");
}

/** The parts of the description, from the general to the particular. */
export function parts(model, { marks = {}, values = false } = {}) {
  return [...crossings(model), ...angles(model, marks, values), ...marked(model, marks)];
}

export function describe(model, options) {
  return { title: title(model), parts: parts(model, options) };
}

function crossings(model) {
  const told = new Set();
  const found = [];
  const t = cutting(model) ?? model.transversal;
  const lines = Object.keys(model.lines).sort(
    (a, b) => Number(b === t) - Number(a === t) || named(model, b).length - named(model, a).length,
  );
  for (const line of lines) {
    const here = named(model, line);
    if (model.lines[line].direction !== 0) here.reverse();
    if (here.length < 2 || here.every((meet) => told.has(meet))) continue;
    const list = here.map((meet) => {
      told.add(meet);
      return say("figure.crossing", {
        line: joined(model.meets[meet].lines.filter((other) => other !== line)),
        at: meet,
      });
    });
    found.push(say("figure.crosses", { line, crossings: joined(list) }));
  }
  // A crossing that no line has beside another one.
  const alone = Object.keys(model.meets).filter(
    (meet) => !told.has(meet) && model.meets[meet].lines.some((line) => named(model, line).includes(meet)),
  );
  if (Object.keys(model.meets).length > 1)
    for (const at of alone) found.push(say("figure.cross_at", { lines: joined(model.meets[at].lines), at }));
  return found;
}

function angles(model, marks, values) {
  return Object.keys(model.angles).map((name) => {
    const label = marks.angles?.[name]?.label;
    let value = "";
    if (label) value = say("figure.label", { label });
    else if (values) value = say("figure.value", { degrees: inWords(measure(model, name)) });
    return say("figure.angle", { name: spaced(name), place: place(model, name), value });
  });
}

function marked(model, marks) {
  const found = [];
  for (const [count, list] of byCount(marks.angles, "arcs")) {
    found.push(say("figure.arcs", { count: say(`figure.arc_${count}`), names: joined(list.map(spaced)) }));
  }
  for (const { angle } of marks.right ?? []) found.push(say("figure.square", { name: spaced(angle) }));
  for (const [, list] of byCount(marks.segments, "ticks")) found.push(say("figure.ticks", { names: joined(list) }));
  const arrows = byCount(marks.lines, "arrows");
  for (const [, list] of arrows) found.push(say("figure.arrows", { names: joined(list) }));
  if (!arrows.size && Object.keys(model.lines).length > 2) found.push(say("figure.arrows_none"));
  return found;
}

/** The names of what is marked once, twice, …: a map from the count. */
function byCount(things, key) {
  const found = new Map();
  for (const [name, mark] of Object.entries(things ?? {})) {
    if (mark[key]) found.set(mark[key], [...(found.get(mark[key]) ?? []), name]);
  }
  return found;
}
