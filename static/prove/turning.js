// "It isn't forced": the lines can be turned, and each given and the goal says whether it holds as drawn.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { h, set, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { said } from "../words/statement.js";

export function createTurning({ paper, card, task, ask, submit, onback }) {
  let asked = 0;
  let frozen = false;
  const view = createFigure(paper, {
    figure: task.figure,
    marks: task.marks,
    movable: task.movable,
    measures: true,
    notice: false,
    title: task.words?.title,
  });
  const line = (text, what) => {
    const mark = h("span", { class: "turn-mark" });
    return {
      element: h(
        "li",
        {},
        h("span", { class: "label" }, say(`prove.turn_${what}`)),
        " ",
        h("span", { class: "statement" }, said(text)),
        " ",
        mark,
      ),
      mark,
    };
  };
  const givens = task.given.map((text) => line(text, "given"));
  const goal = line(task.goal, "goal");
  const hand = h("button", { type: "button", class: "action", onclick: handIn }, say("prove.turn_hand"));
  const back = h("button", { type: "button", class: "plain", onclick: () => onback() }, say("prove.turn_back"));
  const ask_ = h("p", { class: "turn-ask", tabindex: "-1" }, say("prove.turn_ask", { goal: said(task.goal) }));
  const element = h(
    "div",
    { class: "prove turning" },
    ask_,
    h(
      "div",
      { role: "status" },
      h(
        "ul",
        { class: "turn-list" },
        [...givens, goal].map((one) => one.element),
      ),
    ),
    h("p", { class: "toolbar" }, hand, back),
  );
  card.append(element);
  ask_.focus();
  let last = "";
  const timer = setInterval(look, 700);
  look();

  /** Ask what holds, when the figure has changed since. */
  async function look() {
    const figure = view.get();
    const now = JSON.stringify(figure);
    if (now === last) return;
    last = now;
    const mine = (asked += 1);
    let found;
    try {
      found = await ask("drawn", { figure });
    } catch {
      return;
    }
    if (mine !== asked) return;
    found.given.forEach((holds, i) => tell(givens[i], holds, holds));
    tell(goal, found.goal, !found.goal);
  }

  function tell(one, holds, wanted) {
    write(one.mark, `${wanted ? "✓" : "✗"} ${say(holds ? "prove.turn_holds" : "prove.turn_fails")}`);
    set(one.element, { "data-good": `${wanted}` });
  }

  async function handIn() {
    if (frozen) return;
    const verdict = await atRest([hand], () => submit({ not_forced: true, figure: view.get() }));
    if (verdict.marks) view.setMarks(verdict.marks);
  }

  return {
    setFrozen(on) {
      frozen = on;
      hand.disabled = on;
    },
    destroy() {
      clearInterval(timer);
      element.remove();
      view.destroy();
    },
  };
}
