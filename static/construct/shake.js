// Shaking a construction: its free points are moved and the rest is made again. What was constructed holds, what was placed by
// eye comes apart. By itself, by drag, by two taps, by arrow keys; nothing of the construction or of a reply changes.
import { h, svg, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { claim, missed } from "./claim.js";
import { drawing } from "./draw.js";
import { far } from "./geometry.js";
import { placeLabels } from "./labels.js";
import { asPlaces, fromPlaces, moveTo, replayMoved, tie } from "./moved.js";
import { sync } from "../ui/svg.js";
import { n, toScreen, toWorld } from "./view.js";

const TAP = 7;
const ARROWS = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const LONG = 2200; // ms of one shake
const CALM = 120; // ms between two sentences while something moves
const GOLDEN = 2.39996; // radians: each point goes its own way, and another one at every shake

/**
 * Begin. `desk`: root and layers of the paper, view, state {construction, start, moves, result} with the moves on show, text (size
 * of letters), tones as drawing() takes them, reducedMotion, widen(points, place) to bring a place into the window, moved(places)
 * after every change, done(), and remote where another page does the shaking. Gives {draw, shake, giveUp, focus, show(places), end, element}: `element` holds what is said and
 * the buttons.
 */
export function createShake(desk) {
  const { root, layers, view, state } = desk;
  const tied = tie(state.start, state.moves);
  let free = tied.free;
  let values = tied.values;
  let off = beside(values); // where letters stand beside their points: carried along in a move, placed anew when it ends
  let held = null; // the point that a tap has picked up
  let gesture = null;
  let frame = 0;
  let rounds = 0;
  let found; // the claim of what is drawn
  let clock = 0;

  const text = h("p", { class: "c-now c-claim" });
  const spoken = h("p", { class: "words", "aria-live": "polite" });
  const again = h("button", { type: "button", class: "plain", onclick: shake }, say("construct.shake_again"));
  const back = h("button", { type: "button", class: "action", onclick: () => desk.done() }, say("construct.shake_end"));
  const element = h(
    "div",
    { class: "c-shaking" },
    text,
    spoken,
    desk.remote ? null : h("p", { class: "toolbar" }, back, again),
  );

  const handles = svg("g", { class: "c-handles", role: "group", "aria-label": say("construct.shake_points") });
  const knobs = new Map();
  for (const name of free.keys()) {
    const knob = svg("g", {
      class: "c-knob",
      role: "button",
      tabindex: 0,
      "aria-label": say("construct.shake_point", { name }),
    });
    knob.append(
      svg("circle", { class: "c-hit", r: 20 }),
      svg("circle", { class: "c-grip", r: 11 }),
      svg("circle", { class: "c-ring", r: 15 }),
      svg("circle", { class: "c-ring-in", r: 12 }),
    );
    knob.addEventListener("keydown", (event) => onKey(event, name));
    knobs.set(name, knob);
    handles.append(knob);
  }
  layers.spots.setAttribute("display", "none");
  root.append(handles);

  let box = null; // where the paper lies in the window: read when a hand comes, not while it moves

  /** Where a press lies, in pixels of the paper. */
  /** @type {(event: PointerEvent) => [number, number]} */
  const at = (event) => {
    box ??= root.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };

  function nearestKnob(place, reach) {
    const nearest = [...free.keys()]
      .map((name) => [name, far(toScreen(view, values.get(name)), place)])
      .sort((a, b) => a[1] - b[1])[0];
    return nearest && nearest[1] <= reach ? nearest[0] : null;
  }

  function down(event) {
    if (event.button !== 0 && event.pointerType === "mouse") return;
    stop();
    box = null;
    const place = at(event);
    const name = nearestKnob(place, event.pointerType === "mouse" ? 18 : 28);
    gesture = { id: event.pointerId, from: place, name, before: free, moved: false };
    root.setPointerCapture(event.pointerId);
    event.preventDefault();
  }

  /** A finger on a free point moves that point; where the paper lets the page be scrolled, other touches still do. */
  function keep(event) {
    if (gesture?.name && event.cancelable) event.preventDefault();
  }

  function move(event) {
    if (gesture?.id !== event.pointerId) return;
    const now = at(event);
    if (!gesture.moved && far(now, gesture.from) > TAP) gesture.moved = true;
    if (!gesture.moved || !gesture.name) return;
    gesture.now = now;
    if (!frame) frame = requestAnimationFrame(drag);
  }

  function drag() {
    frame = 0;
    if (gesture?.now) put(gesture.name, toWorld(view, gesture.now));
  }

  /** A tap picks a point up, a second one puts it down; a drag does both. Made at the end, so that it can be cancelled. */
  function up(event) {
    if (gesture?.id !== event.pointerId) return;
    const { name, moved } = gesture;
    gesture = null;
    if (moved) {
      if (name) put(name, toWorld(view, at(event)));
      hold(null);
    } else if (held && name !== held) {
      put(held, toWorld(view, at(event)));
      hold(null);
    } else hold(held === name ? null : name);
    speak();
  }

  function cancel(event) {
    if (gesture && gesture.id === event.pointerId) giveUp();
  }

  /** Take back what a hand is in the middle of; true when there was something. */
  function giveUp() {
    if (!gesture && !held) return false;
    if (gesture) settle(gesture.before);
    gesture = null;
    hold(null);
    return true;
  }

  function onKey(event, name) {
    const way = ARROWS[event.key];
    if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
    stop();
    const step = event.shiftKey ? 1 : 8;
    const [x, y] = toScreen(view, values.get(name));
    put(name, toWorld(view, [x + way[0] * step, y + way[1] * step]));
    speak();
    event.preventDefault();
  }

  function hold(name) {
    held = name;
    for (const [other, knob] of knobs) knob.toggleAttribute("data-held", other === held);
    utter();
  }

  /** A point to a place; where the rest could not be made there, it stays where it was. */
  function put(name, place) {
    if (settle(moveTo(tied, free, name, place, values))) return;
    clearTimeout(clock);
    clock = 0;
    write(text, say("construct.shake_lost"));
  }

  function settle(next) {
    const made = replayMoved(tied, next);
    if (!made) return false;
    free = next;
    values = made;
    found = undefined;
    draw();
    tell();
    desk.moved?.(asPlaces(free));
    return true;
  }

  /** All free points somewhere else, `k` of the way there: away and to and fro at first, then at rest. */
  function along(from, round, far_, k) {
    const reach = far_ * (k * k * (3 - 2 * k) + 0.5 * Math.sin(5 * Math.PI * k) * (1 - k) ** 2);
    let next = from;
    [...from.keys()].forEach((name, i) => {
      const a = GOLDEN * (i + 1) + round * 2;
      const [x, y] = tied.values.get(name);
      const place = [x + reach * Math.cos(a), y + reach * Math.sin(a)];
      next = next.get(name).at ? new Map(next).set(name, { at: place }) : moveTo(tied, next, name, place, tied.values);
    });
    return next;
  }

  /** One shake from how it was drawn; as far as everything can be made all the way. */
  function shake() {
    stop();
    rounds += 1;
    const points = [...Object.keys(state.start.points)].map((name) => tied.values.get(name));
    const wide = Math.max(...points.flatMap((p) => points.map((q) => far(p, q))));
    let reach = wide * 0.16;
    const steps = [0.1, 0.25, 0.4, 0.6, 0.8, 1];
    const fine = (made) => made && Object.keys(state.start.points).every((name) => seen(name, made));
    while (reach > wide * 0.005 && !steps.every((k) => fine(replayMoved(tied, along(tied.free, rounds, reach, k)))))
      reach *= 0.7;
    const last = replayMoved(tied, along(tied.free, rounds, reach, 1)) ?? tied.values;
    const meets = claim(state.construction, state.start, last, state.result)?.meets;
    if (meets) desk.widen?.([...last.values()].filter(Array.isArray), meets);
    if (desk.reducedMotion) {
      settle(along(tied.free, rounds, reach, 1));
      return speak();
    }
    const began = performance.now();
    const round = rounds;
    const tick = (now) => {
      const k = Math.max(0, Math.min(1, (now - began) / LONG));
      settle(along(tied.free, round, reach, k));
      frame = k < 1 ? requestAnimationFrame(tick) : 0;
      if (!frame) speak();
    };
    frame = requestAnimationFrame(tick);
    return undefined;
  }

  /** A given point that was in the window stays there, clear of its edge. */
  function seen(name, made) {
    const inside = ([x, y]) => x > 24 && y > 24 && x < view.w - 24 && y < view.h - 24;
    return inside(toScreen(view, made.get(name))) || !inside(toScreen(view, tied.values.get(name)));
  }

  function stop() {
    cancelAnimationFrame(frame);
    frame = 0;
  }

  /** The letters' places from their points, clear of lines, arcs and one another. */
  function beside(now) {
    return new Map(
      [...placeLabels(now, view, desk.text)].map(([name, [x, y]]) => {
        const [dx, dy] = toScreen(view, now.get(name));
        return [name, [x - dx, y - dy]];
      }),
    );
  }

  const letters = (now) =>
    new Map(
      [...off].map(([name, [dx, dy]]) => {
        const [x, y] = toScreen(view, now.get(name));
        return [name, [x + dx, y + dy]];
      }),
    );

  function draw() {
    const moves = state.moves.map((one) => (one.op === "arc" ? { ...one, sweep: undefined } : one));
    drawing(layers, { ...state, moves, shown: null, values, whole: values }, view, {
      tones: desk.tones,
      text: desk.text,
      bold: state.result,
      letters,
    });
    for (const [name, knob] of knobs) {
      const [x, y] = toScreen(view, values.get(name));
      knob.setAttribute("transform", `translate(${n(x)} ${n(y)})`);
    }
    layers.overlay.replaceChildren();
    sync(layers.ghost, []);
    sync(layers.tool, []);
    const meets = claimed()?.meets;
    if (!meets) return;
    const [x, y] = toScreen(view, meets);
    layers.overlay.append(
      svg("circle", { class: "c-meets", cx: n(x), cy: n(y), r: 11 }),
      svg("path", { class: "c-meets", d: `M${n(x - 5)} ${n(y - 5)}l10 10m0-10l-10 10` }),
    );
  }

  /** What the answer comes to now, measured once for each drawing. */
  function claimed() {
    if (found === undefined) found = claim(state.construction, state.start, values, state.result);
    return found;
  }

  function sentence() {
    if (held) return say("construct.shake_held", { name: held });
    if (!claimed()) return say("construct.shake_drag");
    const measured = say(`construct.${found.key}`, { ...found.fields, off: missed(found.off) });
    if (!rounds && free === tied.free) return `${measured} ${say("construct.shake_drag")}`;
    return `${say(found.holds ? "construct.shake_holds" : "construct.shake_apart")} ${measured}`;
  }

  /** Not with every frame: nobody reads sixty numbers a second. */
  function tell() {
    clock ||= setTimeout(utter, CALM);
  }

  function utter() {
    clearTimeout(clock);
    clock = 0;
    write(text, sentence());
    const holds = `${claimed()?.holds ?? ""}`;
    if (text.dataset.holds !== holds) text.dataset.holds = holds;
  }

  function speak() {
    off = beside(values);
    draw();
    utter();
    write(spoken, text.textContent);
  }

  const bound = { pointerdown: down, pointermove: move, pointerup: up, pointercancel: cancel };
  for (const [name, act] of Object.entries(bound)) root.addEventListener(name, act);
  root.addEventListener("touchstart", keep, { passive: false });
  draw();
  utter();

  return {
    element,
    draw,
    shake,
    giveUp,
    focus: () => back.focus({ preventScroll: true }),
    /** What another page did: the same places here. */
    show: (places) => !gesture && !frame && settle(fromPlaces(tied, places)),
    end() {
      stop();
      clearTimeout(clock);
      for (const [name, act] of Object.entries(bound)) root.removeEventListener(name, act);
      root.removeEventListener("touchstart", keep);
      handles.remove();
      layers.spots.removeAttribute("display");
      layers.overlay.replaceChildren();
    },
  };
}
