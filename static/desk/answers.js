// The answers to one task: the tally, and each different answer once, with what the program said of it. One can be put up for
// discussion: the Board then shows the answer, and never whose it is.
import { send } from "../live/send.js";
import { say } from "../words/say.js";
import { h, write } from "../ui/elements.js";
import { tasks } from "./readings.js";
import { grouped, named, tallied, worded } from "./replies.js";
import { failing } from "../tasks/parts.js";
import { asked as whole } from "./stages.js";

export function mount(host, desk) {
  const title = h("h2", { class: "sheet-title" });
  const numbers = h("p", { class: "room-numbers" });
  const toBoard = h("button", { type: "button", class: "plain", onclick: tally }, say("desk.tally_board"));
  const body = h("tbody");
  const table = h(
    "table",
    { class: "desk-table answers" },
    h("caption", { class: "words" }, say("desk.answers_table")),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        ["answer", "said", "count", "discuss"].map((name) =>
          h("th", { scope: "col", class: name === "count" ? "number" : null }, say(`desk.col_${name}`)),
        ),
      ),
    ),
    body,
  );
  const none = h("p", { class: "room-empty" }, say("desk.answers_none"));
  host.append(
    title,
    h("div", { class: "room-head" }, numbers, toBoard),
    none,
    h("div", { class: "desk-scroll", role: "region", tabindex: 0, "aria-label": say("desk.answers_table") }, table),
  );

  let asked = null; // what the table on show was asked for
  let told = []; // the replies it shows

  let detail = null; // what was asked, as a Seat sees it: the Desk's own numbers, where each Seat has its own
  let names = {}; // the house's words for the ids in it

  const words = (id, fields) => worded(names)(id, fields);

  function update(state) {
    const task = tasks(state.parts ?? []).find((one) => one.id === desk.task);
    write(title, task?.title ?? say("desk.answers_pick"));
    toBoard.hidden = table.hidden = none.hidden = numbers.hidden = !task;
    if (!task) return;
    write(
      numbers,
      say("desk.n_answered", { done: task.replied ?? 0, all: (state.seats ?? []).length, right: task.done ?? 0 }),
    );
    const key = `${task.id} ${task.replied} ${task.done} ${task.replies ?? ""} ${state.replies ?? ""}`;
    if (key !== asked) {
      asked = key;
      fetchReplies(task, key);
    }
    none.hidden = told.length > 0;
    table.hidden = told.length === 0;
  }

  async function fetchReplies(task, key) {
    try {
      const { replies } = await send("GET", `${desk.base}/task/${task.id}/replies`);
      const seen = await desk.detail(task.id);
      if (asked !== key) return;
      detail = seen.public ?? seen.task;
      names = named(detail);
      told = replies;
      draw(task);
    } catch (refusal) {
      asked = null;
      desk.tell(refusal.status === 0 ? say("desk.no_answer") : refusal.message, "mend");
    }
  }

  function draw(task) {
    none.hidden = told.length > 0;
    table.hidden = told.length === 0;
    body.replaceChildren(
      ...grouped(task.kind, told, words, detail).map((group) =>
        h(
          "tr",
          {},
          h(
            "th",
            { scope: "row", class: "statement" },
            group.asked ? h("span", { class: "answer-asked" }, group.asked) : null,
            group.lines.map((line) => h("span", { class: "answer-line" }, line)),
          ),
          h(
            "td",
            {},
            group.ok === null
              ? ""
              : h("span", { class: group.ok ? "said-good" : "said-mend" }, say(group.ok ? "desk.holds" : "desk.fails")),
            " ",
            group.text,
          ),
          h("td", { class: "number" }, `${group.count}`),
          h(
            "td",
            {},
            h(
              "button",
              { type: "button", class: "plain", onclick: () => discuss(task, group) },
              say("desk.discuss"),
              h("span", { class: "words" }, ` ${group.lines[0] ?? ""}`),
            ),
          ),
        ),
      ),
    );
  }

  /** The reply without its writer: only what was asked and answered goes to the stage. */
  async function discuss(task, group) {
    const reply = group.first.reply ?? {};
    // What this student was asked, not the Desk: where each Seat has its own numbers, the answer is to those.
    const { asked: own } = group.first;
    const about = whole(own ? { ...detail, item: own, figure: null, marks: null } : (detail ?? task));
    if (task.kind === "construct" && reply.moves?.length) {
      await desk.stage({
        kind: "construction",
        task: task.id,
        title: about.title,
        construction: about.construction,
        start: about.start,
        moves: reply.moves,
        result: reply.result,
        step: reply.moves.length,
        speed: 1,
      });
      desk.open("board");
      return;
    }
    const rows =
      task.kind === "prove" && reply.rows
        ? reply.rows.map(({ statement, reason }) => ({ statement, reason: reason && words(reason) }))
        : null;
    // Where the answer was refused by another figure, that figure is what there is to talk about, with what holds and fails in it.
    const said = group.first.verdict ?? {};
    const other = said.figure ?? null;
    const figure = other ?? reply.figure ?? group.first.figure ?? about.figure ?? null;
    const marks = other || reply.figure ? said.marks : about.marks;
    await desk.stage({
      kind: "reply",
      task: task.id,
      ask: about.ask ?? task.title,
      lines: rows ? [] : group.lines,
      ...(about.printed?.length ? { printed: about.printed } : {}),
      ...(rows ? { rows, heads: [say("desk.statement"), say("desk.reason")] } : {}),
      ...(figure ? { figure } : {}),
      ...(figure && figure === about.figure && about.not_to_scale ? { not_to_scale: true } : {}),
      ...(figure && reply.not_forced ? { marks: failing(about.given, about.goal, figure) } : {}),
      ...(figure && marks ? { marks } : {}),
    });
    desk.open("board");
  }

  async function tally() {
    const task = tasks(desk.state.parts).find((one) => one.id === desk.task);
    await desk.stage({
      kind: "tally",
      task: task.id,
      title: task.title,
      parts: tallied(task.kind, told, words, detail),
      replied: told.length,
      total: (desk.state.seats ?? []).length,
    });
    desk.open("board");
  }

  return { update };
}
