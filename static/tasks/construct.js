// The construct task: one state, one binder, one redraw a frame. Paper full width, the steps beside it.
import { h } from "../ui/elements.js";
import { say } from "../words/say.js";
import { createCard } from "../construct/card.js";
import { createPaper, drawing, inHand, tool } from "../construct/draw.js";
import { far } from "../construct/geometry.js";
import { createEdge } from "../construct/edge.js";
import { bindPointer } from "../construct/events.js";
import {
  handySweep,
  lengthen,
  lift,
  mark,
  newOpening,
  pickUp,
  standing,
  swing,
  takeCompass,
  tap,
} from "../construct/instruments.js";
import { createInk } from "../construct/ink.js";
import { createKeys } from "../construct/keys.js";
import { createAfter } from "../construct/after.js";
import { createShake } from "../construct/shake.js";
import { createPlayer } from "../construct/player.js";
import { answer, createState, goTo, redo, refresh, reply, serialise, shownMoves, undo } from "../construct/state.js";
import { sentence, spotWords } from "../construct/words.js";
import { createView, fit, pan, resize, toWorld, zoom } from "../construct/view.js";

const FRAME = 12; // ms, less than a frame of a usual screen

export function mount(host, ctx) {
  const state = createState(ctx.task, ctx.saved);
  const view = createView(600, 400);
  const sheet = h("div", { class: "c-sheet" });
  const pick = h("div", { class: "c-pick", role: "group", "aria-label": say("construct.which"), hidden: true });
  host.paper.append(sheet);
  const { root, layers, about } = createPaper(sheet, { title: ctx.task.title || say("construct.paper"), about: "" });
  const ink = createInk(root, view);
  const over = h("div", { class: "c-over paper", hidden: true });
  const told = h("p", { class: "c-keys", id: "c-keys" }, say("construct.keys"));
  layers.spots.setAttribute("aria-describedby", "c-keys");
  sheet.append(pick, told, over);
  let frozen = false;
  let frame = 0;
  let drawn = 0; // when the last one was
  let dirty = true; // the drawing itself has changed, not only what the hand does
  let before = null; // done once before the next frame is drawn
  let fitted = false;
  let player = null;
  let away = []; // what the player has taken the place of
  let shaking = null; // while free points are moved to see whether it holds

  const desk = {
    state,
    view,
    draft: null,
    moving: false, // whether a pointer that is down moves it
    frozen: () => frozen || Boolean(shaking),
    frame(work) {
      before = work;
      // Browsers tell of moves just before a frame: the first one of a frame is drawn at once.
      if (desk.moving && !frame && performance.now() - drawn > FRAME) draw();
      else schedule();
    },
    moved: redraw,
    tell: (key, fields = {}) => ctx.verdict(say(`construct.${key}`, fields), "plain"),
    ask,
    cancelled: () => desk.tell("cancelled"),
    act(spot) {
      if (!frozen) desk.done(tap(state, spot, 15 / view.k));
    },
    done,
    pick(name) {
      pickUp(state, name);
      redraw();
    },
    swing: () => arc(handySweep),
    round: () => arc(() => [0, 360]),
    mark: (spot) => done(mark(state, spot)),
    toPaper: () => keys.focusFirst(),
    longer() {
      if (lengthen(state)) kept();
    },
    open() {
      newOpening(state);
      redraw();
    },
    lift() {
      lift(state);
      redraw();
    },
    kind(name) {
      state.kind = name;
      redraw();
    },
    compass(which) {
      takeCompass(state, which);
      kept();
    },
    free(on) {
      state.free = on;
    },
    undo() {
      const move = undo(state);
      if (move) kept("undone", move, [...state.moves, ...state.ahead.at(-1)]);
    },
    redo() {
      const move = redo(state);
      if (move) kept("redone", move, state.moves);
    },
    shake,
    goTo(n) {
      endShake();
      goTo(state, n);
      if (state.shown !== null) desk.tell("looking_at", { n, what: sentence(n - 1, state.start, state.moves) });
      redraw();
    },
    goOn() {
      state.ahead = [state.moves.slice(state.shown)];
      state.moves = state.moves.slice(0, state.shown);
      state.shown = null;
      state.marked = [];
      refresh(state);
      kept();
    },
    choose(name) {
      state.result = name;
      kept();
    },
    look(spot) {
      desk.draft = spot ? { spot, at: spot.at } : null;
      schedule();
    },
    zoomBy(factor) {
      zoom(view, factor);
      redraw();
    },
    panBy(dx, dy) {
      pan(view, dx * view.w * 0.2, dy * view.h * 0.2);
      redraw();
    },
    fit() {
      fitAll();
      redraw();
    },
    check,
    hint,
    show: demonstrate,
  };

  const edge = createEdge(host.paper, desk);
  const card = createCard(host.card, desk, { demonstration: ctx.task.demonstration });
  const after = createAfter(card.after, card.afterwards, {
    state,
    view,
    ctx,
    layers,
    redraw,
    fitTo,
    shake,
    lay: edge.lay,
    over,
  });
  const keys = createKeys(layers.spots, desk);
  const pointer = bindPointer(root, desk);
  sheet.addEventListener("keydown", onKey);

  /** Esc gives up, in order: what is under way, the pick list, the instrument's first point. */
  function onKey(event) {
    if (event.key !== "Escape") return;
    if (shaking) {
      if (!shaking.giveUp()) endShake();
      return;
    }
    if (pointer.abandon()) return;
    if (!pick.hidden) {
      ask(null);
      keys.focusFirst();
      return;
    }
    if (state.foot || state.first) {
      desk.lift();
      desk.cancelled();
    }
  }

  /** Swing the standing compass; the focus goes on to what the arc crosses, since the button that asked for it goes away. */
  function arc(sweep) {
    if (!standing(state)) {
      desk.tell("swing_not_yet");
      return;
    }
    keys.follow();
    done(swing(state, state.turn ?? 0, sweep(state)));
  }

  /** After any change by an instrument: say it, save it, draw it. */
  function done({ moves = [], said = null }) {
    if (moves.length) state.told = null;
    const news = moves.map((move) =>
      sentence(
        state.moves.findIndex((one) => one.name === move.name),
        state.start,
        state.moves,
      ),
    );
    if (said) news.push(say(`construct.${said[0]}`, said[1]));
    if (moves.length) kept();
    else redraw();
    if (news.length) ctx.verdict(news.join(" "), "plain");
  }

  function kept(key = null, move = null, moves = state.moves) {
    state.told = null;
    ctx.save(serialise(state));
    after.clear();
    if (key)
      desk.tell(key, {
        what: sentence(
          moves.findIndex((one) => one.name === move.name),
          state.start,
          moves,
        ),
      });
    redraw();
  }

  /** Several spots near a tap: the student says which. */
  function ask(spots, act = null, at = [0, 0]) {
    pick.replaceChildren();
    pick.hidden = !spots;
    if (!spots) return;
    pick.append(h("p", { class: "label" }, say("construct.which")));
    for (const spot of spots.slice(0, 6)) {
      pick.append(
        h(
          "button",
          {
            type: "button",
            class: "plain",
            onclick: () => {
              ask(null);
              act(spot);
            },
          },
          spotWords(spot, state.start, shownMoves(state)),
        ),
      );
    }
    pick.style.left = `${Math.max(4, Math.min(at[0] + 14, view.w - 230))}px`;
    pick.style.top = `${Math.max(4, Math.min(at[1] + 14, view.h - 60 - 44 * Math.min(spots.length, 6)))}px`;
    pick.querySelector("button").focus();
  }

  function redraw() {
    dirty = true;
    schedule();
  }

  function schedule() {
    if (!frame) frame = requestAnimationFrame(draw);
  }

  function draw() {
    frame = 0;
    drawn = performance.now();
    before?.();
    before = null;
    const shapeChanged = dirty;
    if (shaking) {
      dirty = false;
      edge.update();
      card.update();
      shaking.draw();
      return;
    }
    if (dirty) {
      dirty = false;
      drawing(layers, state, view);
      keys.update();
      edge.update();
      card.update();
      describe();
    }
    if (shapeChanged) after.paint();
    if (desk.moving) {
      ink.draw(inHand(state, view, desk.draft));
      return;
    }
    tool(layers, state, view, desk.draft);
    ink.off();
  }

  function describe() {
    const moves = shownMoves(state);
    const steps = moves.map((_, i) => sentence(i, state.start, moves)).join(" ") || say("construct.nothing_drawn");
    const text = say("construct.paper_about", { given: givenWords(ctx.task.start), drawn: steps.replace(/\.$/, "") });
    if (about.textContent !== text) about.textContent = text;
  }

  /** Every point there is. @returns {import("../construct/geometry.js").Point[]} */
  function places() {
    return /** @type {any} */ ([...state.values.values()].filter(Array.isArray));
  }

  function fitAll() {
    // A length moved by Euclid I.2 takes the most paper around its points.
    fitTo(places(), state.construction === "copy a segment" ? 0.6 : 0.3);
  }

  /** The start has a lot of free paper around it: arcs need room. */
  function fitTo(points, room = 0.3) {
    fit(view, points, {
      side: view.w * Math.max(0.1, room - 0.32),
      top: view.h * room * 0.6,
      bottom: view.h * room * 0.6,
    });
  }

  /** Move what is free and look whether it holds. Nothing of the construction is changed by it. */
  function shake() {
    if (frozen || shaking) return;
    goTo(state, null);
    after.rest();
    const result = answer(state);
    const looked = { ...view };
    shaking = createShake({
      root,
      layers,
      view,
      text: 17,
      state: { construction: state.construction, start: state.start, moves: state.moves, result },
      reducedMotion: matchMedia("(prefers-reduced-motion: reduce)").matches,
      widen,
      done: endShake,
    });
    shaking.looked = looked;
    edge.lay(shaking.element);
    redraw();
    shaking.focus();
    root.scrollIntoView({ block: "nearest" });
    shaking.shake();
  }

  /** Where two lines meet that should not comes into the window, if that is not too far out. */
  function widen(points, at) {
    const wide = Math.max(...points.map((p) => far(p, points[0])));
    if (Math.max(...points.map((p) => far(p, at))) < 4 * wide) fitTo([...points, at], 0.15);
  }

  function endShake() {
    if (!shaking) return;
    shaking.end();
    const { w, h: high } = view; // the window may have another size by now
    Object.assign(view, shaking.looked, { w, h: high });
    shaking = null;
    edge.lay(null);
    edge.update();
    redraw();
    edge.focusShake();
  }

  const watch = new ResizeObserver(() => {
    const box = sheet.getBoundingClientRect();
    if (!box.width || !box.height) return;
    if (fitted) resize(view, box.width, box.height, places());
    else Object.assign(view, { w: box.width, h: box.height });
    root.setAttribute("viewBox", `0 0 ${view.w} ${view.h}`);
    if (!fitted) {
      fitted = true;
      fitAll();
    }
    redraw();
  });
  watch.observe(sheet);

  async function check() {
    endShake();
    if (!answer(state)) {
      desk.tell(
        { "bisect a segment": "nothing_to_check_point", "copy a segment": "nothing_to_check_segment" }[
          state.construction
        ] ?? "nothing_to_check",
      );
      return;
    }
    goTo(state, null);
    let verdict;
    try {
      verdict = await ctx.submit(reply(state));
    } catch (fault) {
      ctx.verdict(fault.message, "mend");
      return;
    }
    state.marked = verdict.more?.notes ?? [];
    state.answered = verdict.ok;
    after.told(verdict);
    redraw();
  }

  async function hint() {
    try {
      const next = await ctx.ask("step", { ...reply(state), window: inSight() });
      // Beside the instruments, where the next tap is; and in the line that is spoken.
      state.told = next.text;
      redraw();
      ctx.verdict(next.text, "plain");
    } catch (fault) {
      ctx.verdict(fault.message, "mend");
    }
  }

  /** What is seen of the paper: left, low, right, high. */
  function inSight() {
    return [...toWorld(view, [0, view.h]), ...toWorld(view, [view.w, 0])];
  }

  async function demonstrate() {
    let key;
    try {
      key = await ctx.ask("demonstration", { compass: state.compass });
    } catch (fault) {
      ctx.verdict(fault.message, "mend");
      return;
    }
    away = [...host.paper.children, host.card, card.foot];
    for (const part of away) part.hidden = true;
    player = createPlayer(
      host.paper,
      { ...key, step: 0, speed: 1 },
      {
        size: "seat",
        reducedMotion: matchMedia("(prefers-reduced-motion: reduce)").matches,
        controls: true,
        close() {
          endDemonstration();
          redraw();
          card.focusShow();
        },
      },
    );
    // Its button has gone with the card.
    host.paper.querySelector(".c-play button:not([disabled])")?.focus({ preventScroll: true });
  }

  /** Take the player away; paper and card belong to the page, and the next task needs them too. */
  function endDemonstration() {
    player?.destroy();
    player = null;
    for (const part of away) part.hidden = false;
    away = [];
  }

  redraw();
  return {
    setFrozen(on) {
      frozen = on;
      if (on) endShake();
      pointer.abandon();
      redraw();
    },
    destroy() {
      cancelAnimationFrame(frame);
      watch.disconnect();
      pointer.unbind();
      keys.unbind();
      endDemonstration();
      shaking?.end();
    },
  };
}

/** What the start gives, in words. */
function givenWords(start) {
  const found = [];
  if (start.angle)
    found.push(say("construct.given_angle", { p: start.angle[0], v: start.angle[1], q: start.angle[2] }));
  for (const kind of ["ray", "line", "segment"]) {
    if (start[kind]) found.push(say(`construct.given_${kind}`, { a: start[kind][0], b: start[kind][1] }));
  }
  if (start.point) found.push(say("construct.given_point", { p: start.point }));
  return found.join(", ");
}
