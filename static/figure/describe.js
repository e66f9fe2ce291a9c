// The figure in words, from the model and the marks only: never what it looks like (users.md D-3, D-4).
import { lineOf, measure, order } from "./model.js";
import { rayOff } from "./pairs.js";
import { say } from "../words/say.js";

const list = (names) => names.join(", ");

/** One sentence a part. `measured`: angle → text shown with it, if any. */
export function describe(figure, { marks = {}, measured = {} } = {}) {
  const out = [say("figure.lines_are", { lines: list(Object.keys(figure.lines)) })];
  for (const [name, meet] of Object.entries(figure.meets)) out.push(say("figure.meet_is", { name, lines: list(meet.lines) }));
  for (const name of Object.keys(figure.lines)) {
    const on = order(figure, name);
    if (on.length > 2) out.push(say("figure.order_is", { name, meets: list(on) }));
  }
  for (const [name, angle] of Object.entries(figure.angles)) out.push(angleWords(figure, name, angle, measured[name]));
  for (const [name, mark] of Object.entries(marks.angles ?? {})) if (mark.arcs) out.push(say("figure.arcs_are", { name, n: mark.arcs }));
  for (const [name, mark] of Object.entries(marks.lines ?? {})) if (mark.arrows) out.push(say("figure.arrows_are", { name, n: mark.arrows }));
  for (const mark of marks.right ?? []) out.push(say("figure.right_is", { name: mark.angle }));
  return out.join(" ");
}

function angleWords(figure, name, angle, text) {
  const t = figure.transversal;
  const where = t && figure.meets[angle.at].lines.includes(t) ? place(figure, angle, t) : say("figure.between", { one: lineOf(angle.from), other: lineOf(angle.to) });
  return say(text ? "figure.angle_is_measured" : "figure.angle_is", { name, at: angle.at, where, text });
}

/** "inside, left of t": by the transversal, as the lesson says it. */
function place(figure, angle, t) {
  const on = order(figure, t);
  const other = rayOff(angle, t);
  const along = [angle.from, angle.to].find((ray) => lineOf(ray) === t);
  const i = on.indexOf(angle.at);
  const inside = on.length === 2 && (along.endsWith("+") ? i === 0 : i === 1);
  const way = figure.lines[lineOf(other)].direction + (other.endsWith("-") ? 180 : 0) - figure.lines[t].direction;
  const left = ((way % 360) + 360) % 360 < 180;
  const side = say(left ? "figure.left" : "figure.right", { t });
  if (on.length !== 2) return side;
  return say(inside ? "figure.inside" : "figure.outside", { side });
}

/** Measures to be shown or said: whole degrees, or one decimal with a mark that it is rounded. */
export function degreesOf(figure, name) {
  const size = measure(figure, name);
  const whole = Math.round(size);
  return Math.abs(size - whole) < 1e-9 ? `${whole}°` : `≈ ${Math.round(size * 10) / 10}°`;
}
