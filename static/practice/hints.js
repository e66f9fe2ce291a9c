// Three folded slips in the margin: where to look, what holds there, how it goes. Each is fetched when it is unfolded.

import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";

/** {element, reset()}; `fetchHint(level)` answers {text}. The next slip appears once the one before has been read. */
export function createHints(fetchHint, announce) {
  const element = h("div", { class: "hints" });

  function slip(level) {
    const text = h("p", {});
    const details = h("details", { class: "slip" }, h("summary", {}, say(`practice.hint_${level}`)), text);
    details.addEventListener("toggle", async () => {
      if (!details.open || text.textContent) return;
      try {
        write(text, (await fetchHint(level)).text);
        announce(text.textContent);
        if (level < 3 && element.children.length === level) element.append(slip(level + 1));
      } catch (error) {
        write(text, error.message);
      }
    });
    return details;
  }

  const reset = () => element.replaceChildren(slip(1));
  reset();
  return { element, reset };
}
