// The instruments while a pointer moves them: on a canvas over the paper, so that a frame of a swing changes nothing of the page.
// Their looks are those of the style sheet, asked of a path that is never seen. tests/browser/construct/test_ink.py lays the canvas
// over the drawing that it stands for.
import { svg } from "../ui/elements.js";

/** `{draw(hand), off()}`: `hand` as draw.js's `inHand` gives it; off() when the hand has let go and the SVG shows it again. */
export function createInk(root, view) {
  const canvas = document.createElement("canvas");
  canvas.className = "c-ink";
  canvas.setAttribute("aria-hidden", "true");
  const probe = svg("path", { visibility: "hidden" });
  const c = canvas.getContext("2d");
  let on = false;
  let dresses = new Map(); // class → how it is drawn
  let paths = new Map(); // key → {d, path}: a compass that only turns keeps its shapes

  function dressOf(name) {
    let found = dresses.get(name);
    if (found) return found;
    probe.setAttribute("class", name);
    const style = getComputedStyle(probe);
    const number = (key) => Number.parseFloat(style[key]);
    found = {
      fill: style.fill,
      fillAlpha: number("fillOpacity"),
      rule: style.fillRule,
      stroke: style.stroke,
      strokeAlpha: number("strokeOpacity"),
      width: number("strokeWidth"),
      cap: style.strokeLinecap,
      join: style.strokeLinejoin,
      dash:
        style.strokeDasharray === "none"
          ? []
          : style.strokeDasharray.split(/[\s,]+/).map((part) => Number.parseFloat(part)),
    };
    dresses.set(name, found);
    return found;
  }

  function pathOf({ key, tag, d, cx, cy, r }) {
    const mark = tag === "circle" ? `${cx} ${cy} ${r}` : d;
    const kept = paths.get(key);
    if (kept?.mark === mark) return kept.path;
    const path = tag === "circle" ? new Path2D() : new Path2D(d);
    if (tag === "circle") path.arc(cx, cy, r, 0, 2 * Math.PI);
    paths.set(key, { mark, path });
    return path;
  }

  function put(shape) {
    const [path, dress] = [pathOf(shape), dressOf(shape.class)];
    if (dress.fill !== "none") {
      c.globalAlpha = dress.fillAlpha;
      c.fillStyle = dress.fill;
      c.fill(path, dress.rule);
    }
    if (dress.stroke === "none") return;
    c.globalAlpha = dress.strokeAlpha;
    c.strokeStyle = dress.stroke;
    c.lineWidth = dress.width;
    c.lineCap = dress.cap;
    c.lineJoin = dress.join;
    c.setLineDash(dress.dash);
    c.stroke(path);
  }

  return {
    draw({ ghost, shapes, place }) {
      const ratio = globalThis.devicePixelRatio || 1;
      const [w, h] = [Math.round(view.w * ratio), Math.round(view.h * ratio)];
      if (canvas.width !== w || canvas.height !== h) Object.assign(canvas, { width: w, height: h });
      if (!on) {
        on = true;
        dresses = new Map();
        paths = new Map();
        root.append(probe);
        root.after(canvas);
        root.setAttribute("data-hand", "");
      }
      c.setTransform(ratio, 0, 0, ratio, 0, 0);
      c.clearRect(0, 0, view.w, view.h);
      for (const shape of ghost) put(shape);
      if (place) {
        c.translate(place.at[0], place.at[1]);
        c.rotate((place.turn * Math.PI) / 180);
      }
      for (const shape of shapes) put(shape);
    },
    off() {
      if (!on) return;
      on = false;
      canvas.remove();
      probe.remove();
      root.removeAttribute("data-hand");
    },
  };
}
