// Records: tables that sort by their columns, and erasing that asks once more.
import { send } from "../live/send.js";
import { load } from "../words/say.js";
import { lines, named, worded } from "./replies.js";

await load("desk");

for (const table of document.querySelectorAll("table[data-sortable]")) sortable(table);
for (const button of document.querySelectorAll("button[data-erase]")) erasing(button);
for (const button of document.querySelectorAll("button[data-reopen]")) button.addEventListener("click", () => reopen(button));

for (const place of document.querySelectorAll("[data-reply]")) {
  const task = JSON.parse(place.dataset.task);
  place.textContent = lines(place.dataset.kind, JSON.parse(place.dataset.reply), worded(named(task)), task).join("; ");
}

/** What was handed in at the bell may be handed in once more. The words stand in the button's place. */
async function reopen(button) {
  const told = document.createElement("span");
  told.className = "desk-facts";
  told.setAttribute("role", "status");
  try {
    await send("POST", button.dataset.reopen, { task: button.dataset.task });
    told.textContent = button.dataset.done;
    told.tabIndex = -1;
    button.replaceWith(told);
    told.focus();
  } catch (refusal) {
    told.textContent = refusal.message;
    button.after(told);
  }
}

function sortable(table) {
  const heads = [...table.tHead.rows[0].cells];
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
      const rows = [...table.tBodies[0].rows].sort((a, b) => compare(a.cells[i].textContent.trim(), b.cells[i].textContent.trim()));
      table.tBodies[0].append(...(down ? rows.reverse() : rows));
    });
  });
}

function compare(a, b) {
  return a.localeCompare(b, undefined, { numeric: true });
}

function erasing(button) {
  const words = button.textContent;
  const told = button.parentElement.querySelector('[role="status"]');
  let clock = 0;
  button.addEventListener("click", async () => {
    if (!clock) {
      button.textContent = button.dataset.sure;
      clock = setTimeout(rest, 6000);
      return;
    }
    rest();
    try {
      const { erased } = await send("POST", button.dataset.erase, {});
      told.textContent = button.dataset.done.replace("{what}", counts(erased));
      button.disabled = true;
      setTimeout(() => location.assign(button.dataset.then), 2500);
    } catch (refusal) {
      told.textContent = refusal.message;
      told.dataset.tone = "mend";
    }
  });

  function rest() {
    clearTimeout(clock);
    clock = 0;
    button.textContent = words;
  }
}

function counts(erased) {
  if (typeof erased !== "object" || erased === null) return `${erased}`;
  return Object.entries(erased).filter(([, n]) => n).map(([what, n]) => `${n} ${what}`).join(", ");
}
