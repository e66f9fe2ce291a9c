// The teacher's figure, mirrored: few updates a second arrive, and the lines glide from one to the next.
import { createFigure } from "../figure/figure.js";
import { parallels, readFigure } from "../figure/model.js";
import { alike, between } from "./between.js";

const REST = 700; // ms without an update that count as the teacher's hand at rest
const GLIDE = 130; // ms; updates come at most every 100 ms, so the mirror is never more than one behind

/** A figure that follows: `move(figure, marks)` glides there. Used by the figure and the task stage. */
export function follower(host, first, ctx) {
  let shown = first.figure;
  let from = shown;
  let to = shown;
  let began = 0;
  let frame = 0;
  let heard = shown; // the figure that ears know
  let resting = 0;
  let even = parallels(readFigure(shown)).join(" ");
  const seat = ctx.size !== "board";
  const view = createFigure(host, {
    figure: shown,
    marks: first.marks ?? {},
    movable: [],
    measures: Boolean(first.measures),
    notToScale: Boolean(first.not_to_scale),
    // At a seat it is heard what the teacher does: that lines become parallel is to be noticed without eyes too.
    told: seat,
    sized: seat && !first.not_to_scale,
    pick: null,
    size: ctx.size === "board" ? "board" : "seat",
    title: first.title,
    description: first.description,
  });

  function step(now) {
    const k = Math.min(1, (now - began) / GLIDE);
    shown = between(from, to, k);
    view.setFigure(shown);
    frame = k < 1 ? requestAnimationFrame(step) : 0;
  }

  /** Once the teacher's hand rests; at once where lines come to be parallel, or no longer are. */
  function tell() {
    clearTimeout(resting);
    if (!seat) return;
    const now = parallels(readFigure(to)).join(" ");
    const speak = () => {
      if (alike(heard, to)) view.tellFrom(heard, to);
      heard = to;
      even = now;
    };
    if (now === even) resting = setTimeout(speak, REST);
    else speak();
  }

  return {
    move(next) {
      if (next.marks) view.setMarks(next.marks);
      if (next.measures !== undefined) view.setMeasures(Boolean(next.measures));
      if (!next.figure || JSON.stringify(next.figure) === JSON.stringify(to)) return;
      cancelAnimationFrame(frame);
      [from, to] = [shown, next.figure];
      tell();
      if (ctx.reducedMotion || !alike(from, to)) {
        view.setFigure((shown = to));
        return;
      }
      began = performance.now();
      frame = requestAnimationFrame(step);
    },
    destroy() {
      cancelAnimationFrame(frame);
      clearTimeout(resting);
      view.destroy();
    },
  };
}

export function render(host, stage, ctx) {
  const paper = document.createElement("div");
  paper.className = "stage-paper paper";
  const caption = document.createElement("p");
  caption.className = "stage-caption statement";
  host.append(paper, caption);
  const figure = follower(paper, stage, ctx);
  write(stage);

  function write(next) {
    caption.textContent = next.caption ?? "";
    caption.hidden = !next.caption;
    host.classList.toggle("stage-captioned", !caption.hidden);
  }

  return {
    update(next) {
      write(next);
      figure.move({ ...next, marks: next.marks ?? {} });
    },
    destroy() {
      host.classList.remove("stage-captioned");
      figure.destroy();
    },
  };
}
