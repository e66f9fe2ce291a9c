// A proof on the Board or on a Seat that follows: row by row, reasons shown or kept back.
import { createFigure } from "../figure/figure.js";
import { h, set, write } from "../ui/elements.js";
import { givenMarks, joinMarks } from "../tasks/parts.js";
import { named } from "../prove/rows.js";
import { load, say } from "../words/say.js";
import { givens } from "./givens.js";
import { said } from "../words/statement.js";
import { style } from "../ui/style.js";

await load("prove", "figure", "angles");
style("prove");

export function render(host, stage, ctx) {
  const paper = h("div", { class: "stage-paper paper" });
  const asked = h("div", {});
  const body = h("tbody", {});
  const table = h(
    "table",
    { class: "book stage-book" },
    h("caption", { class: "words" }, say("prove.caption")),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, h("span", { class: "words" }, say("prove.row"))),
        h("th", { scope: "col" }, say("prove.statement")),
        h("th", { scope: "col" }, say("prove.reason")),
        h("th", { scope: "col" }, say("prove.from")),
      ),
    ),
    body,
  );
  const side = h("div", { class: "stage-proof-side" }, asked, table);
  host.append(h("div", { class: "stage-proof" }, paper, side));
  const view = createFigure(paper, {
    figure: stage.figure,
    marks: {},
    movable: [],
    pick: null,
    size: ctx.size === "board" ? "board" : "seat",
    title: stage.title,
  });
  let drawn = JSON.stringify(stage.figure);

  function update(next) {
    const now = JSON.stringify(next.figure);
    if (now !== drawn) view.setFigure(next.figure);
    drawn = now;
    const figure = view.get(); // with its angles, where the document only says how they are numbered
    asked.replaceChildren(...givens(next));
    set(table, { "data-long": next.rows.length > 6 ? "true" : null });
    const rows = next.rows.slice(0, next.shown ?? next.rows.length);
    while (body.children.length > rows.length) body.lastChild.remove();
    rows.forEach((row, i) => {
      const line =
        body.children[i] ??
        body.appendChild(h("tr", {}, h("th", { scope: "row" }, `${i + 1}`), h("td", {}), h("td", {}), h("td", {})));
      const [, statement, reason, from] = line.children;
      write(statement, said(row.statement));
      const hidden = next.reasons === false && row.reason !== "given";
      write(reason, hidden ? say("prove.hidden") : (row.name ?? row.reason));
      set(reason, { "data-hidden": hidden ? "true" : null });
      write(from, (row.from ?? []).join(", "));
      set(line, { "data-new": i === rows.length - 1 ? "true" : null });
    });
    body.lastElementChild?.scrollIntoView({ block: "nearest" });
    const last = rows.at(-1);
    const follows = givenMarks(
      rows.filter((row) => row.reason !== "given").map((row) => row.statement),
      figure,
    );
    for (const mark of [...Object.values(follows.angles), ...Object.values(follows.lines)]) mark.tone = "follows";
    view.setMarks(joinMarks(follows, givenMarks(next.given ?? [], figure)));
    view.setPicked(last ? named(last.statement, figure) : []);
  }
  update(stage);

  return {
    update,
    destroy() {
      view.destroy();
      host.replaceChildren();
    },
  };
}
