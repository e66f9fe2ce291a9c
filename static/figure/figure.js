// A figure on a page: lines that can be turned and slid, angles that can be chosen, said in words as well as drawn.
import { load, say } from "../words/say.js";
import { describe, joined, title as titleOf } from "./describe.js";
import { createSheet, draw, label, valuesInside } from "./draw.js";
import { bindPointer } from "./events.js";
import { bindKeys } from "./keys.js";
import { anglesAt, freeCorner } from "./layout.js";
import { measure, round, unit, writeFigure } from "./model.js";
import { pivotOf } from "./moves.js";
import { createState, evened, move, remember, replace, resize } from "./state.js";
import { createStrip, createValues } from "./strip.js";
import { make, put, write } from "./svg.js";
import { showList } from "./which.js";

await load("figure");

const PATIENCE = 500; // ms between two texts for ears
let count = 0;

function div(name, attributes = {}, tag = "div") {
  const element = document.createElement(tag);
  element.className = name;
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

/**
 * Draw a contract figure into `host`.
 *
 * options: figure, marks, movable (line names), step (degrees), measures (show them), pick (null, "angle", "line", "meet", "any"),
 * onpick({kind, name}), onchange(figure, done), size ("seat", "board", "small"), title, description, notice (remark on lines that
 * become parallel; default true where lines can move), onmoment(pairs of lines of one direction) when they change, strip (controls
 * below; default where lines can move), notToScale (say so at the foot of the paper).
 */
export function createFigure(host, options) {
  const id = `figure-${(count += 1)}`;
  const state = createState({ ...options, notice: options.notice ?? Boolean(options.movable?.length) });
  const still = globalThis.matchMedia?.("(prefers-reduced-motion: reduce)");
  const root = div("figure", { "data-size": state.size });
  const ground = div("figure-sheet");
  const svg = make("svg", { class: "figure-svg", focusable: "false", "aria-describedby": `${id}-words` });
  const note = div("figure-note", { "aria-hidden": "true" }, "p");
  const words = div("words", { id: `${id}-words` }, "p");
  const told = div("words", { role: "status" }, "p");
  const values = createValues();
  ground.append(svg, note);
  if (options.notToScale) {
    const scale = div("figure-scale", {}, "p");
    scale.textContent = say("figure.not_to_scale");
    ground.append(scale);
  }
  root.append(ground);
  const wantsStrip = (options.strip ?? true) && state.movable.length > 0 && state.size !== "small" && state.size !== "board";
  let strip = null;
  let list = null;
  let queue = [];
  let raf = 0;
  let describing = 0;
  let dead = false;
  root.append(values.element, words);
  if (state.movable.length) root.append(told);
  host.append(root);
  const sheet = createSheet(svg);

  // ── once a frame ──
  let stale = false; // whether there is something to draw
  function frame(act) {
    if (act) queue = [act];
    else stale = true;
    if (!raf && !dead) raf = requestAnimationFrame(paint);
  }

  function paint() {
    raf = 0;
    const todo = queue;
    queue = [];
    for (const act of todo) act();
    if (dead || (todo.length && !stale)) return;
    stale = false;
    if (raf) cancelAnimationFrame(raf);
    raf = 0;
    draw(state, sheet);
    if (!state.gesture) label(state, sheet);
    const interactive = state.pick || state.movable.length;
    put(svg, { role: interactive ? "graphics-document" : "img", "aria-label": options.title ?? titleOf(state.model) });
    put(root, { "data-held": state.held ? "" : null });
    const numbers = state.measures && state.size === "seat" && !valuesInside(state);
    put(values.element, { hidden: numbers ? null : "" });
    if (numbers) values.update(state);
    strip?.update(state);
    if (noted) settleNote();
    describeSoon();
  }

  function describeSoon() {
    if (describing) return;
    // At once the first time; after that at most twice a second, and with the newest figure.
    describing = setTimeout(() => {
      describing = 0;
      if (dead) return;
      if (state.gesture) label(state, sheet);
      const first = !changed && options.description;
      write(words, first ? textOf(options.description) : describe(state.model, { marks: state.marks, values: state.measures }));
    }, words.textContent ? PATIENCE : 0);
  }
  let changed = false;

  let speaking = 0;
  let last = 0;
  function tell(text) {
    clearTimeout(speaking);
    const wait = Math.max(0, last + PATIENCE - performance.now());
    speaking = setTimeout(() => {
      last = performance.now();
      if (told.textContent === text) told.textContent = "";
      told.textContent = text;
    }, wait);
  }

  // ── moving lines ──
  function lookAtParallels(byHand) {
    const { came, went } = evened(state);
    if (!state.notice) return "";
    if (came.length || went.length) options.onmoment?.(state.even);
    if (came.length) {
      state.fresh = !still?.matches;
      if (byHand) globalThis.navigator?.vibrate?.(14);
    }
    writeNote();
    if (came.length) return say(state.reason ? "figure.parallel_reason" : "figure.parallel_told", { l: came[0][0], m: came[0][1], reason: state.reason ?? "" });
    return went.length ? say("figure.parallel_left", { l: went[0][0], m: went[0][1] }) : "";
  }

  /** The note stands where it covers no letter and no number. */
  function settleNote() {
    const [w, h] = state.size === "board" ? [720, 84] : state.view.width < 520 ? [150, 58] : [350, 42];
    const corner = freeCorner(state.laid, state.view, w, h, note.dataset.corner);
    if (note.dataset.corner !== corner) note.dataset.corner = corner;
  }

  let noted = "";
  function writeNote() {
    const [l, m] = (state.notice && state.even[0]) || [];
    const reason = state.reason ?? say("figure.parallel_drawn");
    const now = l ? `${l} ${m} ${reason}` : "";
    if (now === noted) return;
    noted = now;
    note.replaceChildren();
    note.toggleAttribute("data-on", Boolean(l));
    if (!l) return;
    const pair = div("statement", {}, "span");
    pair.textContent = say("figure.parallel", { l, m });
    const word = div("figure-note-word", {}, "span");
    word.textContent = `${say("figure.parallel_word")}${state.reason ? ": " : ", "}${reason}`;
    note.append(pair, " ", word);
  }

  function tellMove(line, stopped, extra) {
    const direction = round(state.model.lines[line].direction, 1);
    const names = Object.keys(state.model.angles);
    const measures = state.measures ? `${joined(names.map((name) => say("figure.one_measure", { name, degrees: round(measure(state.model, name), 1) })))}.` : "";
    const text = say(measures ? "figure.moved_measures" : "figure.moved", { line, degrees: direction, measures });
    tell([extra, stopped ? say("figure.stopped", { line }) : "", text].filter(Boolean).join(" "));
  }

  function change(line, what, before = state.model) {
    const stopped = move(state, line, what);
    state.line = line;
    finish(line, before, stopped);
  }

  function finish(line, before, stopped) {
    changed = true;
    noteSlides();
    const extra = lookAtParallels(true);
    tellMove(line, stopped, extra);
    remember(state, before);
    options.onchange?.(writeFigure(state.model), true);
    frame();
  }

  const born = state.model;
  function noteSlides() {
    state.slides = {};
    for (const name of state.movable) {
      const [old, now] = [born.lines[name], state.model.lines[name]];
      if (!old) continue;
      const u = unit(now.direction);
      state.slides[name] = -(now.through[0] - old.through[0]) * u[1] + (now.through[1] - old.through[1]) * u[0];
    }
  }

  function pointing(line, part, pivot, point) {
    const p = state.view.toPlane(point);
    const turn = (Math.atan2(p[1] - pivot[1], p[0] - pivot[0]) * 180) / Math.PI;
    return turn;
  }

  function shift(line, steps) {
    const { direction, through } = state.model.lines[line];
    const u = unit(direction);
    // A step is 6 px, whatever the scale.
    const far = (steps * 6) / state.view.scale;
    return [through[0] - u[1] * far, through[1] + u[0] * far];
  }

  const act = {
    isFrozen: () => Boolean(state.frozen),
    press(line, part) {
      state.line = line;
      frame();
      svg.querySelector(`[data-line="${line}"][data-part="${part === "a" ? "b" : part}"]`)?.focus({ preventScroll: true });
    },
    start(line, part, point) {
      state.held = null;
      const pivot = pivotOf(state.model, line);
      const p = state.view.toPlane(point);
      const at = state.model.lines[line].through;
      state.gesture = { line, part, from: state.model, pivot, first: part === "ring" ? [p[0] - at[0], p[1] - at[1]] : pointing(line, part, pivot, point), total: 0 };
    },
    move(point) {
      const { line, part, pivot, first } = state.gesture;
      const before = state.model;
      if (part === "ring") {
        const p = state.view.toPlane(point);
        state.gesture.stopped = move(state, line, { point: [p[0] - first[0], p[1] - first[1]] });
      } else {
        // The turn since the last frame, the short way round; so a line follows the hand through any number of turns.
        const now = pointing(line, part, pivot, point);
        let step = now - (state.gesture.last ?? first);
        step -= 360 * Math.round(step / 360);
        state.gesture.last = now;
        state.gesture.total += step;
        follow();
      }
      if (state.model === before) return; // less than a step: nothing to draw
      changed = true;
      noteSlides();
      const said = lookAtParallels(true);
      if (said) tell(said);
      options.onchange?.(writeFigure(state.model), false);
      frame();
    },
    end() {
      const { line, from, stopped } = state.gesture;
      state.gesture = null;
      noteSlides();
      const parallel = state.notice && state.even.length && !sameEven(from) ? say("figure.parallel_told", { l: state.even[0][0], m: state.even[0][1] }) : "";
      tellMove(line, stopped, parallel);
      remember(state, from);
      options.onchange?.(writeFigure(state.model), true);
      frame();
    },
    cancel() {
      const { line, from } = state.gesture;
      state.gesture = null;
      state.model = from;
      noteSlides();
      lookAtParallels(false);
      tell(say("figure.put_back", { line }));
      options.onchange?.(writeFigure(state.model), true);
      frame();
    },
    /** A tap within a handle's wide reach, but not on its ink, may mean an angle that lies there. */
    tap(line, part, point) {
      const laid = state.laid.lines[line];
      const at = part === "ring" ? laid.ring : laid.grips[part === "a" ? 0 : 1];
      const off = Math.hypot(point[0] - at[0], point[1] - at[1]);
      // With a line in hand, a finger beside a handle means that place: browsers lead touches to what lies near.
      if (state.held && off > (state.held.line === line && state.held.part === part ? 20 : 12)) put_down(point);
      else if (off >= 12 && !state.held && state.pick && candidates(point).length) act.choose(point, null);
      else act.hold(line, part);
    },
    hold(line, part) {
      if (state.frozen) return;
      const same = state.held?.line === line && state.held.part === part;
      state.held = same ? null : { line, part };
      state.line = line;
      tell(say(same ? "figure.put_down" : part === "ring" ? "figure.slide_held" : "figure.turn_held", { line }));
      frame();
    },
    nudge(line, part, steps) {
      if (state.frozen) return;
      change(line, part === "ring" ? { point: shift(line, steps) } : { by: steps * state.step });
    },
    extreme(line, part, sign) {
      if (state.frozen) return;
      change(line, part === "ring" ? { point: shift(line, sign * 200) } : { by: sign * 178 });
    },
    choose(point, target) {
      if (state.held) {
        put_down(point);
        return;
      }
      if (state.frozen || !state.pick) return;
      if (target) {
        chosen({ kind: target.dataset.kind, name: target.dataset.name });
        return;
      }
      const found = candidates(point);
      if (found.length === 1) chosen(found[0]);
      else if (found.length > 1) ask(found, point);
    },
    pickElement(element) {
      if (!state.frozen && element.getAttribute("role") === "button") chosen({ kind: element.dataset.kind, name: element.dataset.name });
    },
    rove(element, by) {
      const all = [...element.parentNode.children].filter((one) => one.getAttribute("role") === "button");
      const at = all.indexOf(element);
      const next = all[by === Infinity ? all.length - 1 : by === -Infinity ? 0 : (at + by + all.length) % all.length];
      state.roving = { ...state.roving, [element.dataset.kind]: next.dataset.name };
      for (const one of all) put(one, { tabindex: one === next ? 0 : -1 });
      next.focus({ preventScroll: true });
    },
    escape() {
      if (pointer.cancel()) return true;
      if (list) {
        closeList(true);
        return true;
      }
      if (state.held) {
        const { line } = state.held;
        state.held = null;
        tell(say("figure.put_down", { line }));
        frame();
        return true;
      }
      return false;
    },
    undo() {
      const before = state.undo.pop();
      if (!before || state.frozen) return;
      state.model = before;
      noteSlides();
      lookAtParallels(false);
      tellMove(state.line, false, "");
      options.onchange?.(writeFigure(state.model), true);
      frame();
    },
  };

  function sameEven(from) {
    return state.even.every(([l, m]) => from.lines[l].direction === from.lines[m].direction);
  }

  /** Bring the line as near to the hand as it may go. */
  function follow() {
    const { line, from, pivot, total } = state.gesture;
    const whole = Math.round((from.lines[line].direction + total) / state.step) * state.step;
    const model = state.model;
    // How far the line has been turned so far, unrolled, is kept with the gesture.
    const done = state.gesture.done ?? from.lines[line].direction;
    const by = whole - done;
    if (!by) return;
    state.gesture.stopped = move(state, line, { by, pivot });
    const was = model.lines[line].direction;
    let went = state.model.lines[line].direction - was;
    went -= 180 * Math.round(went / 180);
    // The short way round, unless the whole way was gone.
    state.gesture.done = state.gesture.stopped ? done + (Math.sign(by) * went < 0 ? went + Math.sign(by) * 180 : went) : whole;
  }

  function put_down(point) {
    const { line, part } = state.held;
    state.held = null;
    if (part === "ring") {
      change(line, { point: state.view.toPlane(point) });
    } else {
      change(line, { to: pointing(line, part, pivotOf(state.model, line), point) });
    }
  }

  // ── choosing ──
  function candidates(point) {
    const found = [];
    const any = state.pick === "any";
    const laid = state.laid;
    if (any || state.pick === "meet") {
      for (const [name, meet] of Object.entries(laid.meets)) {
        if (meet.seen && Math.hypot(point[0] - meet.p[0], point[1] - meet.p[1]) < (any ? 9 : 24)) found.push({ kind: "meet", name });
      }
    }
    if (any || state.pick === "line") {
      const near = Object.entries(laid.lines)
        .filter(([, line]) => line)
        .map(([name, line]) => ({ kind: "line", name, far: Math.abs((point[0] - line.a[0]) * line.d[1] - (point[1] - line.a[1]) * line.d[0]) }))
        .filter((one) => one.far < (any ? 7 : 18))
        .sort((a, b) => a.far - b.far);
      const crowd = near.filter((one) => one.far - near[0].far < 8);
      found.push(...crowd.map(({ kind, name }) => ({ kind, name })));
    }
    if ((any || state.pick === "angle") && !found.length) found.push(...anglesAt(state.model, laid, point).map((name) => ({ kind: "angle", name })));
    return found;
  }

  function chosen(item) {
    state.roving = { ...state.roving, [item.kind]: item.name };
    frame();
    options.onpick?.(item);
  }

  function ask(items, point) {
    closeList();
    list = showList(ground, items, point, {
      onchoose(item) {
        closeList(true);
        chosen(item);
      },
      oncancel: () => closeList(true),
      onhover(item) {
        for (const element of svg.querySelectorAll("[data-hover]")) element.removeAttribute("data-hover");
        if (item) svg.querySelector(`[data-kind="${item.kind}"][data-name="${item.name}"]`)?.setAttribute("data-hover", "");
      },
    });
  }

  function closeList(focus) {
    if (!list) return;
    list.close();
    list = null;
    if (focus) svg.querySelector('[role="button"][tabindex="0"]')?.focus({ preventScroll: true });
  }

  // ── binding ──
  const pointer = bindPointer(svg, act, frame);
  const unbindKeys = bindKeys(root, { ...act, choose: act.pickElement });

  function makeStrip() {
    strip?.element.remove();
    strip = null;
    if (!wantsStrip || !state.movable.length) return;
    strip = createStrip(state.movable, {
      line(name) {
        state.line = name;
        frame();
      },
      turnBy: (n) => change(state.line, { by: n * state.step }),
      turnTo: (value) => change(state.line, { to: value }),
      slideBy: (n) => change(state.line, { point: shift(state.line, n) }),
      refuse: () => tell(say("figure.not_a_number")),
      undo: act.undo,
    });
    words.before(strip.element);
  }
  makeStrip();

  const watch = new ResizeObserver(() => {
    const box = ground.getBoundingClientRect();
    if (!box.width || !box.height) return;
    resize(state, box.width, box.height);
    put(svg, { viewBox: `0 0 ${Math.round(box.width)} ${Math.round(box.height)}` });
    if (raf) cancelAnimationFrame(raf);
    raf = 0;
    paint();
  });
  const box = ground.getBoundingClientRect();
  if (box.width && box.height) {
    resize(state, box.width, box.height);
    put(svg, { viewBox: `0 0 ${Math.round(box.width)} ${Math.round(box.height)}` });
  }
  watch.observe(ground);
  noteSlides();
  lookAtParallels(false);
  state.fresh = false;
  paint();

  return {
    /** The figure as it is now, as contract JSON. */
    get: () => writeFigure(state.model),
    setFigure(figure) {
      pointer.cancel();
      replace(state, figure);
      changed = true;
      lookAtParallels(false);
      frame();
    },
    setMarks(marks) {
      state.marks = marks ?? {};
      frame();
    },
    /** What is chosen: a list of names, or of {kind, name}. */
    setPicked(items) {
      state.picked = (items ?? []).map((item) => item.name ?? `${item}`);
      frame();
    },
    setPath(a, b) {
      state.path = a && b ? [a, b] : null;
      frame();
    },
    setPick(kind) {
      closeList();
      state.pick = kind;
      frame();
    },
    setMovable(names) {
      state.movable = names ?? [];
      if (!state.movable.includes(state.line)) state.line = state.movable[0] ?? null;
      if (state.movable.length && !told.isConnected) root.append(told);
      makeStrip();
      frame();
    },
    setMeasures(on) {
      state.measures = Boolean(on);
      frame();
    },
    /** Why lines that are equal as drawn are parallel; null: not established. */
    setReason(text) {
      state.reason = text ?? null;
      writeNote();
      frame();
    },
    setNotice(on) {
      state.notice = Boolean(on);
      writeNote();
      frame();
    },
    setFrozen(on) {
      if (on) {
        pointer.cancel();
        state.held = null;
      }
      state.frozen = Boolean(on);
      root.toggleAttribute("data-frozen", state.frozen);
      frame();
    },
    /** The figure as a model (model.js), without writing it out: for what looks at it in every frame. */
    model: () => state.model,
    measure: (name) => measure(state.model, name),
    describe: () => describe(state.model, { marks: state.marks, values: state.measures }),
    element: root,
    destroy() {
      dead = true;
      cancelAnimationFrame(raf);
      clearTimeout(describing);
      clearTimeout(speaking);
      watch.disconnect();
      pointer.unbind();
      unbindKeys();
      root.remove();
    },
  };
}

function textOf(description) {
  return typeof description === "string" ? description : (description.text ?? "");
}

