// The strip under a figure: every movement by buttons and a number field, one line at a time.
import { h, set, write } from "../desk/dom.js";
import { say } from "../words/say.js";

/** `act`: turnTo(line, degrees), turnBy(line, degrees), slideBy(line, steps), undo(). Answers `{update(figure, canUndo), element}`. */
export function createControls(movable, act) {
  let chosen = movable.includes("t") ? "t" : movable[0];
  let figure = null;
  const button = (text, label, press) => h("button", { type: "button", class: "plain figure-step", "aria-label": label ? say(label) : null, onclick: press }, text);
  const choose = movable.map((name) =>
    h("button", { type: "button", class: "plain figure-choose", "data-name": name, onclick: () => pick(name) }, say("figure.line", { name })),
  );
  const degrees = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", class: "field figure-degrees", id: `degrees-${Math.random().toString(36).slice(2, 8)}` });
  const undo = button(say("figure.undo"), null, () => act.undo());
  const element = h(
    "div",
    { class: "figure-controls", role: "group", "aria-label": say("figure.controls") },
    movable.length > 1 ? h("span", { class: "figure-lines-choice", role: "group", "aria-label": say("figure.which") }, choose) : null,
    h(
      "span",
      { class: "figure-turning" },
      button("−", "figure.turn_less", () => act.turnBy(chosen, -1)),
      h("label", { class: "words", for: degrees.id }, say("figure.direction")),
      degrees,
      h("span", { "aria-hidden": "true" }, "°"),
      button("+", "figure.turn_more", () => act.turnBy(chosen, 1)),
    ),
    h("span", { class: "figure-sliding" }, button(say("figure.one_way"), "figure.slide_one", () => act.slideBy(chosen, -1)), button(say("figure.other_way"), "figure.slide_other", () => act.slideBy(chosen, 1))),
    undo,
  );

  degrees.addEventListener("change", () => {
    const value = Number(degrees.value.trim().replace(",", ".").replace("°", ""));
    if (degrees.value.trim() && Number.isFinite(value)) act.turnTo(chosen, value);
    fill();
  });
  degrees.addEventListener("keydown", (event) => {
    const by = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
    if (!by) return;
    event.preventDefault();
    act.turnBy(chosen, by);
  });

  function pick(name) {
    chosen = name;
    fill();
  }

  function fill() {
    for (const one of choose) set(one, { "aria-pressed": one.dataset.name === chosen ? "true" : "false" });
    const now = figure?.lines[chosen]?.direction;
    if (now !== undefined) degrees.value = `${Math.round(now * 100) / 100}`;
  }

  return {
    element,
    pick,
    update(next, canUndo) {
      figure = next;
      if (document.activeElement !== degrees || Number(degrees.value) !== figure.lines[chosen]?.direction) fill();
      undo.disabled = !canUndo;
      write(undo, say("figure.undo"));
    },
  };
}
