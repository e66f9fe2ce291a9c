// One exercise on the page: the figure on the paper; the question, the blanks, the working and the hints on the card.

import { createFigure } from "../figure/figure.js";
import { h } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "../tasks/handing.js";
import { createBreaking } from "./breaking.js";
import { createField } from "./fields.js";
import { createHints } from "./hints.js";
import { createLines } from "./lines.js";
import { createOrder, proofTable } from "./rows.js";
import { createSentence } from "./sentence.js";

let count = 0;

/** A relation keeps both its sides on one line. */
const whole = (text) => text?.replace(/ ([∥∦⊥≅]) /g, "\u00a0$1\u00a0");

/**
 * Put `item` into {paper, card}. `saved` is {answer, working} from before; `ask(what, body)` reaches the server, `submit(reply)`
 * answers a verdict, `verdict(text, tone)` writes the verdict line. `after(verdict)` hears of each verdict. On an exit ticket
 * (`exit`) there are no hints; `own` is a question of the pack's own, which the page asks itself. `foot` is where the way to hand
 * in stands, below what scrolls; without it the card gets one, which the page moves there.
 * @param {{paper: HTMLElement, card: HTMLElement, foot?: HTMLElement | null}} places
 * @param {any} item
 * @param {{
 *   saved: any,
 *   ask: (what: string, body: any) => Promise<any>,
 *   submit: (reply: any) => Promise<any>,
 *   verdict: (text: string, tone: string) => void,
 *   changed: (work: any) => void,
 *   after?: (verdict: any) => void,
 *   firstHint?: string | null,
 *   exit?: boolean,
 *   own?: boolean,
 * }} task
 */
export function createItem(
  { paper, card, foot = null },
  item,
  { saved, ask, submit, verdict, changed, after, firstHint = null, exit = false, own = false },
) {
  const touched = () => changed({ answer: answer(), working: lines?.value() ?? [] });
  const aloud = (text) => verdict(text, "plain");
  const breaking = item.fields.some((field) => field.kind === "figure") ? createBreaking(paper, item, touched) : null;
  const figure =
    breaking?.view ??
    (item.figure
      ? createFigure(paper, {
          figure: item.figure,
          marks: item.marks ?? undefined,
          movable: [],
          measures: false,
          size: "seat",
          title: item.words?.title ?? "",
          description: item.words,
          notToScale: item.not_to_scale,
        })
      : null);
  const make = {
    order: (field) => createOrder(field, item.rows, touched, aloud),
    sentence: (field) => createSentence(field, touched, aloud),
  };
  const blanks = breaking?.blanks ?? item.fields.map((field) => (make[field.kind] ?? createField)(field, touched));
  const lines = item.working ? createLines({ changed: touched, check: checkLines, checks: !exit }) : null;
  const hints = createHints(
    (level) => ask("hint", { level }),
    () => {},
  );
  const done = h(
    "details",
    { class: "slip", hidden: true },
    h("summary", {}, say("practice.how")),
    h("ol", { class: "how" }),
  );
  const id = `exercise-${(count += 1)}`;
  const hand = h("button", { type: "submit", class: "action", form: id }, say("practice.hand_in"));
  const form = h(
    "form",
    {
      class: "exercise",
      id,
      novalidate: true,
      onsubmit: (event) => {
        event.preventDefault();
        give();
      },
    },
    item.prompt ? h("p", { class: "exercise-prompt" }, whole(item.prompt)) : null,
    // The pack's own question stands above already.
    own ? null : h("p", { class: "exercise-ask", id: `${id}-ask` }, whole(item.ask)),
    item.rows && item.fields[0].kind !== "order" ? proofTable(item.rows) : null,
    firstHint ? h("p", { class: "notice" }, firstHint) : null,
    lines?.element ?? null,
    blanks.map((blank) => blank.element),
    exit ? null : hints.element,
    done,
  );
  // A group of choices carries the question that they answer, and what of it they are.
  for (const [i, group] of [...form.querySelectorAll("fieldset.blank")].entries()) {
    const legend = group.querySelector("legend");
    legend.id = `${id}-legend-${i}`;
    group.setAttribute("aria-labelledby", `${own ? "ask" : `${id}-ask`} ${legend.id}`);
  }
  card.append(form);
  if (foot) foot.prepend(hand);
  else card.append(handing([hand]));
  let frozen = false;
  let busy = false;

  function answer() {
    const values = {};
    for (const blank of blanks) {
      const value = blank.value();
      if (value !== "") values[blank.name] = value;
    }
    return values;
  }

  function unneeded() {
    const values = answer();
    item.fields.forEach((field, i) => {
      if (field.needless) blanks[i].element.hidden = values[field.needless.field] === field.needless.value;
    });
  }

  async function checkLines() {
    const working = lines.value();
    if (!working.length) {
      verdict(say("practice.no_lines"), "plain");
      return;
    }
    try {
      const said = await ask("lines", { working });
      lines.mark(said.rows);
      const open = said.rows.findIndex((row) => row.ok === null);
      const wrong = said.first_wrong ?? (open < 0 ? null : open);
      verdict(
        wrong === null
          ? say("practice.lines_good")
          : say("practice.line_wrong", { n: wrong + 1, text: said.rows[wrong].text }),
        wrong === null ? "good" : "mend",
      );
    } catch (error) {
      verdict(error.message, "mend");
    }
  }

  async function give() {
    if (frozen || busy) return;
    busy = true;
    try {
      const working = lines?.value() ?? [];
      const told = await submit({ answer: answer(), ...(working.length ? { working } : {}) });
      if (told.code !== "kept") show(told);
    } catch (error) {
      verdict(error.message, "mend");
    } finally {
      busy = false;
    }
  }

  function show(told) {
    const parts = new Map(told.parts.map((part) => [part.field, part]));
    for (const blank of blanks) blank.mark(parts.get(blank.name));
    if (lines) lines.mark(told.parts.filter((part) => part.field.startsWith("working.")));
    const working = told.more?.working;
    done.hidden = !working;
    if (working)
      done.querySelector("ol").replaceChildren(...working.map((text) => h("li", { class: "statement" }, text)));
    after?.(told);
  }

  if (saved) {
    for (const blank of blanks) if (saved.answer?.[blank.name] !== undefined) blank.set(saved.answer[blank.name]);
    if (lines && saved.working?.length) lines.set(saved.working);
  }
  form.addEventListener("input", unneeded);
  form.addEventListener("change", unneeded);
  unneeded();

  return {
    show,
    openHow() {
      done.open = true;
    },
    /** Nothing more can be handed in here: the button that would do it goes. */
    close() {
      hand.hidden = true;
    },
    setFrozen(on) {
      frozen = on;
      hand.disabled = on;
      for (const part of [...blanks, lines]) part?.setFrozen(on);
    },
    focus() {
      /** @type {HTMLElement | null} */ (form.querySelector("input, select, button"))?.focus();
    },
    destroy() {
      figure?.destroy();
      form.remove();
      hand.remove();
    },
  };
}

/** Call `act` with the newest value, at most every `pause` milliseconds. */
export function gently(act, pause = 500) {
  let timer = 0;
  let newest;
  return Object.assign(
    (value) => {
      newest = value;
      if (!timer) {
        timer = setTimeout(() => {
          timer = 0;
          act(newest);
        }, pause);
      }
    },
    {
      now() {
        if (!timer) return;
        clearTimeout(timer);
        timer = 0;
        act(newest);
      },
    },
  );
}
