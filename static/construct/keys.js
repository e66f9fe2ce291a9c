// The keyboard on the paper: one Tab stop, arrows go from spot to spot, Enter does what a tap does. Single letters do what the
// instruments and their buttons do, only while a spot has focus.
import { far } from "./geometry.js";
import { allSpots } from "./spots.js";
import { shownMoves } from "./state.js";
import { svg } from "../ui/elements.js";
import { n, toScreen } from "./view.js";
import { spotWords } from "./words.js";
import { say } from "../words/say.js";

const WAYS = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const TOOLS = { c: "compass", s: "straightedge", p: "pencil" };
const BUTTONS = { a: "swing", r: "round", l: "longer", o: "open", u: "undo", k: "check" };

const keyOf = (spot) => spot.name ?? `${spot.of.join(" ")} ${spot.at.map((c) => c.toFixed(4))}`;

/** Spots that can be focused, kept in step by `update()`; `desk` as in events.js, with act(spot) and pick(tool). */
export function createKeys(layer, desk) {
  const shown = new Map(); // key → {element, spot}
  let here = null;
  let before = null; // the spots that were there before an arc was swung: the focus goes on to what it made
  layer.setAttribute("aria-label", say("construct.spots"));

  function update() {
    const { state, view } = desk;
    const spots = allSpots(state.values).filter((spot) => inside(view, spot.at));
    const wanted = new Set(spots.map(keyOf));
    const was = [...shown.values()].find(({ element }) => element === document.activeElement);
    for (const [key, { element }] of shown) {
      if (wanted.has(key)) continue;
      element.remove();
      shown.delete(key);
    }
    for (const spot of spots) place(spot);
    if (!shown.has(here)) here = nearestTo(here);
    for (const [key, { element }] of shown)
      element.setAttribute("tabindex", key === here && !desk.frozen() ? "0" : "-1");
    if (before) goOn(spots);
    // A crossing that was marked is a point now: the focus stays at that place.
    if (was && !was.element.isConnected) {
      const near = [...shown.values()].sort((a, b) => far(a.spot.at, was.spot.at) - far(b.spot.at, was.spot.at))[0];
      if (near) focus(keyOf(near.spot));
    }
  }

  /** After an arc: to the first crossing that it made, from above; where it made none, the focus stays on the paper. */
  function goOn(spots) {
    const made = spots
      .filter((spot) => spot.kind === "crossing" && !before.has(keyOf(spot)))
      .sort((a, b) => b.at[1] - a.at[1]);
    before = null;
    focus(made.length ? keyOf(made[0]) : here);
  }

  function place(spot) {
    const key = keyOf(spot);
    let entry = shown.get(key);
    if (!entry) {
      const element = svg("g", { role: "button", class: "c-spot", tabindex: "-1" });
      element.append(
        svg("circle", { class: "c-hit", r: 13 }),
        svg("circle", { class: "c-ring", r: 13 }),
        svg("circle", { class: "c-ring-in", r: 10 }),
      );
      element.addEventListener("focus", () => {
        here = key;
        for (const other of shown.values())
          other.element.setAttribute("tabindex", other.element === element ? "0" : "-1");
      });
      // Only a click that no pointer made on the paper: one from an aid that activates what is focused.
      element.addEventListener("click", () => desk.act(shown.get(key).spot));
      layer.append(element);
      entry = { element };
      shown.set(key, entry);
    }
    entry.spot = spot;
    const [x, y] = toScreen(desk.view, spot.at);
    entry.element.setAttribute("transform", `translate(${n(x)} ${n(y)})`);
    entry.element.setAttribute("aria-label", spotWords(spot, desk.state.start, shownMoves(desk.state)));
  }

  function nearestTo(key) {
    const first = shown.keys().next().value ?? null;
    if (!key) return first;
    return [...shown.keys()].find((other) => other === key) ?? first;
  }

  function focus(key) {
    here = key;
    shown.get(key)?.element.focus({ preventScroll: true });
  }

  /** The nearest spot in a direction: near to the arrow's line counts more than near to here. */
  function toward([dx, dy]) {
    const from = shown.get(here);
    if (!from) return null;
    const [x, y] = toScreen(desk.view, from.spot.at);
    let best = null;
    let least = Infinity;
    for (const [key, { spot }] of shown) {
      if (key === here) continue;
      const [sx, sy] = toScreen(desk.view, spot.at);
      const ahead = (sx - x) * dx + (sy - y) * dy;
      const aside = Math.abs((sx - x) * dy) + Math.abs((sy - y) * dx);
      if (ahead <= 0.5 || aside > ahead * 3) continue;
      const cost = ahead + aside * 2;
      if (cost < least) [best, least] = [key, cost];
    }
    return best;
  }

  function onKey(event) {
    if (desk.frozen() || event.ctrlKey || event.metaKey || event.altKey || !shown.has(here)) return;
    if (WAYS[event.key]) {
      const next = toward(WAYS[event.key]);
      if (next) focus(next);
      else desk.tell("nothing_there");
    } else if (event.key === "Home" || event.key === "End") {
      focus([...shown.keys()].at(event.key === "Home" ? 0 : -1));
    } else if (event.key === "Enter" || event.key === " ") {
      desk.act(shown.get(here).spot);
    } else if (event.repeat || !letter(event.key.toLowerCase())) return; // a letter held down is one press
    event.preventDefault();
  }

  function letter(key) {
    if (TOOLS[key]) desk.pick(TOOLS[key]);
    else if (BUTTONS[key]) desk[BUTTONS[key]]();
    else if (key === "m") desk.mark(shown.get(here).spot);
    else return false;
    return true;
  }

  layer.addEventListener("keydown", onKey);
  return {
    update,
    focusFirst: () => focus(here ?? shown.keys().next().value),
    /** With the next drawing the focus goes on to what is made until then. */
    follow() {
      before = new Set(shown.keys());
    },
    unbind: () => layer.removeEventListener("keydown", onKey),
  };
}

function inside(view, at) {
  const [x, y] = toScreen(view, at);
  return x > -4 && y > -4 && x < view.w + 4 && y < view.h + 4;
}
