// A task as it is asked: its title, its sentences, its figure. Never its key: the Desk only sends what a Seat may see.
import { follower } from "./figure.js";
import { givens } from "./givens.js";

export function render(host, stage, ctx) {
  const words = document.createElement("div");
  words.className = "stage-words";
  const paper = document.createElement("div");
  paper.className = "stage-paper paper";
  host.append(words, paper);
  let figure = null;
  let shown = null;
  update(stage);

  function update(next) {
    const task = next.task ?? {};
    words.replaceChildren(line("h2", "stage-title", task.title), line("p", "stage-ask", task.ask));
    words.append(...givens(task));
    host.classList.toggle("stage-bare", !task.figure);
    if (!task.figure) {
      figure?.destroy();
      figure = null;
      paper.replaceChildren();
    } else if (figure && shown === task.id) {
      figure.move({ figure: task.figure, marks: task.marks ?? {} });
    } else {
      figure?.destroy();
      paper.replaceChildren();
      figure = follower(paper, { figure: task.figure, marks: task.marks, title: task.title, description: task.words, not_to_scale: task.not_to_scale }, ctx);
    }
    shown = task.id;
  }

  return {
    update,
    destroy() {
      host.classList.remove("stage-bare");
      figure?.destroy();
    },
  };
}

function line(tag, name, text) {
  const element = document.createElement(tag);
  element.className = name;
  element.textContent = text ?? "";
  element.hidden = !text;
  return element;
}
