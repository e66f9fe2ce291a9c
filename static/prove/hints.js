// Three folded slips in the margin: where to look, which theorem, the next row. Asked again, they speak of the rows as they are now.
import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";

const LEVELS = ["point", "principle", "show"];

export function createHints(ask, { onpoint, onwrite }) {
  const element = h("div", { class: "slips prove-slips" });
  const slips = LEVELS.map((level, i) => {
    const text = h("p", { class: "hint-text" });
    const row = h("p", {});
    const slip = h(
      "details",
      { class: "slip", hidden: i > 0 },
      h("summary", {}, say(`prove.hint_${i + 1}`)),
      text,
      row,
    );
    slip.addEventListener("toggle", async () => {
      if (!slip.open) return;
      row.replaceChildren();
      try {
        const hint = await ask(level);
        write(text, hint.text);
        onpoint?.([
          ...(hint.angles ?? []).map((name) => ({ kind: "angle", name })),
          ...(hint.lines ?? []).map((name) => ({ kind: "line", name })),
        ]);
        if (slips[i + 1]) slips[i + 1].hidden = false;
        if (hint.row && onwrite) {
          row.append(
            h(
              "button",
              {
                type: "button",
                class: "plain",
                onclick: () => {
                  onwrite(hint.row);
                  for (const one of slips) one.open = false;
                  slips.slice(1).forEach((one) => (one.hidden = true));
                },
              },
              say("prove.hint_put"),
            ),
          );
        }
      } catch (fault) {
        write(text, fault.message);
      }
    });
    return slip;
  });
  element.append(...slips);
  return { element };
}
