// Choosing an angle, a line or a crossing: what a tap may mean, and the list that asks where it may mean several things.
import { say } from "../words/say.js";
import { anglesAt } from "./layout.js";
import { picks } from "./state.js";
import { put } from "../ui/svg.js";

/** What a tap at `point` may mean, by what can be chosen: a list of `{kind, name}`. */
export function candidates(state, point) {
  const found = [];
  const several = ["any", "sides"].includes(state.pick); // then each is meant only by a tap right at it
  const laid = state.laid;
  if (picks(state, "meet")) {
    for (const [name, meet] of Object.entries(laid.meets)) {
      if (meet.seen && Math.hypot(point[0] - meet.p[0], point[1] - meet.p[1]) < (several ? 9 : 24))
        found.push({ kind: "meet", name });
    }
  }
  if (picks(state, "line")) {
    const near = Object.entries(laid.lines)
      .filter(([, line]) => line)
      .map(([name, line]) => ({
        kind: "line",
        name,
        far: Math.abs((point[0] - line.a[0]) * line.d[1] - (point[1] - line.a[1]) * line.d[0]),
      }))
      .filter((one) => one.far < (several ? 7 : 18))
      .sort((a, b) => a.far - b.far);
    const crowd = near.filter((one) => one.far - near[0].far < 8);
    found.push(...crowd.map(({ kind, name }) => ({ kind, name })));
  }
  if (picks(state, "angle") && !found.length)
    found.push(...anglesAt(state.model, laid, point).map((name) => ({ kind: "angle", name })));
  return found;
}

/** `figure` holds state, svg, ground, refresh(), onpick(item). Answers `{at, element, rove, close}`; `close` says whether a list was open. */
export function createChooser({ state, svg, ground, refresh, onpick }) {
  let list = null;

  function chosen(item) {
    state.roving = { ...state.roving, [item.kind]: item.name };
    refresh();
    onpick?.(item);
  }

  function close(focus) {
    if (!list) return false;
    list.close();
    list = null;
    if (focus) svg.querySelector('[role="button"][tabindex="0"]')?.focus({ preventScroll: true });
    return true;
  }

  function ask(items, point) {
    close();
    list = showList(ground, items, point, {
      onchoose(item) {
        close(true);
        chosen(item);
      },
      oncancel: () => close(true),
      onhover(item) {
        for (const element of svg.querySelectorAll("[data-hover]")) element.removeAttribute("data-hover");
        if (item)
          svg.querySelector(`[data-kind="${item.kind}"][data-name="${item.name}"]`)?.setAttribute("data-hover", "");
      },
    });
  }

  return {
    close,
    /** A tap at a place; `target` is the very thing where it came without one. */
    at(point, target) {
      if (state.frozen || !state.pick) return;
      const found = target ? [{ kind: target.dataset.kind, name: target.dataset.name }] : candidates(state, point);
      if (found.length === 1) chosen(found[0]);
      else if (found.length > 1) ask(found, point);
    },
    element(element) {
      if (!state.frozen && element.getAttribute("role") === "button")
        chosen({ kind: element.dataset.kind, name: element.dataset.name });
    },
    /** The arrow keys go from one thing to the next of its kind. */
    rove(element, by) {
      const { kind } = element.dataset;
      const all = [...svg.querySelectorAll(`[data-kind="${kind}"][role="button"]`)];
      const at = all.indexOf(element);
      const next = all[by === Infinity ? all.length - 1 : by === -Infinity ? 0 : (at + by + all.length) % all.length];
      if (!next) return;
      state.roving = { ...state.roving, [kind]: next.dataset.name };
      for (const one of all) put(one, { tabindex: one === next ? 0 : -1 });
      next.focus({ preventScroll: true });
    },
  };
}

/** A list beside `point` in `ground`. Answers `{close()}`. */
function showList(ground, items, point, { onchoose, oncancel, onhover }) {
  const box = document.createElement("div");
  box.className = "figure-which";
  box.setAttribute("role", "group");
  box.setAttribute("aria-label", say("figure.which"));
  const title = document.createElement("p");
  title.className = "label";
  title.textContent = say("figure.which");
  box.append(title);
  for (const item of items) box.append(choice(textOf(item), () => onchoose(item), item));
  box.append(choice(say("figure.which_none"), oncancel, null));
  ground.append(box);
  const [w, h] = [ground.clientWidth, ground.clientHeight];
  box.style.left = `${Math.max(4, Math.min(point[0] + 14, w - box.offsetWidth - 4))}px`;
  box.style.top = `${Math.max(4, Math.min(point[1] - 20, h - box.offsetHeight - 4))}px`;
  box.querySelector("button").focus({ preventScroll: true });

  function choice(text, act, item) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plain";
    button.textContent = text;
    button.addEventListener("click", act);
    for (const type of ["focus", "pointerenter"]) button.addEventListener(type, () => onhover(item));
    return button;
  }

  function leave(event) {
    if (!box.contains(event.target)) oncancel();
  }
  // Not the press that opened it.
  setTimeout(() => document.addEventListener("pointerdown", leave, true));
  return {
    close() {
      document.removeEventListener("pointerdown", leave, true);
      onhover(null);
      box.remove();
    },
  };
}

function textOf(item) {
  return item.kind === "angle" ? `∠${item.name}` : say(`figure.${item.kind}`, { name: item.name });
}
