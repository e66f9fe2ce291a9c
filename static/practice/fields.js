// The blanks of an exercise: choices as native radios, a number with its unit and two small buttons, rows to be put in order.

import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { AnswerFault, readMeasure } from "./answers.js";

let count = 0;

/** One blank: {element, value(), set(value), mark(part), setFrozen(on)}; `changed` is called on every change. */
export function createField(field, changed) {
  count += 1;
  const made = { choice: choiceField, number: numberField, order: () => null }[field.kind](
    field,
    changed,
    `blank-${count}`,
  );
  return made;
}

function told(id) {
  return h("p", { class: "blank-told", id, "aria-live": "off" });
}

/** A long list of long names is a menu, so that the way to hand in stays in view; a short one lies open. */
function choiceField(field, changed, id) {
  const long = field.choices.length > 5 && field.choices.some((c) => c.text.length > 27);
  return (long ? menuField : openField)(field, changed, id);
}

function menuField(field, changed, id) {
  const note = told(`${id}-told`);
  const name = h("span");
  const whole = h("p", { class: "blank-whole", "aria-hidden": "true" }, name);
  // A browser cuts off a chosen name that is longer than its menu: then the name stands below it as well.
  const fit = () => {
    write(name, select.value ? select.selectedOptions[0].text : "");
    delete whole.dataset.cut;
    const style = getComputedStyle(select);
    if (name.offsetWidth > select.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight))
      whole.dataset.cut = "1";
  };
  const select = h(
    "select",
    {
      class: "field",
      id,
      "aria-describedby": note.id,
      onchange: () => {
        fit();
        changed();
      },
    },
    h("option", { value: "" }, say("practice.choose")),
    field.choices.map((choice) => h("option", { value: choice.value }, choice.text)),
  );
  const element = h(
    "div",
    { class: "blank blank-menu" },
    h(
      "label",
      { class: "label", for: id },
      field.label,
      field.optional ? h("span", { class: "blank-free" }, ` ${say("practice.free")}`) : null,
    ),
    select,
    whole,
    note,
  );
  new ResizeObserver(fit).observe(select);
  return {
    name: field.name,
    element,
    value: () => select.value,
    set(value) {
      select.value = value;
      fit();
    },
    mark(part) {
      markBlank(element, note, part);
    },
    setFrozen(on) {
      select.disabled = on;
    },
  };
}

function openField(field, changed, id) {
  const note = told(`${id}-told`);
  const inputs = field.choices.map((choice, i) =>
    h("input", {
      type: "radio",
      name: id,
      id: `${id}-${i}`,
      value: choice.value,
      onchange: changed,
    }),
  );
  const wide = field.choices.some((c) => c.text.length > 14);
  const element = h(
    "fieldset",
    { class: `choices blank${wide ? "" : " blank-short"}`, "aria-describedby": note.id },
    h(
      "legend",
      { class: "label" },
      field.label,
      field.optional ? h("span", { class: "blank-free" }, ` ${say("practice.free")}`) : null,
    ),
    h(
      "div",
      { class: "blank-choices" },
      field.choices.map((choice, i) => h("label", { for: `${id}-${i}` }, inputs[i], h("span", {}, choice.text))),
    ),
    note,
  );
  return {
    name: field.name,
    element,
    value: () => inputs.find((input) => input.checked)?.value ?? "",
    set(value) {
      for (const input of inputs) input.checked = input.value === value;
    },
    mark(part) {
      markBlank(element, note, part);
    },
    setFrozen(on) {
      for (const input of inputs) input.disabled = on;
    },
    watch(show) {
      // A figure that follows the choice under the pointer or the focus, for those who like to see it.
      for (const input of inputs) input.addEventListener("focus", () => show(input.value));
    },
  };
}

function numberField(field, changed, id) {
  const note = told(`${id}-told`);
  const input = h("input", {
    class: "field blank-number statement",
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    spellcheck: "false",
    size: 7,
    "aria-describedby": note.id,
    oninput: () => {
      check();
      changed();
    },
  });
  const none = field.none
    ? h("input", {
        type: "checkbox",
        id: `${id}-none`,
        onchange: () => {
          input.disabled = none.checked;
          changed();
        },
      })
    : null;
  const step = (by) => () => {
    let now;
    try {
      now = Number(readMeasure(input.value || "0", field.label));
    } catch {
      return;
    }
    if (!Number.isInteger(now)) return;
    input.value = `${now + by}`;
    check();
    changed();
  };
  const buttons = [
    { by: -1, sign: "−1", key: "practice.less" },
    { by: 1, sign: "+1", key: "practice.more" },
  ].map(({ by, sign, key }) =>
    h(
      "button",
      {
        type: "button",
        class: "plain blank-step",
        "aria-label": say(key, { label: field.label }),
        onclick: step(by),
      },
      sign,
    ),
  );

  /** Say at once where a text can't be read, and say nothing of whether it is right. */
  function check() {
    let fault = "";
    if (input.value.trim()) {
      try {
        readMeasure(input.value, field.label);
      } catch (error) {
        if (!(error instanceof AnswerFault)) throw error;
        fault = say(`practice.${error.code}`, error.fields);
      }
    }
    input.setAttribute("aria-invalid", fault ? "true" : "false");
    note.dataset.ok = "";
    write(note, fault);
  }

  const element = h(
    "div",
    { class: "blank blank-line" },
    h("label", { class: "statement", for: id }, `${field.label} =`),
    input,
    field.unit ? h("span", { class: "statement" }, field.unit) : null,
    h("span", { class: "blank-steps" }, buttons),
    none ? h("label", { class: "blank-none", for: none.id }, none, h("span", {}, field.none)) : null,
    note,
  );
  return {
    name: field.name,
    element,
    value: () => (none?.checked ? "none" : input.value.trim()),
    set(value) {
      if (none) none.checked = value === "none";
      input.value = value === "none" ? "" : value;
      input.disabled = Boolean(none?.checked);
    },
    mark(part) {
      markBlank(element, note, part);
    },
    setFrozen(on) {
      for (const part of [input, none, ...buttons])
        if (part) part.disabled = on || (part === input && Boolean(none?.checked));
    },
  };
}

function markBlank(element, note, part) {
  if (part) element.dataset.ok = part.ok;
  else delete element.dataset.ok;
  note.dataset.ok = part ? `${part.ok}` : "";
  write(note, part ? `${part.ok ? "✓" : "✗"} ${part.text}` : "");
}
