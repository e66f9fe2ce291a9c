// A construction played step by step: forward and back, each move done by its instrument, a caption for each step.
// Used by the stage (Board, following Seats) and by a student who asks to be shown.
import { h, svg, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { far, isPoint, polar } from "./geometry.js";
import { createPaper, drawing } from "./draw.js";
import { createShake } from "./shake.js";
import { compassShapes, straightedgeShapes } from "./compass.js";
import { replay, sweeps } from "./replay.js";
import { sentence } from "./words.js";
import { sync } from "../ui/svg.js";
import { arcPath, createView, ends, fit, n, toScreen } from "./view.js";

const PACE = { point: 350, on: 350, meet: 450, arc: 1500, line: 900, ray: 900, segment: 900 };
const HUES = 4;

/**
 * `doc`: {start, moves, result, steps: [{name, caption, upto}], step (moves shown), speed}. `options`: size "board" or "seat",
 * reducedMotion, bare (the paper alone, without caption), controls (buttons for someone alone), close(), change(doc) where a shaken construction is to be seen elsewhere too.
 * `doc.moved` are the places of its free points, while they are somewhere else.
 */
export function createPlayer(host, doc, options) {
  const view = createView(640, 400);
  const sheet = h("div", { class: `c-sheet c-player${options.size === "board" ? " c-board" : ""}` });
  const caption = h("div", { class: "c-caption" });
  const name = h("p", { class: "c-caption-name" });
  const words = h("p", { class: "c-caption-words" });
  const shaker = h(
    "button",
    { type: "button", class: "plain c-shaker", onclick: () => shake() },
    say("construct.shake"),
  );
  const telling = h("div", { "aria-live": "polite" }, name, words);
  caption.append(telling, shaker);
  const box = h("div", { class: "c-play" }, sheet, options.bare ? null : caption);
  host.append(box);
  const { root, layers } = createPaper(sheet, {
    title: doc.title ?? say("construct.demo"),
    about: doc.moves.map((_, i) => sentence(i, doc.start, doc.moves)).join(" "),
  });
  const tags = svg("g", { "aria-hidden": "true", class: "c-tags" });
  root.append(tags);
  let shown = doc.step ?? 0; // moves that stand on the paper
  let aimed = shown; // moves that it is on the way to
  let playing = null; // {frame, move, began}
  let going = false; // play on by itself
  let timer = 0;
  let shaking = null; // while free points are moved
  const whole = replay(doc.start, doc.moves);
  const controls = options.controls ? createControls() : null;
  if (controls) box.append(controls.element);

  function text() {
    return options.size === "board" ? Math.max(28, view.h / 26) : 17;
  }

  /** Which named step a move belongs to, from 0. */
  function stepOf(index) {
    const steps = doc.steps ?? [];
    const found = steps.findIndex((step) => index < step.upto);
    return found < 0 ? Math.max(0, steps.length - 1) : found;
  }

  function state(upto) {
    return {
      construction: doc.construction,
      start: doc.start,
      moves: doc.moves,
      shown: upto,
      result: doc.result,
      values: replay(doc.start, doc.moves, upto),
      whole,
    };
  }

  function colours() {
    const tones = new Map();
    const current = shown ? stepOf(shown - 1) : -1;
    doc.moves.slice(0, shown).forEach((move, i) => {
      const step = stepOf(i);
      tones.set(move.name, `c-hue c-hue-${step % HUES} ${step === current ? "c-current" : ""}`);
    });
    return tones;
  }

  function draw(hand = [], wet = []) {
    if (shaking) return shaking.draw();
    const now = state(shown);
    const tones = colours();
    drawing(layers, now, view, { tones, text: text(), bold: doc.result });
    sync(layers.ghost, wet);
    sync(layers.tool, hand);
    sync(tags, stepTags(now));
    return undefined;
  }

  /** The number of its step beside every arc and the answer, so that no step is told by colour alone. */
  function stepTags(now) {
    const found = [];
    doc.moves.slice(0, shown).forEach((move, i) => {
      const value = now.values.get(move.name);
      if (move.op !== "arc" || !value) return;
      const [from, extent] = sweeps(move.name, value, whole, doc.start, doc.moves)[0];
      const [x, y] = roomiest([from - 9, from + extent + 9, from + extent / 2], value, now.values);
      found.push({ key: move.name, tag: "text", class: "c-tag", x: n(x), y: n(y), text: `${stepOf(i) + 1}` });
    });
    return found;
  }

  /** Of the directions from an arc's center the place on it that is farthest from every point and its letter. */
  function roomiest(turns, arc, values) {
    const points = [...values.values()].filter(isPoint).map((at) => toScreen(view, at));
    const places = turns.map((turn) => toScreen(view, polar(arc.c, arc.r, turn)));
    const room = (place) => Math.min(...points.map((point) => far(point, place)));
    return places.sort((a, b) => room(b) - room(a))[0];
  }

  function tell() {
    const steps = doc.steps ?? [];
    const at = shown ? stepOf(shown - 1) : -1;
    const step = steps[at];
    write(name, step ? `${at + 1}. ${step.name}` : say("construct.demo_given"));
    const done = step && shown >= step.upto;
    write(words, step ? (done ? step.caption : sentence(shown - 1, doc.start, doc.moves)) : "");
    controls?.update();
  }

  /** Move what is free, here and, where `options.change` takes it, on every screen that shows the same. */
  function shake(places = null) {
    if (shaking) return;
    stop();
    going = false;
    sync(tags, []);
    shaking = createShake({
      root,
      layers,
      view,
      text: text(),
      tones: colours(),
      state: { construction: doc.construction, start: doc.start, moves: doc.moves.slice(0, shown), result: doc.result },
      reducedMotion: options.reducedMotion,
      remote: Boolean(places),
      moved: places ? null : (now) => options.change?.({ ...doc, step: shown, moved: now }),
      done() {
        endShake();
        options.change?.({ ...doc, step: shown, moved: null });
      },
    });
    telling.hidden = shaker.hidden = true;
    caption.append(shaking.element);
    if (places) return;
    shaking.focus();
    shaking.shake();
  }

  function endShake() {
    if (!shaking) return;
    shaking.end();
    shaking.element.remove();
    shaking = null;
    telling.hidden = shaker.hidden = false;
    draw();
  }

  /** To `target` moves: forward move by move with the instruments, back at once. */
  function to(target) {
    stop();
    endShake();
    // Who goes on before a step is drawn has seen enough of it: it stands at once, and the next one is drawn. So the paper is
    // never more than one step behind, and the words under it are those of what stands there.
    if (target > aimed && aimed > shown) {
      shown = aimed;
      draw();
      tell();
    }
    aimed = target;
    if (target <= shown || options.reducedMotion || document.hidden) {
      shown = target;
      draw();
      tell();
      if (going) later();
      return;
    }
    const move = doc.moves[shown];
    const length = (PACE[move.op] ?? 600) / (doc.speed || 1);
    const began = performance.now();
    const frame = (now) => {
      const k = Math.min(1, (now - began) / length);
      if (k < 1) {
        const { hand, wet } = moment(move, ease(k));
        draw(hand, wet);
        playing = requestAnimationFrame(frame);
        return;
      }
      playing = null;
      shown += 1;
      draw();
      tell();
      if (shown < target) to(target);
      else if (going) later();
    };
    playing = requestAnimationFrame(frame);
  }

  /** The instrument part of the way through a move. */
  function moment(move, k) {
    const made = whole.get(move.name);
    if (!made) return { hand: [], wet: [] };
    if (move.op === "arc") {
      const part = sweeps(move.name, made, whole, doc.start, doc.moves)[0];
      const turn = part[0] + part[1] * k;
      const pencil = toScreen(view, polar(made.c, made.r, turn));
      return {
        hand: compassShapes(toScreen(view, made.c), pencil, { locked: doc.compass !== "collapsing" }),
        wet:
          k > 0.02
            ? [
                {
                  key: "wet",
                  tag: "path",
                  class: `c-arc c-hue c-hue-${stepOf(shown) % HUES}`,
                  d: arcPath(view, made, part[0], part[1] * k),
                },
              ]
            : [],
      };
    }
    if (made.p) {
      const [a, b] = ends(view, made);
      const at = [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k];
      return {
        hand: straightedgeShapes(toScreen(view, made.p), toScreen(view, made.q)),
        wet: [{ key: "wet", tag: "path", class: "c-line c-hue", d: `M${n(a[0])} ${n(a[1])}L${n(at[0])} ${n(at[1])}` }],
      };
    }
    const [x, y] = toScreen(view, made);
    return {
      hand: [],
      wet: [{ key: "pop", tag: "circle", class: "c-snap", cx: n(x), cy: n(y), r: n(6 + 10 * (1 - k)) }],
    };
  }

  function stop() {
    if (playing) cancelAnimationFrame(playing);
    playing = null;
    clearTimeout(timer);
  }

  /** Playing by itself: a pause as long as a hand needs, then the next step; past the end it rests. */
  function later() {
    clearTimeout(timer);
    const next = nextEnd(1);
    if (next === null) {
      going = false;
      controls?.update();
      return;
    }
    timer = setTimeout(() => to(next), 1800 / (doc.speed || 1));
  }

  function ranges() {
    const all = (doc.steps ?? []).map((step) => step.upto);
    return all.length ? all : doc.moves.map((_, i) => i + 1);
  }

  /** Where the next or the last named step ends; null at either end. */
  function nextEnd(by) {
    if (by > 0) return ranges().find((end) => end > shown) ?? null;
    return shown === 0
      ? null
      : (ranges()
          .filter((end) => end < shown)
          .at(-1) ?? 0);
  }

  function createControls() {
    const act = (key, run) => h("button", { type: "button", class: "plain", onclick: run }, say(`construct.${key}`));
    const step = (by) => () => {
      going = false;
      const next = nextEnd(by);
      if (next !== null) to(next);
      controls.update();
    };
    const first = act("demo_start", () => {
      going = false;
      to(0);
    });
    const back = act("demo_back", step(-1));
    const forward = h("button", { type: "button", class: "action", onclick: step(1) }, say("construct.demo_forward"));
    const play = act("demo_play", () => {
      going = !going;
      if (going) to(nextEnd(1) ?? 0);
      else stop();
      controls.update();
    });
    const speed = h(
      "select",
      {
        class: "field",
        id: "c-speed",
        onchange: () => {
          doc = { ...doc, speed: Number(speed.value) };
        },
      },
      [
        ["demo_slow", 0.5],
        ["demo_normal", 1],
        ["demo_fast", 2],
      ].map(([key, value]) => h("option", { value, selected: value === 1 }, say(`construct.${key}`))),
    );
    const where = h("span", { class: "label" });
    const all = h(
      "details",
      { class: "slip" },
      h("summary", {}, say("construct.demo_words")),
      h(
        "ol",
        {},
        doc.moves.map((_, i) => h("li", {}, sentence(i, doc.start, doc.moves))),
      ),
    );
    const element = h(
      "div",
      { class: "c-controls" },
      h(
        "div",
        { class: "toolbar" },
        first,
        back,
        forward,
        play,
        h("label", { class: "label", for: "c-speed" }, say("construct.demo_speed")),
        speed,
        where,
        options.close ? act("demo_close", options.close) : null,
      ),
      all,
    );
    return {
      element,
      update() {
        first.disabled = back.disabled = shown === 0;
        forward.disabled = nextEnd(1) === null;
        write(play, say(going ? "construct.demo_pause" : "construct.demo_play"));
        const at = ranges().filter((end) => end <= shown).length;
        write(where, say("construct.demo_step", { n: at, of: ranges().length }));
      },
    };
  }

  const watch = new ResizeObserver(() => {
    const size = sheet.getBoundingClientRect();
    if (!size.width || !size.height) return;
    view.w = size.width;
    view.h = size.height;
    root.setAttribute("viewBox", `0 0 ${view.w} ${view.h}`);
    fit(view, reach(whole, doc), { side: view.w * 0.08, top: view.h * 0.1, bottom: view.h * 0.1 });
    draw();
  });
  watch.observe(sheet);
  tell();

  return {
    update(next) {
      const fresh = JSON.stringify(next.moves) !== JSON.stringify(doc.moves);
      const same = !fresh && (next.step ?? 0) === shown && !playing;
      doc = { ...next, steps: next.steps ?? doc.steps };
      if (same && next.moved) {
        // What comes back of one's own shaking changes nothing here.
        if (!shaking) shake(next.moved);
        shaking.show(next.moved);
        return;
      }
      if (same && shaking && options.change) return;
      if (fresh) {
        whole.clear();
        for (const [key, value] of replay(doc.start, doc.moves)) whole.set(key, value);
        fit(view, reach(whole, doc), { side: view.w * 0.08, top: view.h * 0.1, bottom: view.h * 0.1 });
      }
      to(doc.step ?? 0);
    },
    shown: () => shown,
    destroy() {
      stop();
      endShake();
      watch.disconnect();
      box.remove();
    },
  };
}

const ease = (k) => (k < 0.5 ? 2 * k * k : 1 - (2 - 2 * k) ** 2 / 2);

/** The points to keep in the window: all marks, and the drawn parts of arcs. */
function reach(values, doc) {
  const found = [];
  for (const [name, value] of values) {
    if (Array.isArray(value)) found.push(value);
    else if (value.r !== undefined) {
      for (const [from, extent] of sweeps(name, value, values, doc.start, doc.moves)) {
        for (const k of [0, 0.25, 0.5, 0.75, 1]) found.push(polar(value.c, value.r, from + extent * k));
      }
    }
  }
  return found;
}
