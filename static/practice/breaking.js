// A counterexample to be made: the lines of the figure are turned by hand, by buttons or by typing a measure, and where the
// statement speaks of "two angles" they are chosen in the figure or in two menus.

import { createFigure } from "../figure/figure.js";
import { measure, readFigure, round, writeFigure } from "../figure/model.js";
import { turned } from "../figure/moves.js";
import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { AnswerFault, readMeasure } from "./answers.js";

const [LEAST, MOST] = [14, 166]; // degrees that a crossing can be drawn at and read

/** The figure with that angle at `want` degrees, by turning the one line of its sides that may move; null where none may. */
export function withMeasure(figure, name, want, movable) {
  const model = readFigure(figure);
  const angle = model.angles[name];
  const line = [angle.from, angle.to].map((side) => side.slice(0, -1)).find((one) => movable.includes(one));
  if (!line) return null;
  const by = want - measure(model, name);
  for (const turn of [by, -by]) {
    const next = turned(model, line, model.lines[line].direction + turn);
    if (Math.abs(measure(next, name) - want) < 1e-6) return writeFigure(next);
  }
  return null;
}

let count = 0;

/** {view, blanks}: the figure on the paper, and what the card holds for it. */
export function createBreaking(paper, item, changed) {
  const [field, pick] = [
    item.fields.find((one) => one.kind === "figure"),
    item.fields.find((one) => one.kind === "angles"),
  ];
  let figure = item.figure;
  let chosen = [];
  let frozen = false;
  const view = createFigure(paper, {
    figure,
    marks: item.marks ?? undefined,
    movable: field.movable,
    measures: true,
    size: "seat",
    pick: pick ? "angle" : null,
    title: item.words?.title ?? "",
    description: item.words,
    onpick: ({ name }) =>
      choose(chosen.includes(name) ? chosen.filter((one) => one !== name) : [...chosen.slice(-1), name]),
    onchange: (next) => {
      figure = next;
      show();
      changed();
    },
  });
  const entries = field.entry.map(entry);
  const menus = pick ? [0, 1].map((i) => menu(i)) : [];
  const element = h(
    "div",
    { class: "blank breaking", role: "group", "aria-label": field.label },
    entries.map((one) => one.element),
    pick
      ? h(
          "div",
          { class: "blank-line" },
          h("span", { class: "label" }, pick.label),
          menus.flatMap((one) => [h("span", { class: "statement", "aria-hidden": "true" }, "∠"), one]),
        )
      : null,
  );

  /** The measure of one angle, which can be typed: the line of its side turns. */
  function entry(name) {
    const id = `measure-${(count += 1)}`;
    const note = h("p", { class: "blank-told", id: `${id}-told` });
    const input = h("input", {
      class: "field blank-number statement",
      id,
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      size: 4,
      "aria-describedby": note.id,
      onchange: () => turn(input.value),
      onkeydown: (event) => {
        if (event.key !== "Enter") return;
        event.preventDefault();
        turn(input.value);
      },
    });

    function turn(value) {
      let fault = "";
      try {
        const want = Number(readMeasure(`${value}`, `m∠${name}`));
        if (!Number.isInteger(want) || want < LEAST || want > MOST)
          fault = say("practice.measure_range", { least: LEAST, most: MOST });
        else move(withMeasure(view.get(), name, want, field.movable));
      } catch (error) {
        if (!(error instanceof AnswerFault)) throw error;
        fault = say(`practice.${error.code}`, error.fields);
      }
      show();
      input.setAttribute("aria-invalid", fault ? "true" : "false");
      write(note, fault);
    }

    const steps = [
      { by: -1, sign: "−1", key: "practice.less" },
      { by: 1, sign: "+1", key: "practice.more" },
    ].map(({ by, sign, key }) =>
      h(
        "button",
        {
          type: "button",
          class: "plain blank-step",
          "aria-label": say(key, { label: `m∠${name}` }),
          onclick: () => turn(size(name) + by),
        },
        sign,
      ),
    );
    return {
      name,
      input,
      steps,
      element: h(
        "div",
        { class: "blank-line" },
        h("label", { class: "statement", for: id }, `m∠${name} =`),
        input,
        h("span", { class: "statement" }, "°"),
        h("span", { class: "blank-steps" }, steps),
        note,
      ),
    };
  }

  const size = (name) => round(measure(view.model(), name), 2);

  function menu(i) {
    return h(
      "select",
      {
        class: "field statement",
        "aria-label": say(i ? "practice.angle_second" : "practice.angle_first"),
        onchange: (event) => {
          const next = [...chosen];
          next[i] = event.target.value;
          choose(next);
        },
      },
      h("option", { value: "" }, "…"),
      pick.angles.map((name) => h("option", { value: name }, name)),
    );
  }

  function move(next) {
    if (!next || frozen) return;
    figure = next;
    view.setFigure(next);
    changed();
  }

  function choose(names) {
    if (frozen) return;
    chosen = names;
    view.setPicked(chosen.filter(Boolean));
    show();
    changed();
  }

  function show() {
    for (const { name, input } of entries) input.value = `${size(name)}`;
    menus.forEach((one, i) => {
      // Only when it differs: a menu forgets what was typed when its value is set.
      if (one.value !== (chosen[i] ?? "")) one.value = chosen[i] ?? "";
    });
  }

  show();
  const blanks = [
    {
      name: field.name,
      element,
      value: () => figure,
      set(value) {
        if (!value?.lines) return;
        figure = value;
        view.setFigure(value);
        show();
      },
      mark() {},
      setFrozen(on) {
        frozen = on;
        view.setFrozen(on);
        for (const one of [...entries.flatMap(({ input, steps }) => [input, ...steps]), ...menus]) one.disabled = on;
      },
    },
  ];
  if (pick) {
    blanks.push({
      name: pick.name,
      element: null,
      value: () => (chosen.filter(Boolean).length === 2 ? chosen : ""),
      set(value) {
        if (Array.isArray(value)) choose(value);
      },
      mark() {},
      setFrozen() {},
    });
  }
  return { view, blanks };
}
