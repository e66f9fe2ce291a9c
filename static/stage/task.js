// A task as it is asked: its title, its sentences, the proof that it prints, its figure or what its construction starts from. Never its
// key: the Desk only sends what a Seat may see.
import { printed } from "./book.js";
import { follower } from "./figure.js";
import { givens } from "./givens.js";

export function render(host, stage, ctx) {
  const words = document.createElement("div");
  words.className = "stage-words";
  const paper = document.createElement("div");
  paper.className = "stage-paper paper";
  host.append(words, paper);
  let picture = null;
  let shown = null; // the task whose picture it is
  update(stage);

  function update(next) {
    const task = next.task ?? {};
    words.replaceChildren(
      line("h2", "stage-title", task.title),
      line("p", "stage-ask", whole(task.ask)),
      ...givens(task),
      ...(task.printed?.length ? [printed(task.printed)] : []),
    );
    host.classList.toggle("stage-booked", Boolean(task.printed?.length));
    host.classList.toggle("stage-bare", !task.figure && !task.start);
    if (picture && task.id === shown && task.figure)
      return picture.move({ figure: task.figure, marks: task.marks ?? {} });
    if (task.id === shown && task.start) return undefined;
    clear();
    shown = task.id;
    if (task.figure)
      picture = follower(
        paper,
        {
          figure: task.figure,
          marks: task.marks,
          title: task.title,
          description: task.words,
          not_to_scale: task.not_to_scale,
        },
        ctx,
      );
    else if (task.start) start(task);
    return undefined;
  }

  async function start(task) {
    const { given } = await import("./construction.js");
    if (shown === task.id && !picture) picture = given(paper, task, ctx);
  }

  function clear() {
    picture?.destroy();
    picture = shown = null;
    paper.replaceChildren();
  }

  return {
    update,
    destroy() {
      host.classList.remove("stage-bare", "stage-booked");
      clear();
    },
  };
}

/** A statement is not broken where it says what it says: "m∠3 = 5x". */
function whole(text) {
  return text?.replace(/ ([=≅∥∦⊥]) /g, "\u00a0$1\u00a0");
}

function line(tag, name, text) {
  const element = document.createElement(tag);
  element.className = name;
  element.textContent = text ?? "";
  element.hidden = !text;
  return element;
}
