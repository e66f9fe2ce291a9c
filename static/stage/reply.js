// One reply under discussion, without a name: what was asked, and what somebody answered.
import { follower } from "./figure.js";
import { said } from "../words/statement.js";

export function render(host, stage, ctx) {
  const words = document.createElement("div");
  words.className = "stage-words";
  const paper = document.createElement("div");
  paper.className = "stage-paper paper";
  host.append(words, paper);
  let figure = null;
  update(stage);

  function update(next) {
    const ask = document.createElement("p");
    ask.className = "stage-ask";
    ask.textContent = next.ask ?? "";
    words.replaceChildren(ask, next.rows?.length ? book(next) : sentences(next.lines ?? []));
    host.classList.toggle("stage-bare", !next.figure);
    figure?.destroy();
    figure = null;
    paper.replaceChildren();
    if (next.figure) figure = follower(paper, next, ctx);
  }

  return {
    update,
    destroy() {
      host.classList.remove("stage-bare");
      figure?.destroy();
    },
  };
}

function sentences(lines) {
  const list = document.createElement("ul");
  list.className = "stage-reply statement";
  for (const text of lines) {
    const item = document.createElement("li");
    item.textContent = text;
    list.append(item);
  }
  return list;
}

/** A proof as the student wrote it: rows of statement and reason, the row under discussion marked. */
function book({ rows, row: spoken, heads = [] }) {
  const table = document.createElement("table");
  table.className = "book";
  if (heads.length) {
    const head = table.createTHead().insertRow();
    for (const text of ["", ...heads]) {
      const cell = document.createElement("th");
      cell.scope = "col";
      cell.textContent = text;
      head.append(cell);
    }
  }
  const body = table.createTBody();
  rows.forEach((entry, i) => {
    const line = body.insertRow();
    line.classList.toggle("book-spoken", spoken === i + 1);
    const number = document.createElement("th");
    number.scope = "row";
    number.textContent = `${i + 1}`;
    line.append(number);
    for (const text of [said(entry.statement), entry.reason]) {
      const cell = line.insertCell();
      cell.className = "statement";
      cell.textContent = text ?? "";
    }
  });
  return table;
}
