// What several kinds of task share: the second figure beside the first, the three folded hints, marks from the givens.
import { handed } from "../construct/handed.js";
import { createFigure } from "../figure/figure.js";
import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";

export const angleName = (name) => `∠${name}`;

/** Marks that only repeat what is given: measures beside their angles, equal arcs, arrows, squares. Never what is wanted. */
export function givenMarks(given, figure) {
  const marks = { angles: {}, lines: {}, right: [] };
  let arcs = 0;
  let arrows = 0;
  for (const text of given ?? []) {
    const measure = text.match(/^m∠(\w+)\s*=\s*([^∠=]+)$/u);
    const equal = text.match(/^m?∠(\w+)\s*[≅=]\s*m?∠(\w+)$/u);
    const parallel = text.match(/^(\S+)\s*∥\s*(\S+)$/u);
    if (measure && figure.angles[measure[1]]) {
      const value = measure[2].trim();
      Object.assign((marks.angles[measure[1]] ??= {}), {
        tone: "given",
        label: /^[\d./]+$/.test(value) ? `${value}°` : `(${value})°`,
      });
    } else if (equal && figure.angles[equal[1]] && figure.angles[equal[2]]) {
      const known = marks.angles[equal[1]]?.arcs ?? marks.angles[equal[2]]?.arcs ?? (arcs += 1);
      for (const name of [equal[1], equal[2]])
        Object.assign((marks.angles[name] ??= {}), { arcs: known, tone: "given" });
    } else if (parallel && figure.lines[parallel[1]] && figure.lines[parallel[2]]) {
      const known = marks.lines[parallel[1]]?.arrows ?? marks.lines[parallel[2]]?.arrows ?? (arrows += 1);
      for (const name of [parallel[1], parallel[2]]) marks.lines[name] = { arrows: known, tone: "given" };
    }
  }
  return marks;
}

/**
 * The marks of a figure in which the givens hold and the goal fails: what is given in ink, and in the pencil's red what fails.
 * Each angle that they speak of has its arcs; two that need not be equal never have the same number of them.
 */
export function failing(givens, goal, figure) {
  const marks = givenMarks(givens, figure);
  let most = Math.max(0, ...Object.values(marks.angles).map((mark) => mark.arcs ?? 0));
  const arcs = (text, tone) => {
    for (const [, name] of (text ?? "").matchAll(/∠(\w+)/gu)) {
      if (!figure.angles?.[name]) continue;
      const mark = (marks.angles[name] ??= { tone });
      mark.arcs ??= most += 1;
      if (tone === "fails") mark.tone = tone;
    }
  };
  for (const text of givens ?? []) arcs(text, "given");
  arcs(goal, "fails");
  const lines = /^(\S+)\s*[∥⊥]\s*(\S+)$/u.exec(goal ?? "");
  for (const name of lines?.slice(1) ?? [])
    if (figure.lines?.[name]) marks.lines[name] = { ...marks.lines[name], tone: "fails" };
  return marks;
}

/** Two sets of marks as one; the second one wins. */
export function joinMarks(a, b) {
  return {
    angles: { ...a?.angles, ...b?.angles },
    lines: { ...a?.lines, ...b?.lines },
    right: [...(a?.right ?? []), ...(b?.right ?? [])],
  };
}

/** A place beside the student's figure for another one with the same givens. `show(figure, marks, caption)`, `hide()`. */
export function besides(paper) {
  let box = null;
  let view = null;

  function hide() {
    view?.destroy();
    box?.remove();
    [view, box] = [null, null];
    delete paper.dataset.two;
  }

  function show(figure, marks, caption) {
    hide();
    const ground = h("div", { class: "beside-figure" });
    box = h(
      "section",
      { class: "beside", "aria-label": caption },
      h("p", { class: "beside-caption statement" }, caption),
      ground,
    );
    paper.append(box);
    paper.dataset.two = "true";
    view = createFigure(ground, { figure, marks, measures: true, title: caption });
  }

  return { show, hide };
}

/** Three folded slips: where to look, which principle, the first step. `ask(level)` answers {text, marks?}.
 * @param {(level: number) => Promise<{text: string, marks?: any}>} ask
 * @param {(marks: any) => void} onmarks
 */
export function hintSlips(ask, onmarks = () => {}) {
  const list = h("div", { class: "slips" });
  const make = (level) => {
    const text = h("p", { class: "hint-text" });
    const slip = h("details", { class: "slip" }, h("summary", {}, say(`angles.hint_${level}`)), text);
    slip.addEventListener("toggle", async () => {
      if (!slip.open || text.textContent) return;
      try {
        const hint = await ask(level);
        write(text, hint.text);
        if (hint.marks) onmarks(hint.marks);
        if (level < 3 && list.childElementCount === level) list.append(make(level + 1));
      } catch (error) {
        write(text, error.message);
      }
    });
    return slip;
  };
  list.append(make(1));
  return list;
}

/**
 * A button that puts the student's own constructed parallel in the place of the task's figure, where the two fit; else null.
 * `show(own)` gets {figure, given, marks}.
 */
export function ownConstruction(ctx, show) {
  const own = handed(ctx.carry.get("constructed"), ctx.task);
  return own && h("button", { type: "button", class: "plain", onclick: () => show(own) }, say("angles.own"));
}

let ids = 0;
/** An id for a label and its field. */
export const freshName = (word) => `${word}-${(ids += 1)}`;
