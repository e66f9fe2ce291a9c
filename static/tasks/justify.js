// Justify: one sentence to complete, in the hand of a proof row. The verdict underlines the blank that fails and says why.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { h, set } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "./handing.js";
import { angleName, besides, failing, freshName, givenMarks, hintSlips, joinMarks, ownConstruction } from "./parts.js";
import { said } from "../words/statement.js";

// Each blank and the part of the verdict that speaks of it.
const PART = {
  a: "angles",
  b: "angles",
  pair: "pair",
  transversal: "transversal",
  relation: "relation",
  l: "lines",
  m: "lines",
  theorem: "theorem",
};
const ORDER = ["a", "b", "pair", "transversal", "relation", "l", "m", "theorem"];
const TAKES = { a: "angle", b: "angle", transversal: "line", l: "line", m: "line" };

export function mount({ paper, card }, ctx) {
  const { task } = ctx;
  const values = { ...ctx.saved?.values };
  let active = ORDER.find((blank) => !values[blank]) ?? "a";
  let frozen = false;
  let marks = joinMarks(givenMarks(task.given, task.figure), task.marks);
  const view = createFigure(paper, {
    figure: task.figure,
    marks,
    pick: "sides",
    title: task.words?.title,
    notToScale: task.not_to_scale,
    onpick: (item) => fill(item),
  });
  const beside = besides(paper);

  const angles = Object.keys(task.figure.angles).map((name) => ({ id: name, name: angleName(name) }));
  const named = (list) => list.map((id) => ({ id, name: id }));
  const lines = named(task.choices.lines);
  const choices = {
    a: angles,
    b: angles,
    pair: task.choices.pairs,
    transversal: named(task.choices.transversals),
    relation: task.choices.relations,
    l: lines,
    m: lines,
    theorem: task.choices.theorems,
  };
  const blanks = Object.fromEntries(ORDER.map((name) => [name, makeBlank(name)]));
  const given = h(
    "p",
    { class: "statement justify-given" },
    h("span", { class: "label" }, say("angles.given")),
    " ",
    task.given.map(said).join(",  ") || say("angles.given_nothing"),
  );
  const sentence = h("p", { class: "justify-sentence statement" }, ...words());
  const done = h("button", { type: "button", class: "action", onclick: () => hand() }, say("angles.say_so"));
  const none = h("button", { type: "button", class: "plain", onclick: () => hand(true) }, say("angles.not_enough"));
  const hints = hintSlips(
    (level) => ctx.ask("hint", { level }),
    (more) => view.setMarks(joinMarks(marks, more)),
  );
  const own = ownConstruction(ctx, (mine) => {
    marks = joinMarks(givenMarks(task.given, mine.figure), mine.marks);
    view.setFigure(mine.figure);
    view.setMarks(marks);
  });
  card.append(sentence, handing([done], [none]), ...(own ? [h("p", {}, own)] : []), hints);
  card.previousElementSibling?.replaceChildren(...given.childNodes);
  paint();

  /** The sentence with its blanks, in the order that the language wants. */
  function words() {
    return say("angles.sentence")
      .split(/(\[\w+\])/)
      .map((piece) => (/^\[\w+\]$/.test(piece) ? blanks[piece.slice(1, -1)] : piece));
  }

  function makeBlank(name) {
    const select = h("select", {
      class: "gap",
      id: freshName("blank"),
      "aria-label": say(`angles.blank_${name}`),
      "data-blank": name,
      onchange: () => put(name, select.value),
      onfocus: () => take(name),
    });
    select.append(
      h("option", { value: "" }, "____"),
      ...choices[name].map((choice) => h("option", { value: choice.id }, choice.name)),
    );
    select.value = values[name] ?? "";
    return select;
  }

  /** The blank that the next tap in the figure goes to. */
  function take(name) {
    active = name;
    paint();
  }

  function put(name, value) {
    values[name] = value;
    delete blanks[name].dataset.ok;
    ctx.save({ values });
    paint();
  }

  /** A tap in the figure goes to the blank in hand, or to the next one that takes such a thing. */
  function fill({ kind, name }) {
    if (frozen) return;
    const able = ORDER.filter((one) => TAKES[one] === kind);
    const to = TAKES[active] === kind ? active : (able.find((one) => !values[one]) ?? able[0]);
    blanks[to].value = name;
    put(to, name);
    active = ORDER.find((one) => TAKES[one] === kind && !values[one]) ?? to;
    paint();
  }

  function paint() {
    const chosen = [values.a, values.b].filter(Boolean);
    const line = [values.transversal].filter(Boolean).map((name) => ({ kind: "line", name }));
    view.setPicked([...chosen.map((name) => ({ kind: "angle", name })), ...line]);
    for (const name of ORDER)
      set(blanks[name], {
        "data-active": name === active ? "true" : null,
        "data-filled": values[name] ? "true" : null,
      });
  }

  async function hand(notEnough = false) {
    if (frozen) return;
    const missing = ORDER.find((name) => !values[name]);
    if (!notEnough && missing) {
      blanks[missing].focus();
      ctx.verdict(say("angles.blank_missing", { blank: say(`angles.blank_${missing}`) }), "mend");
      return;
    }
    const { a, b, pair, transversal, relation, l, m, theorem } = values;
    const verdict = await atRest([done, none], () =>
      ctx.submit(notEnough ? { none: true } : { angles: [a, b], pair, transversal, relation, lines: [l, m], theorem }),
    );
    show(verdict, notEnough);
  }

  function show(verdict, notEnough) {
    const parts = Object.fromEntries((verdict.parts ?? []).map((part) => [part.field, part]));
    for (const name of ORDER) {
      const part = notEnough ? null : parts[PART[name]];
      set(blanks[name], {
        "data-ok": part ? `${part.ok}` : null,
        "aria-invalid": part && !part.ok ? "true" : null,
        title: part && !part.ok ? part.text : null,
      });
    }
    view.setMarks(joinMarks(marks, verdict.marks));
    view.setPath(...(!notEnough && verdict.ok ? [values.a, values.b] : [null, null]));
    const claim = (task.lines ?? [values.l, values.m]).join(" ∥ ");
    if (verdict.figure)
      beside.show(
        verdict.figure,
        failing(
          task.given.filter((one) => !/=\s*[\d.]/.test(one)),
          claim,
          verdict.figure,
        ),
        say("angles.beside"),
      );
    else beside.hide();
  }

  return {
    setFrozen(on) {
      frozen = on;
      for (const element of [done, none, ...Object.values(blanks)]) element.disabled = on;
    },
    destroy() {
      beside.hide();
      view.destroy();
    },
  };
}
