// Preparing a pack: the order of its parts, and which are left out. Each change is kept at once.
import { send } from "../live/send.js";
import { byId, find, pressed } from "../ui/elements.js";

const root = byId("prepare", HTMLElement);
const parts = byId("parts", HTMLElement);
const total = byId("total", HTMLElement);
const kept = byId("arranged", HTMLElement);

/** The parts in their order. */
function all() {
  return /** @type {HTMLElement[]} */ ([...parts.children]);
}

/** The buttons that would do nothing are off; the minutes count what is taught. */
function tidy() {
  const list = all();
  list.forEach((part, i) => {
    find(part, '[data-do="up"]', HTMLButtonElement).disabled = i === 0;
    find(part, '[data-do="down"]', HTMLButtonElement).disabled = i === list.length - 1;
  });
  const taught = list.filter((part) => !("hidden" in part.dataset));
  const minutes = (/** @type {boolean} */ optional) =>
    taught.reduce((sum, part) => sum + ("optional" in part.dataset === optional ? Number(part.dataset.minutes) : 0), 0);
  total.textContent = (total.dataset.words ?? "")
    .replace("{parts}", `${taught.length}`)
    .replace("{minutes}", `${minutes(false)}`)
    .replace("{more}", `${minutes(true)}`);
}

async function keep() {
  const body = {
    order: all().map((part) => part.dataset.part),
    parts: all().map((part) => ({ id: part.dataset.part, hidden: "hidden" in part.dataset })),
  };
  try {
    await send("POST", `/desk/pack/${root.dataset.pack}/arrange`, body);
    kept.textContent = kept.dataset.saved ?? "";
    kept.dataset.tone = "plain";
  } catch {
    kept.textContent = kept.dataset.failed ?? "";
    kept.dataset.tone = "mend";
  }
}

parts.addEventListener("click", (event) => {
  const button = /** @type {HTMLButtonElement | null} */ (pressed(event, "button[data-do]"));
  const part = button?.closest(".desk-part");
  if (!button || !(part instanceof HTMLElement)) return;
  if (button.dataset.do === "up") part.previousElementSibling?.before(part);
  if (button.dataset.do === "down") part.nextElementSibling?.after(part);
  if (button.dataset.do === "hide") {
    const hide = !("hidden" in part.dataset);
    part.toggleAttribute("data-hidden", hide);
    button.setAttribute("aria-pressed", `${hide}`);
  }
  tidy();
  // At either end the button just pressed is off now: the focus goes to its neighbour.
  (button.disabled ? find(part, "button:not(:disabled)", HTMLButtonElement) : button).focus();
  keep();
});

tidy();
