// The card beside the paper: the steps as sentences, placing by numbers, moving the paper, the answer and its check.
import { h, inStep, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { handing } from "../tasks/handing.js";
import { givens, number } from "./replay.js";
import { foot } from "./geometry.js";
import { answer, answers, shownMoves } from "./state.js";
import { objectWords, sentence } from "./words.js";

/** The card. `desk` has state and the acts goTo, goOn, place, look, check, show. */
export function createCard(host, desk, { demonstration }) {
  const list = h("ol", { class: "c-steps" });
  const none = h("p", { class: "label" }, say("construct.steps_none"));
  const back = h(
    "p",
    { class: "toolbar", hidden: true },
    button("to_end", () => desk.goTo(null)),
    button("go_on_here", () => desk.goOn()),
  );
  const select = h("select", { class: "field", id: "c-answer", onchange: () => desk.choose(select.value) });
  const choice = h(
    "p",
    { class: "c-choice" },
    h("label", { class: "label", for: "c-answer" }, say("construct.answer")),
    " ",
    select,
  );
  const check = h("button", { type: "button", class: "action", onclick: () => desk.check() }, say("construct.hand_in"));
  const show = demonstration ? button("show_me", () => desk.show()) : null;
  const after = h("div", { class: "c-after" });
  const afterwards = h("span", { class: "c-afterwards" });
  // Below what scrolls: the shell moves `hand-in` there.
  const below = handing([check], [show, afterwards]);
  const own = collapsing(desk);
  host.append(
    h(
      "div",
      { class: "c-card" },
      h("h2", { class: "c-heading", id: "c-steps-title" }, say("construct.steps")),
      none,
      list,
      back,
      choice,
      after,
      h("div", { class: "c-slips" }, placing(desk), looking(desk), keyboard(), freeHand(desk), own.element),
    ),
    below,
  );
  list.setAttribute("aria-labelledby", "c-steps-title");

  let rows = 0; // how many steps the list had: a new one is brought into view

  function update() {
    const { state } = desk;
    const moves = state.moves;
    none.hidden = moves.length > 0;
    back.hidden = state.shown === null;
    inStep(
      list,
      moves.map((move, i) => ({ move, i })),
      ({ move }) => move.name,
      () => {
        const word = h("button", { type: "button", class: "c-step" });
        const note = h("span", { class: "c-note" });
        return h("li", {}, word, note);
      },
      (item, { i }) => {
        const [word, note] = /** @type {HTMLElement[]} */ ([...item.children]);
        write(word, sentence(i, state.start, moves));
        word.onclick = () => desk.goTo(i + 1);
        const here = state.shown === i + 1;
        if (here) word.setAttribute("aria-current", "step");
        else word.removeAttribute("aria-current");
        item.dataset.later = `${state.shown !== null && i >= state.shown}`;
        const told = state.marked[i];
        item.dataset.wrong = `${Boolean(told && !told.ok)}`;
        write(note, told && !told.ok ? told.note : "");
        note.hidden = !note.textContent;
      },
    );
    if (moves.length > rows && state.shown === null) list.scrollTop = list.scrollHeight;
    rows = moves.length;
    const names = answers(state);
    choice.hidden = names.length < 2;
    inStep(
      select,
      names,
      (name) => name,
      (name) => h("option", { value: name }),
      (option, name) => write(option, objectWords(name, state.start, shownMoves(state))),
    );
    if (names.length) select.value = answer(state);
    own.update();
    // What is constructed leaves the first place to the way on.
    check.className = state.answered ? "plain" : "action";
    if (show) show.hidden = state.answered;
    for (const control of [check, show, select]) if (control) control.disabled = desk.frozen();
  }

  return { update, after, afterwards, foot: below, list, focusShow: () => show?.focus({ preventScroll: true }) };
}

function button(key, act) {
  return h("button", { type: "button", class: "plain", onclick: act }, say(`construct.${key}`));
}

/** A point by numbers: anywhere by two of them, on an object by one. */
function placing(desk) {
  const where = h("select", { class: "field", id: "c-where" });
  const across = h("input", { class: "field c-number", id: "c-across", inputmode: "decimal", autocomplete: "off" });
  const up = h("input", { class: "field c-number", id: "c-up", inputmode: "decimal", autocomplete: "off" });
  const along = h("input", { type: "range", class: "c-along", id: "c-along", min: 0, max: 100, step: 1, value: 50 });
  const two = h(
    "span",
    { class: "c-two" },
    h("label", { class: "label", for: "c-across" }, say("construct.place_across")),
    across,
    h("label", { class: "label", for: "c-up" }, say("construct.place_up")),
    up,
  );
  const one = h(
    "span",
    { class: "c-one", hidden: true },
    h("label", { class: "label", for: "c-along" }, say("construct.place_along")),
    along,
  );
  const put = h("button", { type: "button", class: "plain", onclick: use }, say("construct.place_put"));
  const box = h(
    "details",
    { class: "slip c-place", ontoggle: options },
    h("summary", {}, say("construct.place_title")),
    h("p", {}, h("label", { class: "label", for: "c-where" }, say("construct.place_where")), " ", where),
    h("p", { class: "toolbar" }, two, one, put),
  );
  where.addEventListener("change", switched);
  where.addEventListener("focus", options);
  along.addEventListener("input", () => desk.look(spot()));

  function options() {
    const { state } = desk;
    const kept = where.value;
    const seen = new Set();
    const names = [...state.values]
      .filter(([name, value]) => {
        if (Array.isArray(value) || seen.has(givens(state.start)[name]?.join(" "))) return false;
        seen.add(givens(state.start)[name]?.join(" ") ?? name);
        return true;
      })
      .map(([name]) => name);
    where.replaceChildren(
      h("option", { value: "" }, say("construct.place_free")),
      ...names.map((name) => h("option", { value: name }, objectWords(name, state.start, shownMoves(state)))),
    );
    where.value = names.includes(kept) ? kept : "";
    switched();
  }

  function switched() {
    one.hidden = !where.value;
    two.hidden = Boolean(where.value);
    desk.look(where.value ? spot() : null);
  }

  function spot() {
    const thing = desk.state.values.get(where.value);
    if (where.value && thing) return { kind: "on", of: where.value, at: placeAlong(thing, Number(along.value) / 100) };
    const at = [across.value, up.value].map((text) => number(text.trim().replace(",", ".").replace("−", "-")));
    return at.every(Number.isFinite) && across.value.trim() && up.value.trim() ? { kind: "free", at } : null;
  }

  function use() {
    const found = spot();
    for (const field of [across, up]) field.setAttribute("aria-invalid", `${!found}`);
    if (!found) return desk.tell("off_paper");
    desk.look(null);
    return desk.act(found);
  }

  return box;
}

/** The point a part of the way along what can be seen of an object. */
function placeAlong(thing, part) {
  if (thing.r !== undefined) {
    const [from, extent] = thing.sweep ?? [0, 360];
    const a = ((from + extent * part) * Math.PI) / 180;
    return [thing.c[0] + thing.r * Math.cos(a), thing.c[1] + thing.r * Math.sin(a)];
  }
  const [low, high] = thing.kind === "line" ? [-0.5, 1.5] : thing.kind === "ray" ? [0.02, 1.5] : [0, 1];
  const t = low + (high - low) * part;
  /** @type {[number, number]} */
  const at = [thing.p[0] + t * (thing.q[0] - thing.p[0]), thing.p[1] + t * (thing.q[1] - thing.p[1])];
  return foot(thing, at) ?? at;
}

/** Buttons for what two fingers do: nearer, farther, sideways. */
function looking(desk) {
  const act = (key, run) => button(key, run);
  return h(
    "details",
    { class: "slip" },
    h("summary", {}, say("construct.paper_title")),
    h(
      "p",
      { class: "toolbar" },
      act("zoom_in", () => desk.zoomBy(1.4)),
      act("zoom_out", () => desk.zoomBy(1 / 1.4)),
      act("zoom_fit", () => desk.fit()),
      act("pan_left", () => desk.panBy(1, 0)),
      act("pan_right", () => desk.panBy(-1, 0)),
      act("pan_up", () => desk.panBy(0, 1)),
      act("pan_down", () => desk.panBy(0, -1)),
    ),
  );
}

/** The letters that do what the instruments and buttons do. */
function keyboard() {
  return h(
    "details",
    { class: "slip" },
    h("summary", {}, say("construct.keys_title")),
    h("p", {}, say("construct.keys")),
  );
}

/** The compass of Euclid's days, for a task that asks for it or for a student who wants it harder. */
function collapsing(desk) {
  const box = h("input", { type: "checkbox", onchange: () => desk.compass(box.checked ? "collapsing" : "modern") });
  return {
    element: h("label", { class: "c-free" }, box, " ", say("construct.compass_closes")),
    update() {
      box.checked = desk.state.compass === "collapsing";
      box.disabled = desk.state.locked || desk.frozen();
    },
  };
}

/** A student must be able to be wrong: with a free hand nothing snaps to a crossing. */
function freeHand(desk) {
  return h(
    "label",
    { class: "c-free" },
    h("input", {
      type: "checkbox",
      onchange: (/** @type {Event & {target: HTMLInputElement}} */ event) => desk.free(event.target.checked),
    }),
    " ",
    say("construct.free_hand"),
  );
}
