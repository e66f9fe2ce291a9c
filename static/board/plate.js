// The door plate's living figure: a transversal that turns slowly about two parallel lines. Its corresponding angles stay equal.
import { svg } from "../ui/elements.js";

const [WIDE, HIGH, TOP, LOW] = [420, 300, 96, 204]; // the sheet, and where its two lines run
const [MIDDLE, SWING, ROUND] = [68, 26, 24000]; // degrees about which it turns, how far, and ms for there and back
const ARC = 30;

/** Where the transversal at `degrees` lies: its ends, and the arc of its angle with each line; as path data. Pure. */
export function drawn(degrees) {
  const a = (degrees * Math.PI) / 180;
  const [cx, cy] = [WIDE / 2, HIGH / 2];
  const x = (y) => cx + (cy - y) / Math.tan(a);
  /** @type {(y: number) => [number, number]} */
  const at = (y) => [x(y), y];
  const [low, high] = [at(HIGH - 6), at(6)];
  const arc = ([px, py]) =>
    `M${px + ARC} ${py}A${ARC} ${ARC} 0 0 0 ${px + ARC * Math.cos(a)} ${py - ARC * Math.sin(a)}`;
  return { line: `M${low[0]} ${low[1]}L${high[0]} ${high[1]}`, arcs: [arc(at(TOP)), arc(at(LOW))] };
}

/** Draw it in `host`; `still` for those who asked for no motion. Answers `{stop}`. */
export function createPlate(host, still) {
  const sheet = svg("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "plate-svg" });
  host.append(sheet);
  const put = (/** @type {string} */ look, d = "") => {
    const path = svg("path", { class: look, d });
    sheet.append(path);
    return path;
  };
  for (const y of [TOP, LOW]) {
    put("plate-line", `M14 ${y}H${WIDE - 14}`);
    put("plate-line", `M${WIDE - 92} ${y - 9}L${WIDE - 78} ${y}L${WIDE - 92} ${y + 9}`);
  }
  const cut = put("plate-line");
  const arcs = [0, 1].map(() => put("plate-arc"));
  let frame = 0;
  let last = 0;

  function draw(now) {
    const to = drawn(MIDDLE + SWING * Math.sin((now / ROUND) * 2 * Math.PI));
    cut.setAttribute("d", to.line);
    arcs.forEach((arc, i) => arc.setAttribute("d", to.arcs[i]));
  }

  function step(now) {
    if (now - last > 40) {
      last = now;
      draw(now);
    }
    frame = requestAnimationFrame(step);
  }

  draw(0);
  if (!still) frame = requestAnimationFrame(step);
  return {
    stop() {
      cancelAnimationFrame(frame);
      sheet.remove();
    },
  };
}
