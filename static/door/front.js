// The figure of the front door. Each character of the code turns the lower line a little; with the whole code typed,
// ∠2 and ∠6 are given congruent, and the two lines are parallel. The transversal can be turned by dragging. Nothing here is
// needed to come in: the figure is a picture to those who do not see it, and the form works without script.
import { across, crossing, stroke } from "./strokes.js";

const SVG = "http://www.w3.org/2000/svg";
const NEEDED = 6; // characters of a period code
const UPPER = 9; // direction of the upper line, in degrees
const OFF = 14; // how far the lower line is turned away when nothing is typed

const at = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const host = at("living");
const field = /** @type {HTMLInputElement} */ (at("code"));
const caption = at("living-caption");
const still = matchMedia("(prefers-reduced-motion: reduce)");

/** Everything the drawing depends on. */
const state = {
  size: [0, 0],
  lower: UPPER - OFF, // as drawn now
  aim: UPPER - OFF, // where it is turning to
  slope: 63, // direction of the transversal
  frame: 0, // the pending animation frame
};

const svg = make("svg", { class: "living", role: "img", "aria-labelledby": "living-title living-text" });
svg.append(
  text("title", host.dataset.title, { id: "living-title" }),
  text("desc", host.dataset.text, { id: "living-text" }),
);
const parts = {};
for (const name of ["l", "m", "t"])
  parts[name] = make("path", { class: `living-line living-${name}`, pathLength: "1" });
for (const name of ["arc2", "arc6"]) parts[name] = make("path", { class: "living-arc" });
for (const name of ["arrowL", "arrowM"]) parts[name] = make("path", { class: "living-arrow" });
for (let i = 1; i <= 8; i += 1) parts[`n${i}`] = text("text", `${i}`, { class: "living-number" });
for (const name of ["l", "m", "t"]) parts[`name-${name}`] = text("text", name, { class: "living-name" });
svg.append(...Object.values(parts));
host.prepend(svg);

function make(tag, attributes = {}) {
  const element = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function text(tag, words, attributes) {
  const element = make(tag, attributes);
  element.textContent = words;
  return element;
}

/**
 * `distance` pixels from `p` towards `degrees` (y up).
 * @param {number[]} p
 * @param {number} degrees
 * @param {number} distance
 * @returns {[number, number]}
 */
function away(p, degrees, distance) {
  const r = (degrees * Math.PI) / 180;
  return [p[0] + Math.cos(r) * distance, p[1] - Math.sin(r) * distance];
}

function arc(p, from, to, radius) {
  const [a, b] = [away(p, from, radius), away(p, to, radius)];
  return `M${a[0].toFixed(1)} ${a[1].toFixed(1)}A${radius} ${radius} 0 0 0 ${b[0].toFixed(1)} ${b[1].toFixed(1)}`;
}

function arrow(p, degrees) {
  const tip = away(p, degrees, 8);
  const [a, b] = [away(tip, degrees + 150, 15), away(tip, degrees - 150, 15)];
  return `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${tip[0].toFixed(1)} ${tip[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`;
}

function draw() {
  const [w, h] = state.size;
  if (!w || !h) return;
  const centre = [w * 0.5, h * 0.5];
  const gap = Math.min(h * 0.22, 130);
  const lines = {
    l: { at: [centre[0], centre[1] - gap], direction: UPPER },
    m: { at: [centre[0], centre[1] + gap], direction: state.lower },
    t: { at: centre, direction: state.slope },
  };
  for (const [name, line] of Object.entries(lines)) {
    const ends = across(line.at, line.direction, w, h);
    if (!ends) continue;
    parts[name].setAttribute("d", stroke(ends[0], ends[1]));
    const far = name === "t" ? 0.93 : 0.95;
    const tag = [0, 1].map((i) => ends[0][i] + (ends[1][i] - ends[0][i]) * far);
    place(parts[`name-${name}`], away(tag, line.direction + (name === "t" ? -90 : 90), 18));
  }
  const A = crossing(lines.l.at, UPPER, centre, state.slope);
  const B = crossing(lines.m.at, state.lower, centre, state.slope);
  sectors(A, UPPER, 1);
  sectors(B, state.lower, 5);
  const done = state.aim === UPPER && Math.abs(state.lower - UPPER) < 0.4;
  parts.arc2.setAttribute("d", arc(A, UPPER, state.slope, 50));
  parts.arc6.setAttribute("d", arc(B, state.lower, state.slope, 50));
  const side = Math.min(w * 0.27, 230);
  parts.arrowL.setAttribute("d", arrow(away(A, UPPER, -side), UPPER));
  parts.arrowM.setAttribute("d", arrow(away(B, state.lower, -side), state.lower));
  svg.classList.toggle("living-done", done);
  caption.hidden = !done;
}

/** The four numbers at a crossing: upper left, upper right, lower left, lower right. */
function sectors(p, direction, first) {
  const t = state.slope;
  const middles = [
    (t + direction + 180) / 2,
    (direction + t) / 2,
    (direction + t) / 2 + 180,
    (t + direction + 180) / 2 + 180,
  ];
  const widths = [direction + 180 - t, t - direction, t - direction, direction + 180 - t];
  middles.forEach((middle, i) => {
    place(parts[`n${first + i}`], away(p, middle, 30 + Math.max(0, 70 - widths[i]) * 0.55));
  });
}

function place(element, [x, y]) {
  element.setAttribute("x", x.toFixed(1));
  element.setAttribute("y", y.toFixed(1));
}

function tick() {
  state.frame = 0;
  const left = state.aim - state.lower;
  state.lower = still.matches || Math.abs(left) < 0.05 ? state.aim : state.lower + left * 0.16;
  draw();
  if (state.lower !== state.aim) ask();
}

function ask() {
  if (!state.frame) state.frame = requestAnimationFrame(tick);
}

function typed() {
  const count = Math.min(NEEDED, field.value.replace(/[^0-9a-z]/gi, "").length);
  state.aim = UPPER - OFF * (1 - count / NEEDED);
  ask();
}

function turn(event) {
  const box = svg.getBoundingClientRect();
  const [x, y] = [event.clientX - box.left - box.width / 2, box.height / 2 - (event.clientY - box.top)];
  if (Math.hypot(x, y) < 24) return;
  const degrees = ((Math.atan2(y, x) * 180) / Math.PI + 360) % 180;
  state.slope = Math.min(140, Math.max(36, degrees));
  ask();
}

svg.addEventListener("pointerdown", (event) => {
  svg.setPointerCapture(event.pointerId);
  turn(event);
});
svg.addEventListener("pointermove", (event) => {
  if (svg.hasPointerCapture(event.pointerId)) turn(event);
});
new ResizeObserver(([entry]) => {
  state.size = [entry.contentRect.width, entry.contentRect.height];
  svg.setAttribute("viewBox", `0 0 ${state.size[0]} ${state.size[1]}`);
  ask();
}).observe(host);
field.addEventListener("input", typed);
typed();
// The code is what one comes for. Not where a keyboard would spring up over the page, and not away from a hand that has begun elsewhere.
if (
  matchMedia("(hover: hover) and (pointer: fine)").matches &&
  document.activeElement === document.body &&
  !document.querySelector(".door-seated")
)
  field.focus({ preventScroll: true });
