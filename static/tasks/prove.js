// Prove: the figure at the left, the ruled book at the right. Statements are tapped or typed, reasons chosen, rows judged where the
// pack says so; a row that is not forced opens the other figure beside the student's own.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { h, set } from "../ui/elements.js";
import { say } from "../words/say.js";
import { createBook } from "../prove/book.js";
import { createHints } from "../prove/hints.js";
import {
  begun,
  insert,
  named,
  put,
  remove,
  shift,
  startRows,
  tapped,
  toggleFrom,
  toReply,
  written,
} from "../prove/rows.js";
import { createOther } from "../prove/swing.js";
import { createTurning } from "../prove/turning.js";
import { handing } from "./handing.js";
import { failing, joinMarks, ownConstruction } from "./parts.js";
import { drawFlow } from "../prove/views.js";
import { createWorked } from "../prove/worked.js";
import { said } from "../words/statement.js";

const KEEP = 600; // ms after the last change before the work is sent to be kept

export function mount({ paper, card }, ctx) {
  if (ctx.task.support === "worked") return createWorked({ paper, card }, ctx);
  const { task } = ctx;
  let rows = startRows(task, ctx.saved);
  let notes = [];
  let frozen = false;
  let saving = 0;
  let asking = 0;
  let turning = null;
  let flow = null;

  let view = openView();
  const other = createOther(paper);
  const book = createBook({
    reasons: task.reasons,
    support: task.support,
    apart: [...task.given, task.goal].some((one) => one.includes("∦")),
    onchange: change,
    onfocus: point,
    onother: (at) => {
      showOther(at);
      other.look();
    },
    ontool: tool,
    onfrom: (at, n) => {
      rows = toggleFrom(rows, at, n);
      settle(at);
    },
  });

  const button = (name, kind, onclick) => h("button", { type: "button", class: kind, onclick }, say(`prove.${name}`));
  const add = task.support === "blank" ? button("add", "plain", () => addRow(rows.length)) : null;
  // An exit ticket shows what a student can do alone: nothing judges or helps before it is handed in.
  const alone = Boolean(ctx.exit);
  const judged = task.judge !== "end" && !alone;
  const check = !judged ? null : button("check", "plain", () => judge(true));
  const done = button("hand_in", "action", handIn);
  // Where the rows are given, so is the answer that there is a proof.
  const loose = task.support === "blank" ? button("not_forced", "plain", turn) : null;
  // The parallel that the student constructed earlier, in place of the task's figure; what is proved is the same.
  const own = ownConstruction(ctx, (made) => {
    view.setFigure(made.figure);
    view.setMarks(joinMarks(task.marks, made.marks));
  });
  const hints = alone
    ? null
    : createHints((level) => ctx.ask("hint", { level, rows: toReply(rows) }), {
        onpoint: (found) => view.setPicked(found),
        onwrite: task.support === "order" ? null : writeIn,
      });
  const views = judged ? viewBar() : null;
  const prose = h("div", { class: "prove-view", hidden: true });
  const barred = task.barred?.length
    ? h("p", { class: "label prove-barred" }, say("prove.barred", { list: task.barred.join(", ") }))
    : null;
  const desk = h(
    "div",
    { class: "prove" },
    ...[
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
      views,
      barred,
      book.element,
      prose,
      hints?.element,
    ].filter(Boolean),
  );
  // The verbs stand below what scrolls (the shell moves `hand-in` there), so that they never cover a row.
  const verbs = handing([done], [check, add, loose, own]);
  card.append(desk, verbs);
  book.paint(rows, notes);

  function openView() {
    return createFigure(paper, {
      figure: task.figure,
      marks: task.marks,
      pick: "any",
      title: task.words?.title,
      notToScale: task.not_to_scale,
      description: task.words,
      onpick: tap,
    });
  }

  // ── the rows ──
  function change(at, what, typing = false) {
    rows = put(rows, at, what);
    if (notes[at]) notes[at] = null;
    settle(at, typing);
  }

  function settle(at, typing = false) {
    book.paint(rows, notes);
    point(at);
    keep();
    if (!typing && judged && task.judge === "row" && written(rows[at])) judge(false);
  }

  function keep() {
    clearTimeout(saving);
    saving = setTimeout(flush, KEEP);
  }

  /** Keep what stands there now, if it isn't kept yet. */
  function flush() {
    if (!saving) return;
    clearTimeout(saving);
    saving = 0;
    ctx.save({ rows });
  }

  function addRow(at) {
    rows = insert(rows, at);
    notes.splice(at, 0, null);
    book.paint(rows, notes);
    book.focus(at);
    keep();
  }

  function tool(at, name) {
    if (frozen) return;
    if (name === "insert") {
      addRow(at);
      return;
    }
    if (name === "remove") {
      rows = remove(rows, at);
      notes.splice(at, 1);
      book.paint(rows, notes);
      book.focus(Math.min(at, rows.length - 1));
      keep();
      return;
    }
    const by = name === "up" ? -1 : 1;
    const to = at + by;
    if (to < 0 || to >= rows.length) return;
    rows = shift(rows, at, by);
    notes = [];
    book.paint(rows, notes);
    book.focus(to, task.support === "order" ? name : "statement");
    ctx.verdict(say("prove.moved", { row: to + 1, statement: said(rows[to].statement) }), "plain");
    keep();
  }

  function tap(item) {
    if (frozen || turning || task.support === "order" || task.support === "reasons") return;
    let hand = book.hand();
    if (!hand && task.support === "blank") {
      addRow(rows.length);
      hand = book.hand();
    }
    if (!hand) return;
    const [text, caret] = tapped(hand.text, hand.caret, item);
    book.write(hand.at, text, caret);
  }

  function point(at) {
    const row = rows[at];
    if (row) view.setPicked(named(row.statement, task.figure));
  }

  function writeIn(row) {
    const at = row.row ? row.row - 1 : rows.findIndex((one) => !written(one) && !one.fixed.statement);
    const to = at >= 0 ? at : rows.length;
    if (to === rows.length) addRow(to);
    rows = put(rows, to, {
      statement: said(row.statement),
      reason: row.reason,
      from: row.from?.length ? row.from : null,
    });
    settle(to);
    book.focus(to, "reason");
  }

  // ── judging ──
  async function judge(loud) {
    const mine = (asking += 1);
    let found;
    try {
      found = await ctx.ask("check", { rows: toReply(rows) });
    } catch (fault) {
      if (loud) ctx.verdict(fault.message, "mend");
      return;
    }
    if (mine !== asking) return;
    take(found.rows);
    const first = found.rows.findIndex(
      (row, i) => row.verdict !== "follows" && (loud ? begun(rows[i]) : written(rows[i])),
    );
    // The whole note stands beside its row; the line only says which row and what is the matter.
    if (first >= 0)
      ctx.verdict(
        say("prove.look_at", { row: first + 1, verdict: say(`prove.verdict_${found.rows[first].verdict}`) }),
        "mend",
      );
    else if (found.rows.length) ctx.verdict(say("prove.all_follow"), "good");
    if (loud && first >= 0) book.show(first);
  }

  /** Notes beside their rows; a row that is not filled in yet gets none. */
  function take(found) {
    notes = rows.map((row, i) =>
      found[i] && (written(row) || found[i].verdict !== "unreadable")
        ? { ...found[i], quiet: row.fixed.statement && row.fixed.reason }
        : null,
    );
    book.paint(rows, notes);
  }

  async function handIn() {
    if (frozen) return;
    flush();
    const verdict = await atRest([done], () => ctx.submit({ rows: toReply(rows) }));
    if (verdict.more?.rows) {
      take(verdict.more.rows);
      const wrong = verdict.more.rows.findIndex((row, i) => row.verdict !== "follows" && begun(rows[i]));
      // Where the page scrolls as one, the verdict line says it all and stays in view.
      if (wrong >= 0 && !matchMedia("(max-width: 50rem), (max-height: 27rem)").matches) book.show(wrong);
    }
    if (verdict.marks && verdict.ok) view.setMarks(joinMarks(task.marks, verdict.marks));
    const at = notes.findIndex((note) => note?.counterexample?.figure);
    if (at >= 0) showOther(at);
  }

  function showOther(at) {
    const example = notes[at]?.counterexample;
    if (!example?.figure) return;
    const statement = notes[at].statement ?? rows[at].statement;
    other.show(
      task.figure,
      example.figure,
      failing(task.given, statement, example.figure),
      say("prove.other", { statement: said(statement) }),
    );
  }

  // ── it isn't forced: turn the lines until the givens hold and the goal fails ──
  function turn() {
    if (frozen || turning) return;
    other.hide();
    desk.hidden = verbs.hidden = true;
    ctx.verdict("", "plain");
    view.destroy();
    turning = createTurning({ paper, card, task, ask: ctx.ask, submit: ctx.submit, onback: back });
  }

  function back() {
    turning?.destroy();
    turning = null;
    view = openView();
    desk.hidden = verbs.hidden = false;
    loose.focus();
  }

  // ── the same proof in other forms ──
  function viewBar() {
    const bar = h("div", { class: "toolbar prove-views", role: "group", "aria-label": say("prove.views") });
    for (const name of ["book", "flow", "prose"]) {
      bar.append(
        h(
          "button",
          {
            type: "button",
            class: "plain",
            "data-view": name,
            "aria-pressed": `${name === "book"}`,
            onclick: () => look(name),
          },
          say(`prove.view_${name}`),
        ),
      );
    }
    return bar;
  }

  async function look(name) {
    for (const one of /** @type {HTMLElement[]} */ ([...views.children]))
      set(one, { "aria-pressed": `${one.dataset.view === name}` });
    flow?.destroy();
    flow = null;
    book.element.hidden = name !== "book";
    prose.hidden = name === "book";
    if (name === "book") return;
    try {
      const found = await ctx.ask("views", { rows: toReply(rows) });
      if (name === "flow") flow = drawFlow(prose, found.flow);
      else
        prose.replaceChildren(h("p", { class: "statement prove-prose" }, found.paragraph || say("prove.flow_empty")));
    } catch (fault) {
      prose.replaceChildren(h("p", { class: "notice" }, fault.message));
    }
  }

  return {
    flush,
    setFrozen(on) {
      frozen = on;
      book.setFrozen(on);
      book.paint(rows, notes);
      turning?.setFrozen(on);
      for (const one of [add, check, done, loose]) if (one) one.disabled = on;
    },
    destroy() {
      flush();
      flow?.destroy();
      turning?.destroy();
      other.hide();
      if (!turning) view.destroy();
    },
  };
}
