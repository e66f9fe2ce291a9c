// What a figure says beside what it shows: texts for the live region and the description under the figure, not too often; and the
// names and values of what can be focused.
import { say } from "../words/say.js";
import { angleName, describe, joined } from "./describe.js";
import { measure, round } from "./model.js";
import { put, write } from "./svg.js";

const PATIENCE = 500; // ms between two texts for ears

/** `told` is a live region; `tell(text)` says the newest text there, at most twice a second. */
export function createVoice(told, state) {
  let speaking = 0;
  let last = 0;

  function tell(text) {
    clearTimeout(speaking);
    const wait = Math.max(0, last + PATIENCE - performance.now());
    speaking = setTimeout(() => {
      last = performance.now();
      if (told.textContent === text) told.textContent = "";
      told.textContent = text;
    }, wait);
  }

  /** Where a line has come to, with the measures where they are shown; `extra` first. */
  function tellMove(line, stopped, extra) {
    const direction = round(state.model.lines[line].direction, 1);
    const names = Object.keys(state.model.angles);
    const measures = state.measures ? `${joined(names.map((name) => say("figure.one_measure", { name, degrees: round(measure(state.model, name), 1) })))}.` : "";
    const text = say(measures ? "figure.moved_measures" : "figure.moved", { line, degrees: direction, measures });
    tell([extra, stopped ? say("figure.stopped", { line }) : "", text].filter(Boolean).join(" "));
  }

  return { tell, tellMove, stop: () => clearTimeout(speaking) };
}

/** The description in `words`: at once the first time, after that at most twice a second and with the newest figure. */
export function createDescription(words, state, first) {
  let waiting = 0;

  function now() {
    clearTimeout(waiting);
    waiting = 0;
    const given = !state.changed && first;
    write(words, given ? textOf(first) : describe(state.model, { marks: state.marks, values: state.measures }));
  }

  function soon() {
    if (!waiting) waiting = setTimeout(now, words.textContent ? PATIENCE : 0);
  }

  return { now, soon, stop: () => clearTimeout(waiting) };
}

function textOf(description) {
  return typeof description === "string" ? description : (description.text ?? "");
}

/** The names and values of what can be focused, for ears. Not part of a frame: at the end of a move, and while one goes on now and then. */
export function label(state, sheet) {
  const { model } = state;
  const active = state.pick === "angle" || state.pick === "any";
  for (const name in sheet.by.angles) put(sheet.by.angles[name], { "aria-label": active ? angleName(model, name, state.measures) : null });
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
