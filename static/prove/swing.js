// The other figure, beside the student's own: it starts as a copy and swings to where the givens hold and the claim fails.
import { createFigure } from "../figure/figure.js";
import { alike, between } from "../stage/between.js";
import { h } from "../ui/elements.js";
import { say } from "../words/say.js";

const TURN = 900; // ms; long enough to see which line goes where

/** A place beside the paper: `show(own, other, marks, caption)`, `look()`, `hide()`. */
export function createOther(paper) {
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let box = null;
  let view = null;
  let frame = 0;

  function hide() {
    cancelAnimationFrame(frame);
    view?.destroy();
    box?.remove();
    [view, box] = [null, null];
    delete paper.dataset.two;
  }

  function show(own, other, marks, caption) {
    hide();
    const ground = h("div", { class: "beside-figure" });
    box = h(
      "section",
      { class: "beside prove-other", "aria-label": caption },
      h(
        "p",
        { class: "beside-caption statement" },
        caption,
        " ",
        h("button", { type: "button", class: "plain", onclick: hide }, say("prove.other_close")),
      ),
      ground,
    );
    paper.append(box);
    paper.dataset.two = "true";
    const swings = !still.matches && alike(own, other);
    // Of sixteen angles only those are measured that the givens and the claim speak of: the rest would take the figure's room.
    const asked = Object.keys(marks.angles ?? {});
    view = createFigure(ground, {
      figure: swings ? own : other,
      marks,
      asked,
      measures: asked.length > 0,
      title: caption,
    });
    if (!swings) return;
    const began = performance.now();
    const step = (now) => {
      const k = Math.min(1, (now - began) / TURN);
      view.setFigure(k < 1 ? between(own, other, k < 0.5 ? 2 * k * k : 1 - 2 * (1 - k) ** 2) : other);
      frame = k < 1 ? requestAnimationFrame(step) : 0;
    };
    frame = requestAnimationFrame(step);
  }

  /** Brings the other figure into view, where the page scrolls as one. */
  const look = () => box?.scrollIntoView({ block: "nearest", behavior: still.matches ? "auto" : "smooth" });

  return { show, hide, look, shown: () => Boolean(box) };
}
