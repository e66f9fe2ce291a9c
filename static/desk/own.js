// An example of the teacher's own: lines set by hand or by numbers, givens and a goal in the lesson's notation; the reasoner says
// what follows and why, or shows the figure where it fails. From here it goes to the Board, or to the class as a task.
import { createFigure } from "../figure/figure.js";
import { readFigure as read, writeFigure as full } from "../figure/model.js";
import { send } from "../live/send.js";
import { degrees } from "../stage/between.js";
import { failing } from "../tasks/parts.js";
import { say } from "../words/say.js";
import { h, write } from "../ui/elements.js";
import { said as inWords } from "../words/statement.js";

const NAMES = ["l", "m", "n", "p", "q", "t", "u", "v"]; // eight lines are the most a class can read
const START = {
  lines: {
    l: { direction: 10, through: [0, 3] },
    m: { direction: 10, through: [0, -3] },
    t: { direction: 65, through: [0, 0] },
  },
  transversal: "t",
  number: "standard",
};

export function mount(host, desk) {
  let figure = full(read(START));
  let said = null; // the reasoner's last answer, with what it was asked
  const paper = h("div", { class: "own-paper paper" });
  const lines = h("tbody");
  const across = h("select", {
    class: "field",
    id: "own-across",
    onchange: () => change(number(figure, across.value)),
  });
  const given = h("textarea", {
    class: "field statement",
    id: "own-given",
    rows: 2,
    spellcheck: "false",
    autocomplete: "off",
    "aria-describedby": "own-notation",
  });
  const goal = h("input", {
    class: "field statement",
    id: "own-goal",
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": "own-notation",
  });
  const title = h("input", { class: "field", id: "own-title", maxlength: 60, autocomplete: "off" });
  const verdict = h("p", { class: "verdict", role: "status" });
  const answer = h("div", { class: "own-answer" });
  const verbs = h("p", { class: "desk-verbs", hidden: true });
  let view = null;
  const kept = JSON.parse(sessionStorage.getItem(`own ${desk.base}`) ?? "null"); // what a reload would lose
  [given.value, goal.value, title.value] = kept?.words ?? ["∠1 ≅ ∠5", "l ∥ m", ""];
  if (kept) figure = kept.figure;

  host.append(
    h(
      "div",
      { class: "own" },
      h(
        "div",
        { class: "own-figure" },
        paper,
        h(
          "table",
          { class: "desk-table own-lines" },
          h("caption", {}, say("desk.own_lines")),
          h(
            "thead",
            {},
            h(
              "tr",
              {},
              ["name", "direction", "across", "up", "away"].map((name) =>
                h("th", { scope: "col" }, say(`desk.own_${name}`)),
              ),
            ),
          ),
          lines,
        ),
        h(
          "p",
          { class: "desk-inline" },
          h("button", { type: "button", class: "plain", onclick: add }, say("desk.own_add")),
          h("label", { for: "own-across" }, say("desk.own_number")),
          across,
        ),
      ),
      h(
        "form",
        { class: "own-words", onsubmit: judge },
        h("label", { class: "label", for: "own-given" }, say("desk.own_given")),
        given,
        h("label", { class: "label", for: "own-goal" }, say("desk.own_goal")),
        h("div", { class: "own-ask" }, goal, h("button", { class: "action" }, say("desk.own_judge"))),
        h("p", { class: "desk-facts", id: "own-notation" }, say("desk.own_notation")),
        verdict,
        answer,
        verbs,
      ),
    ),
  );
  const forClass = h(
    "span",
    { class: "desk-inline" },
    h("label", { for: "own-title" }, say("desk.own_title")),
    title,
    h("button", { type: "button", class: "plain", onclick: toTask }, say("desk.own_task")),
  );
  verbs.append(h("button", { type: "button", class: "plain", onclick: toBoard }, say("desk.own_board")), forClass);

  function draw() {
    view?.destroy();
    paper.replaceChildren();
    view = createFigure(paper, {
      figure,
      marks: {},
      movable: Object.keys(figure.lines),
      step: 1,
      size: "seat",
      title: say("desk.own_figure"),
      notice: false,
      onchange(now, done) {
        figure = { ...now, transversal: figure.transversal };
        fields();
        if (!done) return;
        keep();
        stale();
      },
    });
    fields(true);
  }

  /** The numbers of each line; rows are made anew only when lines come or go. */
  function fields(anew = false) {
    const names = Object.keys(figure.lines);
    if (anew || lines.childElementCount !== names.length) {
      lines.replaceChildren(...names.map(row));
      across.replaceChildren(
        h("option", { value: "" }, say("desk.own_number_none")),
        ...names.map((name) => h("option", { value: name }, name)),
      );
      across.value = figure.transversal ?? "";
    }
    names.forEach((name, i) => {
      const line = figure.lines[name];
      const values = [line.direction, ...line.through];
      lines.rows[i].querySelectorAll("input").forEach((input, k) => {
        if (document.activeElement !== input) input.value = `${values[k]}`;
      });
    });
  }

  function row(name) {
    const field = (which) =>
      h(
        "td",
        {},
        h("input", {
          class: "field own-number",
          inputmode: "decimal",
          autocomplete: "off",
          "aria-label": say(`desk.own_field_${which}`, { line: name }),
          onchange: (event) => typed(name, which, event.target),
        }),
      );
    return h(
      "tr",
      {},
      h("th", { scope: "row", class: "statement" }, name),
      field("direction"),
      field("across"),
      field("up"),
      h(
        "td",
        {},
        h(
          "button",
          {
            type: "button",
            class: "plain",
            disabled: Object.keys(figure.lines).length <= 2,
            onclick: () => remove(name),
          },
          say("desk.own_remove"),
          h("span", { class: "words" }, ` ${name}`),
        ),
      ),
    );
  }

  function typed(name, which, input) {
    const value = input.value.trim().replace(",", ".");
    if (!/^-?\d+(\.\d+|\/[1-9]\d*)?$/.test(value)) {
      input.setAttribute("aria-invalid", "true");
      return desk.tell(say("desk.own_not_number", { line: name }), "mend");
    }
    input.removeAttribute("aria-invalid");
    const line = structuredClone(figure.lines[name]);
    const amount = /^-?\d+$/.test(value) ? Number(value) : value;
    if (which === "direction") line.direction = turned(amount);
    else line.through[which === "across" ? 0 : 1] = degrees(amount);
    return change(number({ lines: { ...figure.lines, [name]: line } }, figure.transversal));
  }

  function add() {
    const name = NAMES.find((one) => !(one in figure.lines));
    if (!name) return desk.tell(say("desk.own_most", { most: NAMES.length }), "mend");
    const count = Object.keys(figure.lines).length;
    return change(
      number(
        { ...figure, lines: { ...figure.lines, [name]: { direction: 10, through: [0, 3 - 2 * count] } } },
        figure.transversal,
      ),
    );
  }

  function remove(name) {
    const rest = Object.fromEntries(Object.entries(figure.lines).filter(([line]) => line !== name));
    change(number({ ...figure, lines: rest }, figure.transversal === name ? null : figure.transversal));
    across.focus();
  }

  function keep() {
    sessionStorage.setItem(
      `own ${desk.base}`,
      JSON.stringify({ figure, words: [given.value, goal.value, title.value] }),
    );
  }

  function change(next) {
    figure = next;
    keep();
    draw();
    stale();
  }

  /** What was said belongs to the figure as it was. */
  function stale() {
    if (!said) return;
    said = null;
    verbs.hidden = true;
    answer.replaceChildren();
    write(verdict, say("desk.own_stale"));
    verdict.dataset.tone = "plain";
  }

  const asking = () => ({
    figure: plain(figure),
    given: given.value
      .split("\n")
      .map((line) => line.trim())
      .filter(Boolean),
    goal: goal.value.trim(),
  });

  async function judge(event) {
    event.preventDefault();
    const asked = asking();
    for (const field of [given, goal]) field.removeAttribute("aria-invalid");
    verdict.dataset.tone = "wait";
    write(verdict, say("desk.own_asking"));
    try {
      const outcome = await send("POST", "/api/reasoning/follows", {
        figure: asked.figure,
        given: asked.given,
        claim: asked.goal,
      });
      // As the class is to read it, here too: "<3 = <6" was typed.
      const written = await send("POST", `${desk.base}/own/words`, asked);
      if (JSON.stringify(asking()) === JSON.stringify(asked))
        [given.value, goal.value] = [written.given.join("\n"), written.goal];
      keep();
      said = { ...asked, ...written, ...outcome };
      tell(outcome);
    } catch (refusal) {
      said = null;
      verbs.hidden = true;
      answer.replaceChildren();
      verdict.dataset.tone = "mend";
      write(verdict, refusal.status === 0 ? say("desk.no_answer") : placed(refusal));
    }
  }

  /** What can't be read, with the line that it stands on; that line is marked and gets the focus. */
  function placed({ message, where }) {
    // "given.1, character 6" or "claim, character 5".
    const [, field, n] = /^(given|claim)(?:\.(\d+))?\b/.exec(where ?? "") ?? [];
    if (field === "claim") {
      goal.setAttribute("aria-invalid", "true");
      goal.focus();
      return say("desk.own_at_goal", { message });
    }
    if (n === undefined) return message;
    const { line, from, to } = lineOf(given.value, Number(n));
    given.setAttribute("aria-invalid", "true");
    given.focus();
    given.setSelectionRange(from, to);
    return say("desk.own_at_line", { line, message });
  }

  function tell(outcome) {
    const rows = outcome.proof?.rows ?? outcome.proof ?? null;
    said.rows = Array.isArray(rows) ? rows : null;
    verdict.dataset.tone = outcome.verdict === "follows" ? "good" : "mend";
    const proved = outcome.verdict !== "follows" || said.rows?.length;
    write(
      verdict,
      proved ? say(`desk.own_${outcome.verdict.replaceAll(" ", "_")}`) : (outcome.note ?? say("desk.own_no_proof")),
    );
    answer.replaceChildren();
    if (said.rows?.length) answer.append(book(said.rows));
    if (outcome.conflict?.length)
      answer.append(
        h(
          "ul",
          { class: "statement" },
          outcome.conflict.map((line) =>
            h("li", {}, typeof line === "number" ? (said.given[line] ?? `${line}`) : line),
          ),
        ),
      );
    if (outcome.counterexample) other(outcome.counterexample);
    // Where no figure fits the givens, or none the goal, or nobody knows, there is nothing for a class to show.
    forClass.hidden =
      ["givens conflict", "cannot be", "undecided"].includes(outcome.verdict) || outcome.by !== undefined;
    verbs.hidden = false;
  }

  /** The other figure: the same givens hold in it, and the goal does not. */
  function other(example) {
    const place = h("div", { class: "own-other paper" });
    answer.append(h("p", {}, say("desk.own_other")), place, h("p", { class: "statement" }, measures(example)));
    said.other = example.figure ?? moved(said.figure, example.lines);
    createFigure(place, {
      figure: said.other,
      marks: failing(said.given, said.goal, said.other),
      movable: [],
      measures: false,
      size: "small",
      title: say("desk.own_other"),
    });
  }

  function toBoard() {
    if (!said) return;
    const { figure: now, given: givens, goal: claim, rows, other: against } = said;
    if (rows?.length)
      desk.stage({
        kind: "proof",
        title: title.value,
        figure: now,
        given: givens,
        goal: claim,
        rows,
        shown: 0,
        reasons: true,
      });
    else
      desk.stage({
        kind: "figure",
        figure: against ?? now,
        marks: against ? failing(givens, claim, against) : {},
        measures: true,
        caption: against ? say("desk.own_caption", { goal: claim }) : claim,
      });
    desk.open("board");
  }

  async function toTask() {
    const told = await desk.act("own", { ...asking(), title: title.value.trim() || say("desk.own_untitled") });
    if (!told?.task) return;
    desk.task = told.task;
    desk.tell(say("desk.own_given_out"), "good");
  }

  for (const field of [given, goal]) field.addEventListener("input", stale);
  for (const field of [given, goal, title]) field.addEventListener("change", keep);
  draw();
  return { update() {}, destroy: () => view?.destroy() };
}

