// A figure on a page: lines that can be turned and slid, angles that can be chosen, said in words as well as drawn.
//
// At rest everything is drawn, labelled and described. While a hand moves a line, a frame does only what eyes need at once: the
// line, its crossings, texts that lose their room, the measures. Names for ears, the strip and the description follow when the
// hand rests.
import { load, say } from "../words/say.js";
import { createChooser } from "./choose.js";
import { describe, title as titleOf } from "./describe.js";
import { createSheet, draw } from "./draw.js";
import { createDescription, createVoice, label } from "./ears.js";
import { bindPointer } from "./events.js";
import { follow, take } from "./follow.js";
import { createHand } from "./hand.js";
import { bindKeys } from "./keys.js";
import { measure, readFigure, writeFigure } from "./model.js";
import { freeCorner } from "./layout.js";
import { createMotion, prepare } from "./motion.js";
import { createNote } from "./note.js";
import { lay, valuesInside } from "./scene.js";
import { createState, replace, resize } from "./state.js";
import { createStrip, createValues } from "./strip.js";
import { make, put } from "../ui/svg.js";

await load("figure");

const FRAME = 12; // ms, less than a frame of a usual screen
const BOARD_TEXT = 28; // px, of the Board's text at 1280 by 720
const REST = 250; // ms without a move that count as a hand at rest
let count = 0;

const soon = globalThis.requestIdleCallback ?? ((act) => setTimeout(act, 400));

