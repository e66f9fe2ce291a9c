// The only module that binds the pointer: start, move, end, cancel. A move is noted; the frame does the work; the change is
// made at the end, so a cancelled gesture has nothing to take back.
import { far, heading, polar } from "./geometry.js";
import { drag, standing, swing, tap } from "./instruments.js";
import { spotsNear } from "./spots.js";
import { sweepOf } from "./draw.js";
import { pan, toWorld, zoom } from "./view.js";

const TAP = 7; // pixels: less is a tap, more a drag

/**
 * Bind the pointer to the paper. `desk` has state, view, draft, moving, draw(), done(result), ask(spots, then), frozen().
 * Gives the unbinding.
 */
export function bindPointer(root, desk) {
  const fingers = new Map();
  let gesture = null;
  let pinch = null;

  let box = null; // where the paper lies in the window: read when a hand comes, not while it moves

  /** @type {(event: MouseEvent) => [number, number]} */
  const at = (event) => {
    box ??= root.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const forget = () => {
    box = null;
  };
  const reach = (event) => (event.pointerType === "mouse" ? 15 : 24) / desk.view.k;

  function start(event) {
    if (desk.frozen() || (event.button !== 0 && event.pointerType === "mouse")) return;
    desk.ask(null);
    forget();
    fingers.set(event.pointerId, at(event));
    root.setPointerCapture(event.pointerId);
    if (fingers.size === 2) {
      drop();
      pinch = spread();
      return;
    }
    if (fingers.size > 2) return;
    const place = toWorld(desk.view, at(event));
    gesture = {
      id: event.pointerId,
      from: at(event),
      now: at(event),
      reach: reach(event),
      moved: false,
      place,
      ...kindOf(place, reach(event)),
    };
    event.preventDefault();
  }

  /** What a press here begins: a swing at the dotted circle, else something between two spots. */
  function kindOf(place, close) {
    const { state } = desk;
    const stands = state.tool === "compass" ? standing(state) : null;
    if (stands && Math.abs(far(stands.c, place) - stands.r) <= close * 1.3 && far(stands.c, place) > close) {
      const turn = heading(stands.c, place);
      return { kind: "swing", stands, turn, last: turn, total: 0, least: 0, most: 0 };
    }
    return { kind: "span" };
  }

  function move(event) {
    if (!fingers.has(event.pointerId)) return hover(event);
    fingers.set(event.pointerId, at(event));
    if (pinch) return stretch();
    if (!gesture || gesture.id !== event.pointerId) return undefined;
    gesture.now = at(event);
    if (!gesture.moved && Math.hypot(gesture.now[0] - gesture.from[0], gesture.now[1] - gesture.from[1]) > TAP)
      gesture.moved = true;
    if (!gesture.moved) return undefined;
    desk.moving = true;
    desk.frame(preview);
    return undefined;
  }

  /** A mouse without a button down: the instrument follows it. */
  function hover(event) {
    if (event.pointerType !== "mouse" || desk.frozen()) return;
    const place = toWorld(desk.view, at(event));
    const close = reach(event);
    desk.frame(() => {
      const { state } = desk;
      const [spot] = spotsNear(state.values, place, close, { free: state.free });
      const draft = { spot: spot.kind === "free" ? null : spot, at: spot.at };
      const stands = state.tool === "compass" ? standing(state) : null;
      if (stands) draft.pencil = polar(stands.c, stands.r, heading(stands.c, place));
      desk.draft = draft;
    });
  }

  function preview() {
    if (!gesture) return;
    const { state } = desk;
    const place = toWorld(desk.view, gesture.now);
    if (gesture.kind === "swing") {
      turned(place);
      const { stands } = gesture;
      desk.draft = {
        stands,
        pencil: polar(stands.c, stands.r, gesture.last),
        sweep: sweepOf(gesture.turn + gesture.least, gesture.most - gesture.least),
      };
      return;
    }
    const [from] = spotsNear(state.values, gesture.place, gesture.reach, { free: state.free });
    const [to] = spotsNear(state.values, place, gesture.reach, { free: state.free });
    desk.draft = { at: to.at, spot: to };
    if (state.tool === "straightedge" && !state.first) desk.draft.first = from.at;
    if (state.tool === "compass" && !state.foot && !state.opening) desk.draft.foot = from.at;
    if (state.tool === "compass" && state.opening && !standing({ ...state, foot: null })) {
      const [a, b] = state.opening.map((name) => state.values.get(name));
      const r = far(a, b);
      desk.draft.stands = { c: to.at, r, pencil: polar(to.at, r, state.turn ?? 0) };
    }
  }

  /** Keep count of the turning, also past a whole round and back. */
  function turned(place) {
    const now = heading(gesture.stands.c, place);
    const step = ((now - gesture.last + 540) % 360) - 180;
    gesture.total += step;
    gesture.last = now;
    gesture.least = Math.min(gesture.least, gesture.total);
    gesture.most = Math.max(gesture.most, gesture.total);
  }

  function end(event) {
    fingers.delete(event.pointerId);
    if (pinch) {
      if (fingers.size < 2) pinch = null;
      return;
    }
    if (!gesture || gesture.id !== event.pointerId) return;
    const done = gesture;
    done.now = at(event);
    if (done.moved && done.kind === "swing") turned(toWorld(desk.view, done.now));
    drop();
    commit(done);
  }

  function commit(done) {
    const { state } = desk;
    const place = toWorld(desk.view, done.now);
    if (done.kind === "swing") {
      const swept = done.most - done.least;
      if (done.moved && swept > 4) {
        desk.done(swing(state, done.last, sweepOf(done.turn + done.least, swept)));
      } else desk.done(swing(state, done.turn));
      return;
    }
    const near = (where) => spotsNear(state.values, where, done.reach, { free: state.free });
    if (done.moved && takesTwo(state)) {
      desk.done(drag(state, near(done.place)[0], near(place)[0], done.reach));
      return;
    }
    const spots = near(place);
    const act = (spot) => desk.done(tap(state, spot, done.reach));
    if (spots.length > 1) desk.ask(spots, act, done.now);
    else act(spots[0]);
  }

  const takesTwo = (state) =>
    (state.tool === "straightedge" && !state.first) || (state.tool === "compass" && !state.foot && !state.opening);

  function drop() {
    gesture = null;
    desk.draft = null;
    desk.moving = false;
    desk.frame(() => {});
  }

  function cancel(event) {
    fingers.delete(event.pointerId);
    pinch = null;
    if (gesture?.id === event.pointerId) {
      drop();
      desk.cancelled();
    }
  }

  /** @returns {{mid: [number, number], wide: number}} */
  function spread() {
    const [a, b] = [...fingers.values()];
    return { mid: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], wide: Math.hypot(a[0] - b[0], a[1] - b[1]) || 1 };
  }

  function stretch() {
    const next = spread();
    pan(desk.view, next.mid[0] - pinch.mid[0], next.mid[1] - pinch.mid[1]);
    zoom(desk.view, next.wide / pinch.wide, next.mid);
    pinch = next;
    desk.moved();
  }

  function wheel(event) {
    // A pinch on a trackpad comes as a wheel with Control; a plain wheel goes on scrolling the page.
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(desk.view, Math.exp(-event.deltaY / 200), at(event));
    desk.moved();
  }

  /** Give up what is under way (Esc); true when there was something. */
  function abandon() {
    if (!gesture) return false;
    drop();
    desk.cancelled();
    return true;
  }

  // Wherever the focus is: a hand on the mouse has put it nowhere.
  function escape(event) {
    if (event.key === "Escape") abandon();
  }

  function leave() {
    if (!gesture) {
      desk.draft = null;
      desk.frame(() => {});
    }
  }

  const bound = { pointerdown: start, pointermove: move, pointerup: end, pointercancel: cancel, pointerleave: leave };
  for (const [name, act] of Object.entries(bound)) root.addEventListener(name, act);
  root.addEventListener("wheel", wheel, { passive: false });
  root.addEventListener("pointerenter", forget);
  addEventListener("keydown", escape);
  for (const name of ["scroll", "resize"]) addEventListener(name, forget, { passive: true, capture: true });
  return {
    abandon,
    unbind() {
      for (const [name, act] of Object.entries(bound)) root.removeEventListener(name, act);
      root.removeEventListener("wheel", wheel);
      root.removeEventListener("pointerenter", forget);
      removeEventListener("keydown", escape);
      for (const name of ["scroll", "resize"]) removeEventListener(name, forget, { capture: true });
    },
  };
}
