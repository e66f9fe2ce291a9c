// While a hand moves a line, the figure is drawn beside the page (ink_worker.js), on a canvas that covers the SVG: a frame of a drag
// then neither styles nor lays out nor paints anything of the page. Where a browser can't do that, or not yet, follow.js moves the SVG.
import { namePair } from "./pairs.js";

// The colours and type faces that the ink takes from the page's style sheet, and its widths.
const TOKENS = [
  "--paper",
  "--ink",
  "--graphite",
  "--accent",
  "--accent-soft",
  "--trace",
  "--edge",
  "--pencil",
  "--focus",
  "--serif",
  "--sans",
];

let worker = null; // one for all figures of the page; false where there can be none
const waiting = new Map(); // id → what to do when its first frame is drawn
let ready = false;

/** Begin to load what draws; to be called when the page has nothing better to do. */
export function prepare() {
  if (worker !== null) return;
  const colours = globalThis.matchMedia?.("(forced-colors: active)");
  const can = globalThis.OffscreenCanvas && HTMLCanvasElement.prototype.transferControlToOffscreen && !colours?.matches;
  if (!can) {
    worker = false;
    return;
  }
  worker = new Worker(new URL("./ink_worker.js", import.meta.url), { type: "module" });
  worker.onmessage = ({ data }) => {
    if (data.ready) ready = true;
    else waiting.get(data.id)?.(data.drag);
  };
  worker.onerror = () => {
    ready = false;
  };
}

/**
 * `{take(), moved(), drop(), gone()}`: take(drawn) when the hand has taken a line, and again when what is shown changes under it;
 * moved() for each move answers whether the ink shows it; drop() when the hand has let go and the SVG is up to date.
 */
export function createMotion(id, state, { root, ground, svg, sheet }) {
  let canvas = null;
  let drag = 0;
  let on = false;
  let sent = null; // the model that the worker has
  let even = ""; // which lines run alike
  let came = null; // when they came to

  function dress() {
    const style = getComputedStyle(svg);
    /** @type {Record<string, string | number>} */
    const found = Object.fromEntries(TOKENS.map((token) => [token.slice(2), style.getPropertyValue(token).trim()]));
    // Widths may be sums on some themes: as they are worked out for the lines there are.
    found.line = Number.parseFloat(
      getComputedStyle(ground.querySelector(".line:not([data-picked]) .line-ink") ?? svg).strokeWidth,
    );
    found.thin = Number.parseFloat(style.getPropertyValue("--line-thin"));
    return found;
  }

  function take(fresh) {
    if (!ready || state.view.width * state.view.height > 4e6) return;
    if (!canvas) {
      canvas = document.createElement("canvas");
      canvas.className = "figure-ink";
      canvas.setAttribute("aria-hidden", "true");
      svg.after(canvas);
      const handed = canvas.transferControlToOffscreen();
      worker.postMessage({ id, canvas: handed }, [handed]);
      waiting.set(id, (which) => which === drag && on && root.setAttribute("data-moving", ""));
    }
    if (fresh) drag += 1;
    on = true;
    sent = state.model;
    even = state.even.join();
    const { gesture, marks, measures, size, movable, picked, asked, path, notice, reason } = state;
    const handles = [];
    for (const { line, part, element } of Object.values(sheet.by.handles)) {
      const dragged = line === gesture.line && part === gesture.part;
      if (dragged || line !== gesture.line)
        handles.push({ line, part, drag: dragged, focus: element.matches(":focus-visible") });
    }
    const pair = path ? namePair(state.model, ...path) : null;
    const scene = {
      model: sent,
      marks,
      measures,
      size,
      movable,
      picked,
      asked,
      path,
      pair,
      notice,
      reason,
      line: gesture.line,
      handles,
      last: sheet.drawn,
    };
    const { width, height, unit } = state.view;
    worker.postMessage({
      id,
      take: {
        scene,
        view: { frame: state.frame, width, height, unit },
        ratio: globalThis.devicePixelRatio || 1,
        dress: dress(),
        drag,
      },
    });
  }

  return {
    take,
    moved() {
      if (!on) take(true); // what draws may have come only now
      if (!on) return false;
      const { model, gesture } = state;
      const told = { id, line: gesture.line, of: model.lines[gesture.line], since: null };
      if (model.angles !== sent.angles) told.angles = model.angles;
      if (model.meets !== sent.meets) told.meets = { meets: model.meets, lettered: model.lettered };
      const now = state.even.join();
      if (now !== even) [even, came] = [now, now && state.fresh ? performance.now() : null];
      if (came !== null) told.since = performance.now() - came;
      sent = model;
      worker.postMessage(told);
      return true;
    },
    drop() {
      on = false;
      root.removeAttribute("data-moving");
    },
    gone() {
      waiting.delete(id);
      if (canvas) worker.postMessage({ id, gone: true });
    },
  };
}
