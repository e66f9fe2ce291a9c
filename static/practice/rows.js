// The rows of a proof: shown as the ruled book, or as rows to be put in order by moving them up and down.

import { h } from "../ui/elements.js";
import { say } from "../words/say.js";
import { said } from "../words/statement.js";

/** The proof as a table. A row without its reason says so. */
export function proofTable(rows) {
  return h(
    "table",
    { class: "book exercise-book" },
    h("caption", { class: "words" }, say("practice.proof_table")),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, say("practice.row")),
        h("th", { scope: "col" }, say("practice.statement")),
        h("th", { scope: "col" }, say("practice.reason")),
      ),
    ),
    h(
      "tbody",
      {},
      rows.map((row) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, row.label),
          h("td", { class: "statement" }, said(row.statement)),
          h("td", { class: row.reason ? "" : "row-lost" }, row.reason || say("practice.reason_lost")),
        ),
      ),
    ),
  );
}

/** Rows to be ordered: {name, element, value() → [labels], set([labels]), mark(part), setFrozen(on)}. */
export function createOrder(field, rows, changed, announce) {
  let order = rows.map((row) => row.label);
  let frozen = false;
  const byLabel = new Map(rows.map((row) => [row.label, row]));
  const list = h("ol", { class: "order" });
  const element = h("section", { class: "blank" }, h("h2", { class: "label" }, field.label), list);
  const items = new Map(rows.map((row) => [row.label, item(row)]));

  function item(row) {
    const button = (by, sign, key) =>
      h(
        "button",
        {
          type: "button",
          class: "plain order-move",
          "aria-label": say(key, { label: row.label }),
          onclick: (event) => move(row.label, by, event),
        },
        sign,
      );
    const up = button(-1, "↑", "practice.move_up");
    const down = button(1, "↓", "practice.move_down");
    return {
      up,
      down,
      li: h(
        "li",
        { class: "order-row" },
        h("span", { class: "order-label" }, row.label),
        h(
          "span",
          { class: "order-words" },
          h("span", { class: "statement" }, said(row.statement)),
          h("span", { class: "order-reason" }, row.reason),
        ),
        h("span", { class: "order-moves" }, up, down),
      ),
    };
  }

  function move(label, by, event) {
    const at = order.indexOf(label);
    const to = at + by;
    if (to < 0 || to >= order.length) return;
    order.splice(at, 1);
    order.splice(to, 0, label);
    draw();
    event.currentTarget.focus();
    announce(say("practice.moved", { label, n: to + 1 }));
    changed();
  }

  function draw() {
    delete element.dataset.ok;
    list.replaceChildren(...order.map((label) => items.get(label).li));
    order.forEach((label, i) => {
      const { up, down } = items.get(label);
      up.setAttribute("aria-disabled", i === 0);
      down.setAttribute("aria-disabled", i === order.length - 1);
      up.disabled = down.disabled = frozen;
    });
  }

  draw();
  return {
    name: field.name,
    element,
    value: () => [...order],
    set(labels) {
      if (Array.isArray(labels) && labels.length === order.length && labels.every((label) => byLabel.has(label)))
        order = [...labels];
      draw();
    },
    mark(part) {
      if (part) element.dataset.ok = part.ok;
      else delete element.dataset.ok;
    },
    setFrozen(on) {
      frozen = on;
      draw();
    },
  };
}
