// Explore: turn and slide, watch eight measures, trace the path between two angles, and say what was seen.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { degrees, measure, parallels } from "../figure/model.js";
import { namePair } from "../figure/pairs.js";
import { handing } from "./handing.js";
import { holds } from "./reach.js";
import { h, set, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { angleName, freshName, joinMarks, ownConstruction } from "./parts.js";
import { said } from "../words/statement.js";

/** The angles that the task speaks of, where it speaks of a few. */
function inQuestion(task) {
  const text = [...task.reach, task.ask ?? ""].join(" ");
  const names = [...new Set([...text.matchAll(/∠\s*(\w+)/gu)].map(([, name]) => name))].filter(
    (name) => name in task.figure.angles,
  );
  return names.length <= 4 ? names : [];
}

export function mount({ paper, card }, ctx) {
  const { task } = ctx;
  const saved = ctx.saved ?? {};
  let figure = saved.figure ?? task.figure;
  let picked = saved.picked ?? [];
  let measures = saved.measures ?? task.measures === "shown";
  let answer = saved.answer ?? null;
  let frozen = false;
  let base = task.marks ?? {}; // what is marked before any answer
  let marked = false; // whether the last answer has marked more

  const view = createFigure(paper, {
    figure,
    marks: base,
    movable: task.movable,
    measures,
    asked: inQuestion(task),
    pick: "angle",
    moment: true,
    title: task.words?.title,
    notToScale: task.not_to_scale,
    onpick: (item) => choose(item.name),
    onmove: tellAsDrawn,
    onchange: (next) => {
      figure = next;
      // What the answer marked was true of the figure as it was.
      if (marked) view.setMarks(base);
      marked = false;
      rested = parallelPairs();
      tellAsDrawn();
      keep();
    },
    onmoment: tellMoment,
  });

  let rested = parallelPairs(); // which lines ran alike when the hand last let go

  const toggle = h("button", { type: "button", class: "plain", onclick: () => show(!measures) });
  const pairLine = h("p", { class: "pair-line statement", "aria-live": "polite" });
  const reach = h("ul", { class: "reach" });
  const marks = task.reach.map((statement) => {
    const mark = h("span", { class: "reach-mark" });
    reach.append(h("li", {}, h("span", { class: "statement" }, said(statement)), " ", mark));
    return [statement, mark];
  });
  const asked = task.question ? question() : null;
  // Lines that must stay where they are can't take the places of a construction's.
  const free = Object.keys(task.figure.lines).every((line) => task.movable.includes(line));
  const own = free ? ownConstruction(ctx, useOwn) : null;
  const done = h(
    "button",
    { type: "button", class: "action", onclick: hand },
    say(task.question ? "angles.answer" : "angles.done"),
  );
  card.append(
    ...[
      marks.length ? reach : null,
      pairLine,
      asked,
      handing([done], [task.measures === "hidden" ? null : toggle, own]),
    ].filter(Boolean),
  );
  show(measures);
  pick(picked);
  tellReach();

  function parallelPairs() {
    return parallels(view.model()).map((pair) => pair.join());
  }

  /** That lines will meet again is said only of lines that stood parallel, not of those that came past it. */
  function tellMoment({ came, went }) {
    const left = went.find((pair) => rested.includes(pair.join()));
    if (came.length) ctx.verdict(say("angles.moment", { l: came[0][0], m: came[0][1] }), "plain");
    else if (left) ctx.verdict(say("angles.moment_gone", { l: left[0], m: left[1] }), "plain");
    else ctx.verdict("", "plain");
  }

  function question() {
    const name = freshName("question");
    const box = h("fieldset", { class: "choices" }, h("legend", {}, task.question.ask));
    task.question.choices.forEach((choice, i) => {
      const input = h("input", { type: "radio", name, value: i, onchange: () => answerWith(i) });
      input.checked = answer === i;
      box.append(h("label", {}, input, h("span", {}, choice)));
    });
    return box;
  }

  function answerWith(i) {
    answer = i;
    keep();
  }

  function show(on) {
    measures = on;
    view.setMeasures(on);
    write(toggle, say(on ? "angles.measures_hide" : "angles.measures_show"));
    tellPair();
    keep();
  }

  function useOwn(made) {
    figure = made.figure;
    view.setFigure(figure);
    base = joinMarks(task.marks, made.marks);
    marked = false;
    view.setMarks(base);
    tellPair();
    tellReach();
    keep();
  }

  function choose(name) {
    if (picked.includes(name)) pick(picked.filter((other) => other !== name));
    else pick([...picked.slice(-1), name]);
    keep();
  }

  function pick(names) {
    picked = names.filter((name) => name in figure.angles);
    view.setPicked(picked);
    view.setPath(...(picked.length === 2 ? picked : [null, null]));
    tellPair();
  }

  /** Name the pair that is chosen: exploring is where the names are found. */
  function tellPair() {
    pairLine.toggleAttribute("data-quiet", picked.length < 2);
    if (picked.length < 2) return write(pairLine, say(picked.length ? "angles.pair_second" : "angles.pair_first"));
    const [a, b] = picked;
    const model = view.model();
    const named = namePair(model, a, b);
    const sizes = measures
      ? say("angles.pair_sizes", { x: degrees(measure(model, a)), y: degrees(measure(model, b)) })
      : "";
    const fields = {
      a: angleName(a),
      b: angleName(b),
      name: say(`angles.pair_${named.pair.replace(" ", "_")}`),
      t: named.transversal,
    };
    return write(pairLine, say(named.transversal ? "angles.pair_on" : "angles.pair_at", fields) + sizes);
  }

  /** What is true of the figure as it is drawn at this moment. */
  function tellAsDrawn() {
    if (picked.length === 2) tellPair();
    tellReach();
  }

  /** A tick beside each statement to reach, the moment that it holds as drawn. */
  function tellReach() {
    const model = view.model();
    for (const [statement, mark] of marks) {
      const now = holds(model, statement);
      if (mark.dataset.holds === `${now}`) continue;
      set(mark, { "data-holds": `${now}` });
      write(mark, now === null ? "" : say(now ? "angles.reach_holds" : "angles.reach_not_yet"));
    }
  }

  function keep() {
    if (ctx.role !== "preview") ctx.save({ figure, picked, measures, answer }, figure);
  }

  async function hand() {
    if (frozen) return;
    if (task.question && answer === null) {
      ctx.verdict(say("angles.answer_first"), "mend");
      return;
    }
    const verdict = await atRest([done], () => ctx.submit({ figure, ...(task.question ? { answer } : {}) }));
    if (verdict.marks) view.setMarks(joinMarks(base, verdict.marks));
    marked = Boolean(verdict.marks);
    if (verdict.ok) ctx.carry.set("explored", { figure });
  }

  return {
    setFrozen(on) {
      frozen = on;
      done.disabled = on;
      view.setMovable(on ? [] : task.movable);
    },
    destroy: () => view.destroy(),
  };
}
