// Practice: one item after the other, as long as wanted. How far one has come is said in words; there are no points.

import { createFigure } from "../figure/figure.js";
import { createItem, gently } from "../practice/item.js";
import { h } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "./handing.js";

export function mount(host, ctx) {
  let frozen = false;
  let item = null;
  let small = null;
  let here = ctx.task;
  const save = gently((work) => ctx.save(work));
  const head = h("p", { class: "practice-head label" });
  const example = h("div", {});
  const body = h("div", {});
  const next = h(
    "button",
    { type: "button", class: "action practice-next", hidden: true, onclick: go },
    say("practice.next"),
  );
  const standing = h("dl", { class: "standing" });
  const slip = h("details", { class: "slip standing-slip" }, h("summary", {}, say("practice.standing")), standing);
  const foot = handing([next]);
  host.card.append(head, example, body, slip, foot);

  async function go() {
    if (frozen) return;
    next.disabled = true;
    try {
      here = await ctx.ask("next", {});
      ctx.verdict("", "plain");
      draw(null);
      item.focus();
    } catch (error) {
      ctx.verdict(error.message, "mend");
    } finally {
      next.disabled = false;
    }
  }

  function draw(saved) {
    item?.destroy();
    small?.destroy();
    small = null;
    next.hidden = true;
    head.textContent =
      here.n < here.count
        ? say("practice.head", { n: here.n + 1, count: here.count, family: here.family })
        : say("practice.head_more", { n: here.n + 1, family: here.family });
    example.replaceChildren();
    if (here.back) example.append(h("p", { class: "notice" }, here.back));
    if (here.example) example.append(worked(here.example));
    standing.replaceChildren(...here.standing.flatMap((s) => [h("dt", {}, s.title), h("dd", {}, s.counts)]));
    item = createItem({ paper: host.paper, card: body, foot }, here.item, {
      saved: saved?.n === here.n ? saved : null,
      ask: ctx.ask,
      submit: (reply) => {
        save.now();
        return ctx.submit({ n: here.n, ...reply });
      },
      verdict: ctx.verdict,
      changed: (work) => save({ n: here.n, ...work }),
      after,
      firstHint: here.first_hint,
    });
    item.setFrozen(frozen);
  }

  function after(told) {
    if (!told.more?.closed) return;
    item.setFrozen(true);
    item.close();
    item.openHow();
    next.hidden = false;
    next.focus();
  }

  /** A worked one of the same kind, before the first of a kind is tried. */
  function worked({ item: shown, working }) {
    const figure = h("div", { class: "worked-figure paper" });
    const details = h(
      "details",
      { class: "slip" },
      h("summary", {}, say("practice.worked")),
      h("p", { class: "exercise-prompt" }, shown.prompt),
      h("p", { class: "exercise-ask" }, shown.ask),
      figure,
      h(
        "ol",
        { class: "how" },
        working.map((text) => h("li", { class: "statement" }, text)),
      ),
    );
    details.addEventListener("toggle", () => {
      if (!details.open || small || !shown.figure) return;
      small = createFigure(figure, {
        figure: shown.figure,
        marks: shown.marks ?? undefined,
        movable: [],
        measures: false,
        size: "small",
        title: shown.words?.title ?? "",
        description: shown.words,
        notToScale: shown.not_to_scale,
      });
    });
    return details;
  }

  draw(ctx.saved);
  return {
    flush: () => save.now(),
    destroy() {
      save.now();
      item.destroy();
      small?.destroy();
    },
    setFrozen(on) {
      frozen = on;
      item.setFrozen(on || !next.hidden);
      next.disabled = on;
    },
  };
}
