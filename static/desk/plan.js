// The plan of the lesson: parts and tasks in order, how many have answered each, and what can be done with the one that is open.
import { say } from "../words/say.js";
import { h, inStep, write } from "../ui/elements.js";
import { count } from "./readings.js";
import { asked, demonstration, taskStage } from "./stages.js";

const SETTLE = 1500; // ms
const fresh = new Map();

export function mountPlan(list, seats, desk) {
  const own = h("input", {
    type: "radio",
    name: "seats",
    id: "seats-own",
    onchange: () => desk.act("step", { task: null }),
  });
  const one = h("input", {
    type: "radio",
    name: "seats",
    id: "seats-one",
    onchange: () => desk.act("step", { task: desk.task }),
  });
  const oneLabel = h("label", { for: "seats-one" });
  const follow = h("input", {
    type: "checkbox",
    id: "seats-follow",
    // Shows the stage on every Seat; without this the stage is the Board's alone. What is on it may still be on its way.
    onchange: (event) => desk.act("follow", { on: event.target.checked }),
  });
  const frozen = h("input", {
    type: "checkbox",
    id: "seats-frozen",
    onchange: (event) => desk.act("freeze", { on: event.target.checked }),
  });
  seats.append(
    h(
      "fieldset",
      { class: "seats" },
      h("legend", { class: "words" }, say("desk.seats_see")),
      h("p", {}, own, h("label", { for: "seats-own" }, say("desk.seats_own"))),
      h("p", {}, one, oneLabel),
    ),
    h("p", { class: "seats-line" }, follow, h("label", { for: "seats-follow" }, say("desk.seats_board"))),
    h("p", { class: "seats-line" }, frozen, h("label", { for: "seats-frozen" }, say("desk.seats_still"))),
  );

  // What the teacher has just chosen stands until the server has had time to say the same: a state that was already on its
  // way must not turn the switch back under the hand.
  seats.addEventListener("change", () => {
    clearTimeout(fresh.get(seats));
    fresh.set(
      seats,
      setTimeout(() => {
        fresh.delete(seats);
        update(desk.state);
      }, SETTLE),
    );
  });

  function update(state) {
    const parts = (state.parts ?? []).filter((part) => !part.hidden);
    const room = count(state.seats ?? []).all;
    inStep(
      list,
      parts,
      (part) => part.id,
      makePart,
      (element, part) => updatePart(element, part, state, room),
    );
    if (!fresh.has(seats)) {
      own.checked = !state.step;
      one.checked = Boolean(state.step);
      follow.checked = Boolean(state.follow);
      frozen.checked = Boolean(state.frozen);
    }
    write(oneLabel, say("desk.seats_one", { task: title(parts, state.step ?? desk.task) }));
    one.disabled = !state.step && !desk.task;
  }

  function makePart() {
    return h(
      "li",
      { class: "plan-part" },
      h("h3", { class: "plan-title" }, h("span"), h("span", { class: "plan-minutes" })),
      h("ol", { class: "plan-tasks" }),
    );
  }

  function updatePart(element, part, state, room) {
    const [name, minutes] = element.firstElementChild.children;
    write(name, part.title);
    write(minutes, part.minutes ? say("desk.minutes", { minutes: part.minutes }) : "");
    inStep(
      element.lastElementChild,
      part.tasks,
      (task) => task.id,
      makeTask,
      (line, task) => updateTask(line, task, state, room),
    );
  }

  function makeTask(task) {
    const button = h(
      "button",
      {
        type: "button",
        class: "plan-task",
        "aria-expanded": "false",
        onclick() {
          desk.task = desk.task === task.id ? null : task.id;
          desk.redraw();
        },
      },
      h("span", { class: "plan-name" }),
      h("span", { class: "plan-count" }),
    );
    return h("li", {}, button, h("p", { class: "plan-where" }), h("p", { class: "plan-verbs", hidden: true }));
  }

  function updateTask(line, task, state, room) {
    const [button, where, verbs] = line.children;
    const open = desk.task === task.id;
    const [name, answered] = button.children;
    write(name, task.title);
    write(answered, task.replied || room ? say("desk.of", { done: task.replied ?? 0, all: room }) : "");
    button.setAttribute("aria-expanded", `${open}`);
    const shown = state.stage?.task?.id === task.id || state.stage?.task === task.id;
    write(
      where,
      [state.step === task.id && say("desk.where_step"), shown && say("desk.where_board")].filter(Boolean).join(" · "),
    );
    where.hidden = !where.textContent;
    if (open && !verbs.childElementCount) verbs.append(...taskVerbs(task));
    // The title is another once the period takes another language's words.
    for (const words of verbs.querySelectorAll(".words")) write(words, ` ${task.title}`);
    verbs.hidden = !open;
  }

  function taskVerbs(task) {
    const verb = (key, act) =>
      h(
        "button",
        { type: "button", class: "plain", onclick: act },
        say(key),
        h("span", { class: "words" }, ` ${task.title}`),
      );
    const verbs = [
      verb("desk.do_board", async () => {
        const told = await ask(task);
        if (told) desk.stage(taskStage(told.public ?? told.task));
      }),
      verb("desk.do_step", () => desk.act("step", { task: task.id })),
      verb("desk.do_answers", () => desk.open("answers")),
    ];
    if (["prove", "construct"].includes(task.kind)) {
      verbs.splice(
        1,
        0,
        verb(`desk.do_demo_${task.kind}`, async () => {
          const told = await ask(task);
          const stage = told && (await demonstration(told).catch((fault) => desk.tell(fault.message, "mend")));
          if (!stage) return;
          desk.stage(stage);
          desk.open("board");
        }),
      );
    } else {
      verbs.splice(
        1,
        0,
        verb("desk.do_figure", async () => {
          const told = await ask(task);
          const figure = asked(told?.public ?? told?.task)?.figure;
          if (!figure) return desk.tell(say("desk.no_figure"), "mend");
          desk.stage({ kind: "figure", task: task.id, figure, marks: {}, measures: false, caption: "" });
          return desk.open("board");
        }),
      );
    }
    return verbs;
  }

  function ask(task) {
    return desk.detail(task.id).catch((fault) => desk.tell(fault.message, "mend"));
  }

  return { update };
}

function title(parts, id) {
  for (const part of parts) for (const task of part.tasks) if (task.id === id) return task.title;
  return say("desk.seats_none");
}
