// One reply under discussion, without a name: what was asked, and what somebody answered.
import { book, printed } from "./book.js";
import { follower } from "./figure.js";
import { load, say } from "../words/say.js";

await load("live");

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
    // The proof that the question is about, where it prints one; then what was answered.
    const about = next.printed?.length ? [printed(next.printed)] : [];
    const label = document.createElement("p");
    label.className = "label stage-label";
    label.textContent = say("live.one_answer");
    words.replaceChildren(ask, ...about, label, next.rows?.length ? book(next) : sentences(next.lines ?? []));
    host.classList.toggle("stage-booked", Boolean(next.printed?.length || next.rows?.length));
    host.classList.toggle("stage-bare", !next.figure);
    figure?.destroy();
    figure = null;
    paper.replaceChildren();
    if (next.figure) figure = follower(paper, next, ctx);
  }

  return {
    update,
    destroy() {
      host.classList.remove("stage-bare", "stage-booked");
      figure?.destroy();
    },
  };
}

function sentences(lines) {
  const list = document.createElement("ul");
  list.className = "stage-reply statement";
  // The longer, the smaller: all of it is on the page.
  const long = lines.reduce((sum, text) => sum + Math.max(text.length, 20), 0);
  list.dataset.size = long > 280 ? "smallest" : long > 130 ? "small" : "large";
  for (const text of lines) {
    const item = document.createElement("li");
    item.textContent = text;
    list.append(item);
  }
  return list;
}