function div(name, attributes = {}, tag = "div") {
  const element = document.createElement(tag);
  element.className = name;
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

/**
 * Draw a contract figure into `host`.
 *
 * options: figure, marks, movable (line names), step (degrees), measures (show them), pick (null, "angle", "line", "meet", "sides": angles and lines, "any"),
 * onpick({kind, name}), onchange(figure, done), size ("seat", "board", "small"), title, description, notice (remark on lines that
 * become parallel; default true where lines can move), asked (names of the angles in question, marked all the time), onmoment({came, went}: pairs of lines) when lines come to be of one direction or no longer are, strip (controls
 * below; default where lines can move), told (what `tellFrom` says is heard), notToScale (say so at the foot of the paper).
 *
 * Where `onmove(model)` is given, it hears of each frame of a drag instead of `onchange(figure, false)`: no figure is written out.
 */
export function createFigure(host, options) {
  const id = `figure-${(count += 1)}`;
  const state = createState({ ...options, notice: options.notice ?? Boolean(options.movable?.length) });
  const root = div("figure", { "data-size": state.size });
  const ground = div("figure-sheet");
  const svg = make("svg", { class: "figure-svg", focusable: "false" });
  // Once in reading order, as a list, and never spoken by itself: where a page lets its changes be heard, this isn't one of them.
  const words = div("words figure-words", { "aria-live": "off" });
  const told = div("words", { role: "status" }, "p");
  const values = createValues();
  const voice = createVoice(told, state);
  const note = createNote(state, options.onmoment);
  const description = createDescription(words, state, options.description);
  ground.append(svg, note.element);
  const scale = options.notToScale ? div("figure-scale", {}, "p") : null;
  if (scale) {
    scale.textContent = say("figure.not_to_scale");
    ground.append(scale);
  }
  const wantsStrip =
    (options.strip ?? true) && state.movable.length > 0 && state.size !== "small" && state.size !== "board";
  let strip = null;
  root.append(ground, values.element, words);
  if (state.movable.length || options.told) root.append(told);
  host.append(root);
  const sheet = createSheet(svg);
  const motion = createMotion(id, state, { root, ground, svg, sheet });

  // ── once a frame ──
  let raf = 0;
  let act = null; // what the hand does in the next frame
  let stale = false; // whether there is something to draw
  let stepping = false;
  let stepped = 0; // when that was last done
  let whole = true; // whether it is more than what a hand moves
  let moved = 0; // when the hand moved last
  let resting = 0;
  let rests = 0;
  let dead = false;

  function frame(next) {
    if (next) act = next;
    else stale = true;
    // Within a step it is drawn at once.
    if (raf || dead || stepping) return;
    // So is a hand's first move of a frame: browsers that tell of moves once a frame do so just before it.
    if (next && performance.now() - stepped > FRAME) step();
    else raf = requestAnimationFrame(step);
  }

  function refresh() {
    whole = true;
    frame();
  }

  function step() {
    raf = 0;
    const now = act;
    act = null;
    stepping = true;
    now?.();
    stepping = false;
    stepped = performance.now();
    if (dead || !stale) return;
    if (state.gesture && !whole) paintMove();
    else paint();
  }

  function paintMove() {
    stale = false;
    if (!motion.moved()) follow(state, sheet);
    else if (note.on()) lay(state, sheet.drawn);
    if (!values.element.hidden) values.update(state);
    strip?.follow(state);
    note.settle();
    moved = performance.now();
    if (!resting) resting = setTimeout(rest, REST);
  }

  function rest() {
    resting = 0;
    const wait = REST - (performance.now() - moved);
    if (dead || !state.gesture) return undefined;
    if (wait <= 4) return tellAll();
    resting = setTimeout(rest, wait);
    // Not each time: a number that is typed into is laid out by itself.
    if ((rests += 1) % 2 === 0) strip?.update(state);
    return undefined;
  }

  function paint() {
    stale = whole = false;
    draw(state, sheet);
    const interactive = state.pick || state.movable.length;
    put(svg, { role: interactive ? "graphics-document" : "img", "aria-label": options.title ?? titleOf(state.model) });
    put(root, { "data-held": state.held ? "" : null });
    const below = state.measures && state.size === "seat" && !valuesInside(state);
    put(values.element, { hidden: below ? null : "" });
    if (below) values.update(state);
    note.settle();
    if (scale)
      put(scale, {
        "data-corner": freeCorner(
          state.laid,
          state.view,
          scale.offsetWidth + 4,
          scale.offsetHeight + 4,
          scale.dataset.corner ?? "bl",
        ),
      });
    if (state.gesture) return motion.take(false);
    motion.drop();
    return tellAll();
  }

  /** Bring up to date what is heard and what is typed into. */
  function tellAll() {
    label(state, sheet);
    strip?.update(state);
    description.soon();
  }

  function takeHold() {
    take(state, sheet);
    motion.take(true);
  }

  // ── binding ──
  const chooser = createChooser({ state, svg, ground, refresh, onpick: options.onpick });
  const hand = createHand({
    state,
    svg,
    options,
    refresh,
    frame,
    voice,
    note,
    chooser,
    take: takeHold,
    strip: () => strip?.update(state),
  });
  const pointer = bindPointer(svg, hand, frame);
  const unbindKeys = bindKeys(root, {
    ...hand,
    choose: chooser.element,
    rove: chooser.rove,
    escape: () => pointer.cancel() || chooser.close(true) || hand.letGo(),
  });

  function makeStrip() {
    strip?.element.remove();
    strip = null;
    if (!wantsStrip || !state.movable.length) return;
    strip = createStrip(state.movable, {
      line(name) {
        state.line = name;
        refresh();
      },
      turnBy: (n) => hand.nudge(state.line, "b", n),
      turnTo: hand.turnTo,
      slideBy: (n) => hand.nudge(state.line, "ring", n),
      refuse: () => voice.tell(say("figure.not_a_number")),
      undo: hand.undo,
    });
    words.before(strip.element);
  }
  makeStrip();
  if (state.movable.length) soon(prepare);

  /** Take the size of the ground; whether it has one. */
  function fit() {
    const box = ground.getBoundingClientRect();
    if (!box.width || !box.height) return false;
    // The Board's text grows with the screen; what stands in the figure grows with that, however much of the screen the figure has.
    const unit = state.size === "board" ? parseFloat(getComputedStyle(ground).fontSize) / BOARD_TEXT : 1;
    resize(state, box.width, box.height, unit);
    put(svg, { viewBox: `0 0 ${Math.round(box.width)} ${Math.round(box.height)}` });
    return true;
  }

  const watch = new ResizeObserver(() => {
    if (!fit()) return;
    if (raf) cancelAnimationFrame(raf);
    raf = 0;
    paint();
  });
  fit();
  watch.observe(ground);
  note.look(false);
  state.fresh = false;
  paint();

  return {
    /** The figure as it is now, as contract JSON. */
    get: () => writeFigure(state.model),
    setFigure(figure) {
      pointer.cancel();
      replace(state, figure);
      state.changed = true;
      note.look(false);
      refresh();
    },
    setMarks(marks) {
      state.marks = marks ?? {};
      refresh();
    },
    /** What is chosen: a list of names, or of {kind, name}. */
    setPicked(items) {
      state.picked = (items ?? []).map((item) => item.name ?? `${item}`);
      refresh();
    },
    setPath(a, b) {
      state.path = a && b ? [a, b] : null;
      refresh();
    },
    setPick(kind) {
      chooser.close();
      state.pick = kind;
      refresh();
    },
    setMovable(names) {
      state.movable = names ?? [];
      if (!state.movable.includes(state.line)) state.line = state.movable[0] ?? null;
      if (state.movable.length && !told.isConnected) root.append(told);
      makeStrip();
      refresh();
    },
    setMeasures(on) {
      state.measures = Boolean(on);
      refresh();
    },
    /** Why lines that are equal as drawn are parallel; null: not established. */
    setReason(text) {
      state.reason = text ?? null;
      note.write();
      refresh();
    },
    setNotice(on) {
      state.notice = Boolean(on);
      note.write();
      refresh();
    },
    setFrozen(on) {
      if (on) {
        pointer.cancel();
        state.held = null;
      }
      state.frozen = Boolean(on);
      root.toggleAttribute("data-frozen", state.frozen);
      refresh();
    },
    /** The figure as a model (model.js), without writing it out: for what looks at it in every frame. */
    model: () => state.model,
    measure: (name) => measure(state.model, name),
    /** Say what is new in one figure after another: lines, the moment of parallels, measures where they are drawn to scale. */
    tellFrom: (before, after) => voice.tellFrom(readFigure(before), readFigure(after), !options.notToScale),
    describe: () => describe(state.model, { marks: state.marks, values: state.measures }),
    element: root,
    destroy() {
      dead = true;
      cancelAnimationFrame(raf);
      clearTimeout(resting);
      motion.gone();
      description.stop();
      voice.stop();
      watch.disconnect();
      pointer.unbind();
      unbindKeys();
      root.remove();
    },
  };
}
