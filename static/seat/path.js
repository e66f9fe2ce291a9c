// Where I am in the pack: a row of small drawings, one for each kind of task, part by part. One Tab stop; arrows go along it.
import { h, inStep, set, svg, write } from "../ui/elements.js";
import { stamp } from "../desk/small.js";
import { say } from "../words/say.js";

// What one does in each kind of task, in a few strokes, in the stamp's box of 84 by 48. None looks like a cross or a tick.
const STROKES = {
  // two lines and a transversal with the arrow of its turning
  explore: ["M10 15 L74 15", "M10 35 L74 35", "M34 44 L52 5", "M58 6 A16 16 0 0 1 67 21", "M62 17 L67 21 L71 16"],
  // an angle with its arc, and a name tag
  classify: ["M12 40 L40 40", "M12 40 L36 12", "M26 40 A14 14 0 0 0 21 29.5", "M48 22 L58 14 L74 14 L74 30 L58 30 Z"],
  // the sign for "therefore"
  justify: ["M42 12 L42 12.1", "M30 33 L30 33.1", "M54 33 L54 33.1"],
  // the ruled book of a proof
  prove: ["M18 12 L66 12", "M42 6 L42 42", "M18 24 L34 24", "M50 24 L66 24", "M18 36 L34 36", "M50 36 L66 36"],
  // a compass and its arc
  construct: ["M40 6 L28 42", "M40 6 L54 40", "M36 16 L45 16", "M62 44 A34 34 0 0 0 66 22"],
  // the sign for "equal"
  solve: ["M28 18 L56 18", "M28 31 L56 31"],
  // there and back
  connect: ["M22 17 L60 17 M53 10 L60 17 L53 24", "M62 33 L24 33 M31 26 L24 33 L31 40"],
  // one exercise after the other
  practice: [
    "M20 12 L20 12.1",
    "M32 12 L64 12",
    "M20 25 L20 25.1",
    "M32 25 L64 25",
    "M20 38 L20 38.1",
    "M32 38 L64 38",
  ],
};

function strokes(picture, kind) {
  for (const d of STROKES[kind] ?? []) picture.append(svg("path", { d, class: "stamp-line", fill: "none" }));
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
    strokes(picture, task.kind);
    const button = h(
      "button",
      { type: "button", class: "path-task", "data-kind": task.kind, onclick: () => onchoose(task.id) },
      picture,
    );
    button.append(h("span", { class: "path-tick", "aria-hidden": "true" }), h("span", { class: "words" }));
    return h("li", {}, button);
  }

  function update(pack, here, locked) {
    inStep(
      list,
      pack.parts,
      (part) => part.id,
      makePart,
      (li, part) => {
        write(li.firstChild, part.title);
        inStep(
          li.lastElementChild,
          part.tasks,
          (task) => task.id,
          makeTask,
          (item, task) => {
            const button = item.firstElementChild;
            const kind = say(`seat.kind_${task.kind}`);
            write(button.lastChild, say(task.done ? "seat.task_done" : "seat.task", { title: task.title, kind }));
            write(button.children[1], task.done ? "✓" : "");
            set(button, {
              title: task.title,
              "aria-current": task.id === here ? "step" : null,
              tabindex: task.id === here || (!here && task === pack.parts[0].tasks[0]) ? "0" : "-1",
              "data-done": task.done,
              disabled: locked && task.id !== here,
            });
          },
        );
      },
    );
    if (nav.dataset.here === here) return;
    nav.dataset.here = here ?? "";
    middle();
  }

  /** Where one is stands in the middle of the row, also after a tablet was turned. */
  function middle() {
    const current = nav.querySelector("[aria-current]");
    if (current) list.scrollTo?.({ left: current.offsetLeft - list.clientWidth / 2 + 42 });
  }
  if (globalThis.ResizeObserver) new ResizeObserver(middle).observe(list);

  // One stop for Tab, arrows inside, as in every row of its kind (W-7).
  nav.addEventListener("keydown", (event) => {
    const all = [...nav.querySelectorAll(".path-task:not([disabled])")];
    const at = all.indexOf(document.activeElement);
    const to = {
      ArrowRight: at + 1,
      ArrowDown: at + 1,
      ArrowLeft: at - 1,
      ArrowUp: at - 1,
      Home: 0,
      End: all.length - 1,
    }[event.key];
    if (at < 0 || to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    all[Math.max(0, Math.min(all.length - 1, to))]?.focus();
  });

  return { update };
}