/** Where the nth statement stands in what was typed: its line from 1, and its place in the text. Empty lines hold none. */
export function lineOf(text, n) {
  let from = 0;
  let left = n;
  for (const [i, line] of text.split("\n").entries()) {
    if (line.trim() && left-- === 0) return { line: i + 1, from, to: from + line.length };
    from += line.length + 1;
  }
  return { line: n + 1, from: text.length, to: text.length };
}

/** The contract figure alone, without what the component keeps beside it. */
function plain(figure) {
  const { lines, meets, angles, transversal } = figure;
  return Object.fromEntries(Object.entries({ lines, meets, angles, transversal }).filter(([, value]) => value));
}

/** Crossings lettered and angles numbered anew: along a transversal, or letters only. */
function number({ lines }, transversal) {
  return full(read(transversal ? { lines, transversal, number: "standard" } : { lines }));
}

function turned(value) {
  return typeof value === "number" ? ((value % 180) + 180) % 180 : value;
}

function moved(figure, directions) {
  const lines = {};
  for (const [name, line] of Object.entries(figure.lines))
    lines[name] = { ...line, direction: directions?.[name] ?? line.direction };
  return { ...figure, lines };
}

function measures({ measures: all = {}, unknowns = {} }) {
  return [
    ...Object.entries(unknowns).map(([name, value]) => `${name} = ${value}`),
    ...Object.entries(all).map(([name, value]) => `m∠${name} = ${value}°`),
  ].join(", ");
}

function book(rows) {
  return h(
    "table",
    { class: "book" },
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        ["number", "statement", "reason", "from"].map((name) => h("th", { scope: "col" }, say(`desk.${name}`))),
      ),
    ),
    h(
      "tbody",
      {},
      rows.map((row, i) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, `${i + 1}`),
          h("td", { class: "statement" }, inWords(row.statement)),
          h("td", {}, row.name ?? row.words ?? row.reason),
          h("td", {}, (row.from ?? []).join(", ")),
        ),
      ),
    ),
  );
}
