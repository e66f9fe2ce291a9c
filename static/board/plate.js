// The door plate's living figure: a transversal that turns slowly about two parallel lines. Its corresponding angles stay equal.

const SVG = "http://www.w3.org/2000/svg";
const [WIDE, HIGH, TOP, LOW] = [420, 300, 96, 204]; // the sheet, and where its two lines run
const [MIDDLE, SWING, ROUND] = [68, 26, 24000]; // degrees about which it turns, how far, and ms for there and back
const ARC = 30;

function put(host, tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  host.append(element);
  return element;
}

/** Where the transversal at `degrees` lies: its ends, and the arc of its angle with each line; as path data. Pure. */
export function drawn(degrees) {
  const a = (degrees * Math.PI) / 180;
  const [cx, cy] = [WIDE / 2, HIGH / 2];
  const x = (y) => cx + (cy - y) / Math.tan(a);
  /** @type {(y: number) => [number, number]} */
  const at = (y) => [x(y), y];
  const [low, high] = [at(HIGH - 6), at(6)];
  const arc = ([px, py]) => `M${px + ARC} ${py}A${ARC} ${ARC} 0 0 0 ${px + ARC * Math.cos(a)} ${py - ARC * Math.sin(a)}`;
  return { line: `M${low[0]} ${low[1]}L${high[0]} ${high[1]}`, arcs: [arc(at(TOP)), arc(at(LOW))] };
}

/** Draw it in `host`; `still` for those who asked for no motion. Answers `{stop}`. */
export function createPlate(host, still) {
  const svg = put(host, "svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "plate-svg" });
  for (const y of [TOP, LOW]) {
    put(svg, "path", { class: "plate-line", d: `M14 ${y}H${WIDE - 14}` });
    put(svg, "path", { class: "plate-line", d: `M${WIDE - 92} ${y - 9}L${WIDE - 78} ${y}L${WIDE - 92} ${y + 9}` });
  }
  const cut = put(svg, "path", { class: "plate-line", d: "" });
  const arcs = [0, 1].map(() => put(svg, "path", { class: "plate-arc", d: "" }));
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
      svg.remove();
    },
  };
}
