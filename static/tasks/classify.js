// Classify: give each pair its name, or find pairs that have a given name. The verdict says how a pair lies, not what it is.
import { atRest } from "../live/focus.js";
import { createFigure } from "../figure/figure.js";
import { h, set, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "./handing.js";
import { angleName, freshName } from "./parts.js";

export function mount(host, ctx) {
  return ctx.task.find ? mountFind(host, ctx) : mountNames(host, ctx);
}

function figureFor(paper, ctx, saved, more) {
  const { task } = ctx;
  return createFigure(paper, {
    figure: saved.figure ?? task.figure,
    marks: task.marks ?? {},
    movable: task.movable,
    title: task.words?.title,
    notToScale: task.not_to_scale,
    ...more,
  });
}

function mountNames({ paper, card }, ctx) {
  const { task } = ctx;
  const saved = ctx.saved ?? {};
  const names = { ...saved.names };
  const transversals = { ...saved.transversals };
  let figure = saved.figure ?? task.figure;
  let at = 0;
  let judged = {};
  let spoken = false; // whether a verdict speaks of a pair
  let frozen = false;
  const key = ([a, b]) => `${a},${b}`;
  const view = figureFor(paper, ctx, saved, {
    onmove() {},
    onchange: (next) => {
      figure = next;
      keep();
    },
  });

  const tabs = h("div", { class: "pairs", role: "group", "aria-label": say("angles.pairs") });
  const buttons = task.pairs.map((pair, i) => h("button", { type: "button", class: "pair", onclick: () => go(i) }));
  tabs.append(...buttons);
  const heading = h("p", { class: "pair-now statement" });
  const radio = freshName("name");
  const asked = h("legend", { class: "words" }); // of which pair, for those who come to a choice by ear
  const box = h("fieldset", { class: "choices pair-names" }, asked);
  const ofPair = h("span", { class: "words" });
  for (const choice of task.choices) {
    box.append(
      h(
        "label",
        {},
        h("input", { type: "radio", name: radio, value: choice.id, onchange: () => name(choice.id) }),
        h("span", {}, choice.name),
      ),
    );
  }
  const carrier = task.transversal ? lineChoice() : null;
  const following = h(
    "button",
    { type: "button", class: "plain", onclick: () => go(nextOpen()) },
    say("angles.next_pair"),
  );
  const done = h("button", { type: "button", class: "action", onclick: hand }, say("angles.check_all"));
  card.append(
    ...[
      task.pairs.length > 1 ? tabs : heading,
      carrier,
      box,
      handing([done], [task.pairs.length > 1 ? following : null]),
    ].filter(Boolean),
  );
  go(
    Math.max(
      0,
      task.pairs.findIndex((pair) => !names[key(pair)]),
    ),
  );

  function lineChoice() {
    const group = freshName("line");
    const set_ = h(
      "fieldset",
      { class: "choices choices-row" },
      h("legend", {}, say("angles.which_transversal"), " ", ofPair),
    );
    for (const line of [...task.lines, ""]) {
      const text = line || say("angles.no_transversal");
      set_.append(
        h(
          "label",
          {},
          h("input", { type: "radio", name: group, value: line, onchange: () => carry(line) }),
          h("span", { class: line ? "statement" : null }, text),
        ),
      );
    }
    return set_;
  }

  function ready(pair) {
    return Boolean(names[key(pair)]) && (!carrier || key(pair) in transversals);
  }

  function nextOpen() {
    const order = task.pairs.map((_, i) => (at + 1 + i) % task.pairs.length);
    return order.find((i) => !ready(task.pairs[i])) ?? (at + 1) % task.pairs.length;
  }

  function name(id) {
    names[key(task.pairs[at])] = id;
    delete judged[key(task.pairs[at])];
    unsay();
    keep();
    paint();
  }

  function carry(line) {
    transversals[key(task.pairs[at])] = line || null;
    delete judged[key(task.pairs[at])];
    unsay();
    keep();
    paint();
  }

  /** What was said is no longer so once the pair has another name. */
  function unsay() {
    if (spoken) ctx.verdict("", "plain");
    spoken = false;
  }

  function go(i) {
    at = i;
    paint();
    // What was said of another pair doesn't stand beside this one.
    const part = judged[key(task.pairs[i])];
    if (spoken || part) ctx.verdict(part?.text ?? "", part ? (part.ok ? "good" : "mend") : "plain");
  }

  function paint() {
    const pair = task.pairs[at];
    view.setPicked(pair);
    const [a, b] = pair.map(angleName);
    write(heading, say("angles.two", { a, b }));
    write(asked, say("angles.which_name", { a, b }));
    write(ofPair, say("angles.of_pair", { a, b }));
    for (const input of box.querySelectorAll("input")) input.checked = names[key(pair)] === input.value;
    if (carrier)
      for (const input of carrier.querySelectorAll("input"))
        input.checked = key(pair) in transversals && (transversals[key(pair)] ?? "") === input.value;
    task.pairs.forEach((one, i) => {
      const part = judged[key(one)];
      const named = names[key(one)];
      const state = part ? (part.ok ? "good" : "mend") : named ? "named" : "open";
      write(buttons[i], `${angleName(one[0])} ${angleName(one[1])}`);
      set(buttons[i], {
        "aria-current": i === at ? "true" : null,
        "data-state": state,
        "aria-label": say(`angles.pair_state_${state}`, { a: one[0], b: one[1] }),
      });
    });
  }

  function keep() {
    ctx.save({ names, transversals, figure }, figure);
  }

  async function hand() {
    if (frozen) return;
    spoken = true;
    const missing = task.pairs.findIndex((pair) => !ready(pair));
    if (missing >= 0) {
      // It speaks of the pair on show, which stays; pairs not come to yet are no mistake.
      const [a, b] = task.pairs[at].map(angleName);
      const open = task.pairs.filter((pair) => !ready(pair)).length;
      ctx.verdict(
        ready(task.pairs[at])
          ? say("angles.name_rest", { a, b, n: open, of: task.pairs.length })
          : say("angles.name_first", { a, b }),
        "plain",
      );
      return;
    }
    const verdict = await atRest([done], () =>
      ctx.submit({ names, ...(carrier ? { transversals } : {}), ...(task.movable.length ? { figure } : {}) }),
    );
    judged = Object.fromEntries((verdict.parts ?? []).map((part) => [part.field, part]));
    // The verdict speaks of the first pair to mend, so that is the one to show.
    const wrong = task.pairs.findIndex((pair) => judged[key(pair)] && !judged[key(pair)].ok);
    if (wrong >= 0) at = wrong;
    paint();
    if (verdict.ok) view.setPath(...task.pairs[at]);
  }

  return {
    setFrozen(on) {
      frozen = on;
      done.disabled = on;
      box.disabled = on;
    },
    destroy: () => view.destroy(),
  };
}

function mountFind({ paper, card }, ctx) {
  const { task } = ctx;
  const saved = ctx.saved ?? {};
  let found = saved.found ?? [];
  let picked = [];
  let judged = {};
  let frozen = false;
  let figure = saved.figure ?? task.figure;
  const view = figureFor(paper, ctx, saved, {
    pick: "angle",
    onpick: (item) => choose(item.name),
    onmove() {},
    onchange: (next) => {
      figure = next;
      keep();
    },
  });
  const wanted = h("p", { class: "pair-now statement" }, say("angles.find", { n: task.count, name: task.find.name }));
  const list = h("ol", { class: "found" });
  const help = h("p", { class: "part-note", "aria-live": "polite" });
  const done = h("button", { type: "button", class: "action", onclick: hand }, say("angles.check_all"));
  card.append(wanted, list, help, handing([done]));
  paint();

  function choose(name) {
    if (frozen) return;
    picked = picked.includes(name) ? picked.filter((one) => one !== name) : [...picked, name];
    if (picked.length === 2) {
      const pair = [...picked].sort((a, b) => a.localeCompare(b, undefined, { numeric: true }));
      if (!found.some((one) => one.join() === pair.join()) && found.length < task.count) found = [...found, pair];
      picked = [];
      keep();
    }
    paint();
  }

  function paint() {
    view.setPicked(picked.length ? picked : (found[found.length - 1] ?? []));
    list.replaceChildren(
      ...found.map((pair) => {
        const part = judged[pair.join()];
        return h(
          "li",
          { "data-state": part ? (part.ok ? "good" : "mend") : "named" },
          h("span", { class: "statement" }, say("angles.two", { a: angleName(pair[0]), b: angleName(pair[1]) })),
          " ",
          h(
            "button",
            {
              type: "button",
              class: "plain",
              "aria-label": say("angles.take_away_pair", { a: pair[0], b: pair[1] }),
              onclick: () => drop(pair),
            },
            say("angles.take_away"),
          ),
          part?.text ? h("span", { class: "part-note" }, part.text) : null,
        );
      }),
    );
    write(
      help,
      picked.length
        ? say("angles.find_second", { a: angleName(picked[0]) })
        : found.length < task.count
          ? say("angles.find_first")
          : "",
    );
  }

  function drop(pair) {
    found = found.filter((one) => one !== pair);
    keep();
    paint();
  }

  function keep() {
    ctx.save({ found, figure }, figure);
  }

  async function hand() {
    if (frozen) return;
    if (!found.length) {
      ctx.verdict(say("angles.find_first"), "mend");
      return;
    }
    const verdict = await atRest([done], () => ctx.submit({ found, ...(task.movable.length ? { figure } : {}) }));
    judged = Object.fromEntries((verdict.parts ?? []).map((part) => [part.field, part]));
    paint();
  }

  return {
    setFrozen(on) {
      frozen = on;
      done.disabled = on;
    },
    destroy: () => view.destroy(),
  };
}
