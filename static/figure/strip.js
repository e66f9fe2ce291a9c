// Below the paper: the numbers of the angles, and the line being worked on with its buttons and its number, so that all that a
// drag does can be done by taps, and typed.
import { say } from "../words/say.js";
import { degrees, measure, round } from "./model.js";
import { freedom } from "./moves.js";
import { write } from "../ui/svg.js";

function h(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (typeof value === "function") element.addEventListener(name, value);
    else element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

/** `act` holds: line(name), turnBy(n), turnTo(value), slideBy(n), undo(). Answers `{element, update(state), follow(state)}`. */
export function createStrip(names, act) {
  const lines = h("span", { class: "strip-lines", role: "group", "aria-label": say("figure.strip_line") });
  const buttons = new Map();
  for (const name of names) {
    const button = h(
      "button",
      { type: "button", class: "strip-line", click: () => act.line(name) },
      h("span", { class: "words" }, `${say("figure.strip_line")} `),
      name,
    );
    buttons.set(name, button);
    lines.append(button);
  }
  const press = (sign, click) => h("button", { type: "button", class: "strip-step", click }, sign);
  const less = press("−", () => act.turnBy(-1));
  const more = press("+", () => act.turnBy(1));
  const up = press("↖", () => act.slideBy(1));
  const down = press("↘", () => act.slideBy(-1));
  const field = h("input", {
    class: "strip-field",
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    size: "4",
    change: commit,
  });
  field.addEventListener("keydown", (event) => {
    if (event.key === "Enter") commit();
  });
  const turned = h("span", { class: "strip-now", "aria-hidden": "true" });
  const undo = h(
    "button",
    { type: "button", class: "plain strip-undo", "aria-label": say("figure.undo_long"), click: act.undo },
    say("figure.undo"),
  );
  const turn = h(
    "span",
    { class: "strip-part" },
    h("span", { class: "label" }, say("figure.strip_turn")),
    less,
    h("span", { class: "strip-turned" }, field, turned),
    h("span", { "aria-hidden": "true" }, "°"),
    more,
  );
  const slide = h("span", { class: "strip-part" }, h("span", { class: "label" }, say("figure.strip_slide")), up, down);
  const element = h(
    "div",
    { class: "figure-strip", role: "group", "aria-label": say("figure.strip") },
    lines,
    turn,
    slide,
    undo,
  );
  let shown = null;

  function commit() {
    const value = Number(field.value.replace(",", ".").replace("°", "").trim());
    if (field.value.trim() === "" || !Number.isFinite(value) || Math.abs(value) > 360) act.refuse();
    else act.turnTo(value);
    field.value = shown;
  }

  let known = "";

  function update(state) {
    const line = state.line;
    const now = directionOf(state);
    if (!state.gesture) turned.removeAttribute("data-on");
    if (now !== shown) {
      shown = now;
      field.value = now;
    }
    const none = Boolean(state.frozen) || !state.undo.length;
    if (undo.disabled !== none) undo.disabled = none;
    const key = `${line} ${Boolean(state.frozen)}`;
    if (key === known) return;
    known = key;
    const free = freedom(state.model, line);
    for (const [name, button] of buttons) button.setAttribute("aria-pressed", name === line);
    lines.hidden = names.length < 2;
    for (const [control, word] of [
      [less, "less"],
      [more, "more"],
      [up, "up"],
      [down, "down"],
      [field, "direction"],
    ]) {
      control.setAttribute("aria-label", say(`figure.strip_${word}`, { line }));
      control.disabled = Boolean(state.frozen) || (word === "up" || word === "down" ? !free.slide : !free.turn);
    }
  }

  /** In every frame of a drag: the number alone. */
  function follow(state) {
    write(turned, directionOf(state));
    if (!turned.hasAttribute("data-on")) turned.setAttribute("data-on", "");
  }

  return { element, update, follow };
}

function directionOf({ model, line }) {
  return `${round(model.lines[line].direction, 1)}`;
}

/** The measures of all angles as drawn, as a row of numbers. */
export function createValues() {
  const element = h("dl", { class: "figure-values", "aria-label": say("figure.values") });
  const shown = new Map();
  let picked = null;

  function update(state) {
    const names = Object.keys(state.model.angles);
    if (names.length !== shown.size || names.some((name) => !shown.has(name))) {
      element.replaceChildren();
      shown.clear();
      for (const name of names) {
        const value = h("dd");
        element.append(h("div", { "data-name": name }, h("dt", {}, `∠${name}`), value));
        shown.set(name, value);
      }
    }
    for (const name of names) write(shown.get(name), degrees(measure(state.model, name)));
    const now = `${state.picked} ${state.asked}`;
    if (now === picked) return;
    picked = now;
    for (const name of names) {
      shown.get(name).parentNode.toggleAttribute("data-picked", state.picked.includes(name));
      shown.get(name).parentNode.toggleAttribute("data-asked", state.asked.includes(name));
    }
  }

  return { element, update };
}
