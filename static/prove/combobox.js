// A reason field: type and choose (ARIA APG, editable combobox with a listbox; list autocomplete, manual selection).
// The list opens below the field and pushes what follows down, so nothing is covered on a small screen.
import { h, pressed, set, write } from "../ui/elements.js";
import { say } from "../words/say.js";

let count = 0;

/** Whether a pointer is down, anywhere on the page. */
const press = { down: false };
for (const type of ["pointerdown", "pointerup", "pointercancel"]) {
  globalThis.document?.addEventListener(
    type,
    () => {
      press.down = type === "pointerdown";
    },
    true,
  );
}

const plain = (text) =>
  text.toLocaleLowerCase().replaceAll("∠s", "angles").replaceAll("∠", "angle").replaceAll(/[.,]/g, "");

/** Reasons whose name, abbreviation or id holds every word typed, those that begin with it first. */
export function matching(reasons, typed) {
  const words = plain(typed).split(/\s+/).filter(Boolean);
  if (!words.length) return reasons;
  const scored = reasons.map((reason, i) => {
    const texts = [reason.name, reason.short, reason.id.replaceAll("-", " ")].map(plain);
    const all = texts.join(" ").split(/\s+/);
    if (!words.every((word) => all.some((one) => one.startsWith(word)))) return null;
    return { reason, rank: (texts.some((text) => text.startsWith(words.join(" "))) ? 0 : 1000) + i };
  });
  return scored
    .filter(Boolean)
    .sort((a, b) => a.rank - b.rank)
    .map((one) => one.reason);
}

/**
 * options: reasons [{id, name, short, says}], value (id or words), label, onchange(value), onfocus.
 * → {element, input, set(value), disable(on), mark(invalid, describedby)}
 */

export function createReason(options) {
  const id = `reason-${(count += 1)}`;
  const byId = Object.fromEntries(options.reasons.map((reason) => [reason.id, reason]));
  let open = false;
  let active = -1;
  let shown = [];
  const input = h("input", {
    class: "reason-field",
    type: "text",
    role: "combobox",
    autocomplete: "off",
    spellcheck: "false",
    id,
    "aria-label": options.label,
    "aria-autocomplete": "list",
    "aria-expanded": "false",
    "aria-controls": `${id}-list`,
    placeholder: say("prove.reason_hint"),
    maxlength: 120,
  });
  const list = h("ul", {
    class: "reason-list",
    role: "listbox",
    id: `${id}-list`,
    "aria-label": options.label,
    hidden: true,
  });
  const told = h("p", { class: "words", role: "status" });
  const whole = h("span", { class: "reason-whole", "aria-hidden": "true" });
  const element = h("div", { class: "reason" }, input, whole, list, told);
  let value = "";

  function show(text) {
    value = text;
    input.value = byId[text]?.name ?? text;
    fit();
  }

  /** A name that is longer than its field stands whole below it: a converse and its original begin alike. */
  function fit() {
    const cut = input.clientWidth > 0 && input.scrollWidth > input.clientWidth + 1;
    write(whole, cut ? input.value : "");
  }
  new ResizeObserver(fit).observe(input);

  function draw() {
    shown = matching(options.reasons, byId[value] && input.value === byId[value].name ? "" : input.value);
    list.replaceChildren(
      ...shown.map((reason, i) =>
        h(
          "li",
          {
            role: "option",
            id: `${id}-${i}`,
            "aria-selected": `${i === active}`,
            "data-id": reason.id,
            title: reason.says,
          },
          reason.name,
        ),
      ),
    );
    if (!shown.length)
      list.append(
        h(
          "li",
          { class: "reason-none", role: "option", "aria-disabled": "true", "aria-selected": "false" },
          say("prove.reasons_none"),
        ),
      );
    set(input, { "aria-activedescendant": active >= 0 ? `${id}-${active}` : null });
    list.children[active]?.scrollIntoView({ block: "nearest" });
  }

  function expand(on) {
    if (open === on) return;
    open = on;
    active = -1;
    set(list, { hidden: !on });
    set(input, { "aria-expanded": `${on}`, "aria-activedescendant": null });
    if (on) {
      draw();
      list.scrollIntoView({ block: "nearest" });
    }
    write(
      told,
      on ? say(shown.length === 1 ? "prove.reasons_one" : "prove.reasons_some", { count: shown.length }) : "",
    );
  }

  function choose(reason) {
    show(reason.id);
    expand(false);
    options.onchange(value);
  }

  /** The list stands until the press that takes the focus is over: closed under it, it would move the button pressed. */
  function fold() {
    const end = () => setTimeout(() => document.activeElement !== input && expand(false));
    if (press.down) document.addEventListener("pointerup", end, { once: true });
    else end();
  }

  function leave() {
    if (document.activeElement === input) expand(false);
    else fold();
    if (input.value.trim() === (byId[value]?.name ?? value)) return;
    // Words typed in full count as the choice; the server knows every house's words.
    const exact = options.reasons.find((reason) =>
      [reason.name, reason.short, reason.id].map(plain).includes(plain(input.value.trim())),
    );
    show(exact ? exact.id : input.value.trim());
    options.onchange(value);
  }

  function key(event) {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (!open) expand(true);
      const step = event.key === "ArrowDown" ? 1 : -1;
      active =
        active < 0 ? (step > 0 ? 0 : shown.length - 1) : (active + step + shown.length) % Math.max(1, shown.length);
      draw();
    } else if (event.key === "Enter") {
      event.preventDefault();
      if (open && active >= 0) choose(shown[active]);
      else if (open && shown.length === 1) choose(shown[0]);
      else leave();
    } else if (event.key === "Escape" && open) {
      event.stopPropagation();
      expand(false);
    } else if (event.key === "Home" || event.key === "End") {
      active = -1;
    }
  }

  input.addEventListener("focus", () => options.onfocus?.());
  input.addEventListener("click", () => expand(true));
  input.addEventListener("input", () => {
    if (!open) expand(true);
    active = -1;
    draw();
  });
  input.addEventListener("keydown", key);
  input.addEventListener("blur", leave);
  // Pressing an option must not take the focus out of the field before the choice is made.
  list.addEventListener("pointerdown", (event) => event.preventDefault());
  list.addEventListener("click", (event) => {
    const option = pressed(event, "[data-id]");
    if (option) choose(byId[option.dataset.id ?? ""]);
  });
  show(options.value ?? "");

  return {
    element,
    input,
    set: show,
    disable: (on) => (input.disabled = on),
  };
}
