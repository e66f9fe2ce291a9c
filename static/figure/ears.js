// What a figure says beside what it shows: texts for the live region and the description under the figure, not too often; and the
// names and values of what can be focused.
import { say } from "../words/say.js";
import { angleName, describe, inWords, joined, spaced } from "./describe.js";
import { measure, parallels, round, unit } from "./model.js";
import { picks } from "./state.js";
import { put } from "../ui/svg.js";

const apart = (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]);

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

  /** The measures that are no longer what they were in `before`. */
  function changed(before, model) {
    const names = Object.keys(model.angles).filter(
      (name) => name in before.angles && round(measure(model, name) - measure(before, name), 1),
    );
    return names.length
      ? say("figure.changed", {
          measures: joined(
            names.map((name) =>
              say("figure.one_measure", { name: spaced(name), degrees: inWords(measure(model, name)) }),
            ),
          ),
        })
      : "";
  }

  /** What a move has changed, and why it went no farther; `extra` first. */
  function tellMove(line, why, extra, before) {
    const [was, now] = [before.lines[line], state.model.lines[line]];
    let text = "";
    if (was.direction !== now.direction) text = say("figure.moved", { line, degrees: inWords(now.direction) });
    else if (apart(was.through, now.through) > 1e-6)
      text = say("figure.slid", { line, place: slidePlace(now.direction, slideOf(state, line)) });
    const said = [
      extra,
      why ? say(`figure.stopped_${why}`, { line }) : "",
      text,
      state.measures ? changed(before, state.model) : "",
    ]
      .filter(Boolean)
      .join(" ");
    if (said) tell(said);
  }

  /** What somebody else has changed of a figure. */
  function tellFrom(before, after, sized) {
    const { lines } = after;
    const pairs = (model) => parallels(model).map((pair) => pair.join());
    const found = [];
    for (const [l, m] of parallels(after))
      if (!pairs(before).includes(`${l},${m}`)) found.push(say("figure.parallel_told", { l, m }));
    for (const [l, m] of parallels(before))
      if (l in lines && m in lines && !pairs(after).includes(`${l},${m}`))
        found.push(say("figure.parallel_left", { l, m }));
    for (const line of Object.keys(lines)) {
      const was = before.lines[line];
      if (was && was.direction !== lines[line].direction)
        found.push(say("figure.moved", { line, degrees: inWords(lines[line].direction) }));
    }
    if (sized) found.push(changed(before, after));
    const said = found.filter(Boolean).join(" ");
    if (said) tell(said);
  }

  return { tell, tellMove, tellFrom, stop: () => clearTimeout(speaking) };
}

/** The description in `words`: at once the first time, after that at most twice a second and with the newest figure. */
export function createDescription(words, state, first) {
  let waiting = 0;

  let shown = "";

  function now() {
    clearTimeout(waiting);
    waiting = 0;
    const given = !state.changed && first;
    const { title, parts } = given
      ? partsOf(first)
      : describe(state.model, { marks: state.marks, values: state.measures || state.sized });
    const key = [title, ...parts].join("\n");
    if (key === shown) return;
    shown = key;
    const line = (tag, text) => Object.assign(document.createElement(tag), { textContent: text });
    const list = document.createElement("ul");
    list.append(...parts.map((part) => line("li", part)));
    words.replaceChildren(...(title ? [line("p", title)] : []), ...(parts.length ? [list] : []));
  }

  function soon() {
    if (!waiting) waiting = setTimeout(now, shown ? PATIENCE : 0);
  }

  return { now, soon, stop: () => clearTimeout(waiting) };
}

function partsOf(description) {
  if (typeof description !== "string") return { title: description.title ?? "", parts: description.parts ?? [] };
  // As one text (app/figure/words.py): a title, then a line with a dash for each part.
  const [title, ...parts] = description.split("\n- ");
  return { title, parts };
}

/** How far a line has been slid from where the figure was born, to the left of its direction. */
export function slideOf({ born, model }, name) {
  const [old, now] = [born.lines[name], model.lines[name]];
  if (!old) return 0;
  const u = unit(now.direction);
  return round(-(now.through[0] - old.through[0]) * u[1] + (now.through[1] - old.through[1]) * u[0], 1);
}

/** "0.8 units up from where it was". */
function slidePlace(direction, n) {
  if (!n) return say("figure.slide_none");
  const ways = direction <= 45 ? ["up", "down"] : direction < 135 ? ["left", "right"] : ["down", "up"];
  return say("figure.slide_value", { n: Math.abs(n), way: say(`figure.way_${ways[n > 0 ? 0 : 1]}`) });
}

/** The names and values of what can be focused, for ears. Not part of a frame: at the end of a move, and while one goes on now and then. */
export function label(state, sheet) {
  const { model } = state;
  const active = picks(state, "angle");
  for (const name in sheet.by.angles)
    put(sheet.by.angles[name], { "aria-label": active ? angleName(model, name, state.measures) : null });
  for (const element of sheet.handles.children) {
    const { line, part } = element.dataset;
    if (part === "a")
      put(element, { "aria-hidden": "true" }); // the other end of the same line says it all
    else if (part === "ring")
      put(
        element,
        slider(
          "slide",
          line,
          Math.round(10 * slideOf(state, line)),
          -100,
          100,
          slidePlace(model.lines[line].direction, slideOf(state, line)),
        ),
      );
    else
      put(
        element,
        slider(
          "turn",
          line,
          round(model.lines[line].direction, 1),
          0,
          180,
          say("figure.turn_value", { degrees: inWords(model.lines[line].direction) }),
        ),
      );
  }
}

function slider(kind, line, value, low, high, text) {
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
