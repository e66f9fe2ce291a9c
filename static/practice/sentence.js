// A sentence to be written: built from parts by taps or keys, or typed; both fill the same line. The server reads it.

import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";

let count = 0;

/** The sentence of a joint and two parts; a capital where it begins with a word. */
export function compose(joint, first, last) {
  const second = last.tile.later ?? last.tile;
  const text = joint.sentence
    .replace("{first}", first.tile[first.denied ? "denied" : "said"])
    .replace("{last}", second[last.denied ? "denied" : "said"]);
  return /^\p{L}{2}/u.test(text) ? text[0].toUpperCase() + text.slice(1) : text;
}

/** The parts that build exactly this text: {joint, slots}, or null. */
export function taken({ joints, clauses }, text) {
  const plain = text.trim();
  for (const joint of joints) {
    for (const first of clauses) {
      for (const last of clauses) {
        for (const [a, b] of [
          [false, false],
          [false, true],
          [true, false],
          [true, true],
        ]) {
          const slots = [
            { tile: first, denied: a },
            { tile: last, denied: b },
          ];
          if (compose(joint, ...slots) === plain) return { joint, slots };
        }
      }
    }
  }
  return null;
}

/** {name, element, value(), set(text), mark(part), setFrozen(on)}; `announce` says what a tap did. */
export function createSentence(field, changed, announce) {
  const id = `sentence-${(count += 1)}`;
  const { joints, clauses } = field.tiles;
  let joint = joints[0];
  let slots = [null, null];
  let last = ""; // what the parts built
  let frozen = false;
  const note = h("p", { class: "blank-told", id: `${id}-told` });
  const line = h("textarea", {
    class: "field statement sentence-line",
    id,
    rows: 2,
    maxlength: 240,
    spellcheck: "false",
    autocapitalize: "off",
    autocomplete: "off",
    "aria-describedby": `${id}-how ${note.id}`,
    oninput: typed,
    onkeydown: enter,
  });
  const jointButtons = joints.map((one) =>
    h("button", { type: "button", class: "tile tile-joint", onclick: () => join(one) }, one.text),
  );
  const places = h("div", { class: "sentence-places" });
  const tiles = clauses.map((one) =>
    h("button", { type: "button", class: "tile statement", onclick: () => put(one) }, one.said),
  );
  const element = h(
    "div",
    { class: "blank sentence", role: "group", "aria-label": field.label },
    places,
    h(
      "div",
      { class: "tray" },
      h("div", { class: "tiles", role: "group", "aria-label": say("practice.sentence_joint") }, jointButtons),
      h("div", { class: "tiles", role: "group", "aria-label": say("practice.sentence_parts") }, tiles),
    ),
    h("label", { class: "label", for: id }, field.label),
    line,
    h("p", { class: "sentence-how", id: `${id}-how` }, say("practice.sentence_how")),
    note,
  );

  function join(one) {
    joint = one;
    build();
  }

  function put(tile) {
    const free = slots.indexOf(null);
    if (free < 0) {
      announce(say("practice.sentence_full"));
      return;
    }
    slots[free] = { tile, denied: false };
    build();
    announce(say(free ? "practice.sentence_second" : "practice.sentence_first", { part: tile.said }));
  }

  function out(i) {
    slots[i] = null;
    build();
    announce(say("practice.sentence_out"));
    tiles[0].focus();
  }

  function deny(i) {
    slots[i].denied = !slots[i].denied;
    build();
    /** @type {HTMLElement | null} */ (places.querySelector(`[data-not="${i}"]`))?.focus();
    announce(text(i));
  }

  const text = (i) => {
    const tile = i ? (slots[i].tile.later ?? slots[i].tile) : slots[i].tile;
    return tile[slots[i].denied ? "denied" : "said"];
  };

  /** What was said of the sentence before is no longer said of this one. */
  function renew() {
    mark();
    draw();
    changed();
  }

  function mark(part) {
    if (part) element.dataset.ok = part.ok;
    else delete element.dataset.ok;
    note.dataset.ok = part ? `${part.ok}` : "";
    write(note, part ? `${part.ok ? "✓" : "✗"} ${part.text}` : "");
  }

  /** The line follows the parts: the sentence once both stand, else nothing of the one before. */
  function build() {
    if (slots.every(Boolean)) line.value = compose(joint, ...slots);
    else if (line.value.trim() === last) line.value = "";
    last = slots.every(Boolean) ? line.value : "";
    renew();
  }

  function typed() {
    const found = taken(field.tiles, line.value);
    if (found) ({ joint, slots } = found);
    else slots = [null, null];
    last = found ? line.value.trim() : "";
    renew();
  }

  function enter(event) {
    if (event.key !== "Enter") return;
    event.preventDefault();
    line.form?.requestSubmit();
  }

  function place(i) {
    const name = say(i ? "practice.sentence_place_2" : "practice.sentence_place_1");
    if (!slots[i]) return h("span", { class: "place place-empty" }, name);
    return h(
      "span",
      { class: "place", role: "group", "aria-label": name },
      h("span", { class: "statement place-text" }, text(i)),
      h(
        "button",
        {
          type: "button",
          class: "plain place-not",
          "data-not": i,
          "aria-pressed": `${slots[i].denied}`,
          disabled: frozen,
          "aria-label": say("practice.sentence_not_long", { part: slots[i].tile.said }),
          onclick: () => deny(i),
        },
        say("practice.sentence_not"),
      ),
      h(
        "button",
        {
          type: "button",
          class: "plain place-out",
          disabled: frozen,
          "aria-label": say("practice.sentence_take_out", { part: text(i) }),
          onclick: () => out(i),
        },
        "×",
      ),
    );
  }

  function draw() {
    line.rows = Math.max(2, Math.ceil(line.value.length / 34));
    jointButtons.forEach((button, i) => button.setAttribute("aria-pressed", joints[i] === joint));
    const [before, between] = joint.sentence
      .split(/\{first\}|\{last\}/)
      .map((word) => word.trim().replace(/^,\s*/, ""));
    places.replaceChildren(
      ...[before, place(0), between, place(1)]
        .filter(Boolean)
        .map((one) => (typeof one === "string" ? h("span", { class: "place-word" }, one) : one)),
    );
  }

  draw();
  return {
    name: field.name,
    element,
    value: () => line.value.trim(),
    set(value) {
      line.value = value;
      typed();
    },
    mark,
    setFrozen(on) {
      frozen = on;
      for (const one of [line, ...jointButtons, ...tiles]) one.disabled = on;
      draw();
    },
  };
}
