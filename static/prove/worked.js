// A worked example: the rows come one by one, each with what it rests on pointed at in the figure.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "../tasks/handing.js";
import { createBook } from "./book.js";
import { named } from "./rows.js";
import { said } from "../words/statement.js";

export function createWorked({ paper, card }, ctx) {
  const { task } = ctx;
  const rows = task.rows.map((row) => ({ ...row, fixed: { statement: true, reason: true } }));
  let shown = Math.min(ctx.saved?.shown ?? 1, rows.length);
  const view = createFigure(paper, {
    figure: task.figure,
    marks: task.marks,
    title: task.words?.title,
    notToScale: task.not_to_scale,
    description: task.words,
  });
  const book = createBook({
    reasons: task.reasons,
    support: "worked",
    onchange() {},
    onfocus() {},
    onfrom() {},
    ontool() {},
    onother() {},
  });
  const next = h("button", { type: "button", class: "action", onclick: () => step(shown + 1) }, say("prove.read_next"));
  const all = h("button", { type: "button", class: "plain", onclick: () => step(rows.length) }, say("prove.read_all"));
  const done = h("button", { type: "button", class: "action", onclick: read }, say("prove.read_done"));
  const told = h("p", { class: "prove-told statement", role: "status" });
  card.append(
    h(
      "div",
      { class: "prove" },
      h(
        "dl",
        { class: "prove-head statement" },
        ...(task.given.length
          ? [
              h(
                "div",
                {},
                h("dt", { class: "label" }, say("prove.given")),
                ...task.given.map((one) => h("dd", {}, said(one))),
              ),
            ]
          : []),
        h("div", {}, h("dt", { class: "label" }, say("prove.goal")), h("dd", { class: "prove-goal" }, said(task.goal))),
      ),
      book.element,
      told,
    ),
    handing([next, done], [all]),
  );
  paint();

  function step(to) {
    shown = to;
    ctx.save({ shown });
    paint();
    const row = rows[shown - 1];
    const theorem = task.reasons.find((one) => one.id === row.reason);
    book.show(shown - 1);
    write(told, theorem?.says && row.reason !== "given" ? theorem.says : "");
  }

  function paint() {
    book.paint(rows, [], shown);
    const row = rows[shown - 1];
    const before = (row.from ?? []).flatMap((n) => named(rows[n - 1].statement, task.figure));
    view.setPicked([...named(row.statement, task.figure), ...before]);
    next.hidden = all.hidden = shown >= rows.length;
    done.hidden = shown < rows.length;
  }

  async function read() {
    await atRest([done], () => ctx.submit({ read: true }));
  }

  return {
    setFrozen(on) {
      for (const one of [next, all, done]) one.disabled = on;
    },
    destroy: () => view.destroy(),
  };
}
