// Preparing a pack: the order of its parts, and which are left out. Each change is kept at once.
import { send } from "../live/send.js";

const root = document.getElementById("prepare");
const parts = document.getElementById("parts");
const total = document.getElementById("total");
const kept = document.getElementById("arranged");

function all() {
  return [...parts.children];
}

/** The buttons that would do nothing are off; the minutes count what is taught. */
function tidy() {
  const list = all();
  list.forEach((part, i) => {
    part.querySelector('[data-do="up"]').disabled = i === 0;
    part.querySelector('[data-do="down"]').disabled = i === list.length - 1;
  });
  const taught = list.filter((part) => !("hidden" in part.dataset));
  const minutes = (optional) => taught.reduce((sum, part) => sum + ("optional" in part.dataset === optional ? Number(part.dataset.minutes) : 0), 0);
  total.textContent = total.dataset.words.replace("{parts}", taught.length).replace("{minutes}", minutes(false)).replace("{more}", minutes(true));
}

async function keep() {
  const body = {
    order: all().map((part) => part.dataset.part),
    parts: all().map((part) => ({ id: part.dataset.part, hidden: "hidden" in part.dataset })),
  };
  try {
    await send("POST", `/desk/pack/${root.dataset.pack}/arrange`, body);
    kept.textContent = kept.dataset.saved;
    kept.dataset.tone = "plain";
  } catch {
    kept.textContent = kept.dataset.failed;
    kept.dataset.tone = "mend";
  }
}

parts.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-do]");
  if (!button) return;
  const part = button.closest(".desk-part");
  if (button.dataset.do === "up") part.previousElementSibling?.before(part);
  if (button.dataset.do === "down") part.nextElementSibling?.after(part);
  if (button.dataset.do === "hide") {
    const hide = !("hidden" in part.dataset);
    part.toggleAttribute("data-hidden", hide);
    button.setAttribute("aria-pressed", `${hide}`);
  }
  tidy();
  // At either end the button just pressed is off now: the focus goes to its neighbour.
  (button.disabled ? part.querySelector("button:not(:disabled)") : button).focus();
  keep();
});

tidy();
