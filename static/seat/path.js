// Where I am in the pack: a row of small figures, part by part.
import { h, keyed, set, write } from "../desk/dom.js";
import { draw, stamp } from "../desk/small.js";
import { say } from "../words/say.js";

const SVG = "http://www.w3.org/2000/svg";
// A few strokes for the kinds of task that come without a figure, in the stamp's box of 84 by 48.
const STROKES = {
  construct: ["M14 38 L70 38", "M14 38 L56 12", "M40 38 A26 26 0 0 0 36 24"],
  solve: ["M34 16 L50 32 M50 16 L34 32"],
  connect: ["M26 18 L56 18 M50 13 L56 18 L50 23", "M58 32 L28 32 M34 27 L28 32 L34 37"],
  practice: ["M30 14 L54 14", "M30 24 L54 24", "M30 34 L46 34"],
  prove: ["M22 12 L62 12", "M22 22 L62 22", "M22 32 L62 32", "M42 8 L42 40"],
};

function strokes(svg, kind) {
  for (const d of STROKES[kind] ?? []) {
    const path = document.createElementNS(SVG, "path");
    path.setAttribute("d", d);
    path.setAttribute("class", "stamp-line");
    path.setAttribute("fill", "none");
    svg.append(path);
  }
}

/** The row in `nav`; `onchoose(taskId)`. Answers `{update(pack, here, locked)}`. */
export function createPath(nav, onchoose) {
  const list = h("ol", { class: "path-parts" });
  nav.append(list);

  function makePart() {
    return h("li", { class: "path-part" }, h("span", { class: "path-name" }), h("ol", { class: "path-tasks" }));
  }

  function makeTask(task) {
    const picture = stamp();
    if (!task.figure) strokes(picture, task.kind);
    const button = h("button", { type: "button", class: "path-task", onclick: () => onchoose(task.id) }, picture);
    button.append(h("span", { class: "path-tick", "aria-hidden": "true" }), h("span", { class: "words" }));
    return h("li", {}, button);
  }

  function update(pack, here, locked) {
    keyed(list, pack.parts, (part) => part.id, makePart, (li, part) => {
      write(li.firstChild, part.title);
      keyed(li.lastChild, part.tasks, (task) => task.id, makeTask, (item, task) => {
        const button = item.firstChild;
        if (task.figure) draw(button.firstChild, task.figure);
        const kind = say(`seat.kind_${task.kind}`);
        write(button.lastChild, say(task.done ? "seat.task_done" : "seat.task", { title: task.title, kind }));
        write(button.children[1], task.done ? "✓" : "");
        set(button, {
          title: task.title,
          "aria-current": task.id === here ? "step" : null,
          "data-done": task.done,
          disabled: locked && task.id !== here,
        });
      });
    });
    const current = nav.querySelector("[aria-current]");
    if (current && nav.dataset.here !== here) {
      nav.dataset.here = here;
      list.scrollTo?.({ left: current.offsetLeft - list.clientWidth / 2 + 42 });
    }
  }

  return { update };
}
