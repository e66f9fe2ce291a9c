// Records: tables that sort by their columns, and erasing that asks once more.
import { messageOf, send } from "../live/send.js";
import { load, say } from "../words/say.js";
import { find } from "../ui/elements.js";
import { lines, named, worded } from "./replies.js";

await load("desk", "figure");

for (const table of /** @type {NodeListOf<HTMLTableElement>} */ (document.querySelectorAll("table[data-sortable]")))
  sortable(table);
for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll("button[data-erase]")))
  erasing(button);
for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll("button[data-reopen]"))) {
  button.addEventListener("click", () => reopen(button));
}

for (const place of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-reply]"))) {
  const { kind, task: asked = "null", reply = "null" } = place.dataset;
  const task = JSON.parse(asked);
  place.textContent = lines(kind, JSON.parse(reply), worded(named(task)), task).join("; ");
}

/**
 * What was handed in at the bell may be handed in once more. The words stand in the button's place.
 * @param {HTMLButtonElement} button
 */
async function reopen(button) {
  const told = document.createElement("span");
  told.className = "desk-facts";
  told.setAttribute("role", "status");
  try {
    await send("POST", button.dataset.reopen ?? "", { task: button.dataset.task });
    told.textContent = button.dataset.done ?? "";
    told.tabIndex = -1;
    button.replaceWith(told);
    told.focus();
  } catch (refusal) {
    told.textContent = messageOf(refusal);
    button.after(told);
  }
}

/** @param {HTMLTableElement} table */
function sortable(table) {
  const heads = [...(table.tHead?.rows[0].cells ?? [])];
  heads.forEach((head, i) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const rows = [...table.tBodies[0].rows].sort((a, b) => compare(a.cells[i], b.cells[i]));
      table.tBodies[0].append(...(down ? rows.reverse() : rows));
    });
  });
}

/** @param {HTMLTableCellElement} a @param {HTMLTableCellElement} b */
function compare(a, b) {
  return a.textContent.trim().localeCompare(b.textContent.trim(), undefined, { numeric: true });
}

/** @param {HTMLButtonElement} button */
function erasing(button) {
  const words = button.textContent;
  const told = find(button.parentElement ?? document, '[role="status"]', HTMLElement);
  let clock = 0;
  button.addEventListener("click", async () => {
    if (!clock) {
      button.textContent = button.dataset.sure ?? "";
      clock = setTimeout(rest, 6000);
      return;
    }
    rest();
    try {
      const { erased } = await send("POST", button.dataset.erase ?? "", {});
      told.textContent = (button.dataset.done ?? "").replace("{what}", counts(erased));
      button.disabled = true;
      setTimeout(() => location.assign(button.dataset.then ?? ""), 2500);
    } catch (refusal) {
      told.textContent = messageOf(refusal);
      told.dataset.tone = "mend";
    }
  });

  function rest() {
    clearTimeout(clock);
    clock = 0;
    button.textContent = words;
  }
}

/** @param {unknown} erased How many of each kind of thing are gone, or of one. */
function counts(erased) {
  if (typeof erased !== "object" || erased === null) return `${erased}`;
  return Object.entries(erased)
    .filter(([, n]) => n)
    .map(([what, n]) => say(`desk.erased_${what}`, { n }))
    .join(", ");
}
