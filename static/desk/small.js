// A student's figure at the size of a postage stamp: lines only, so that thirty-five of them cost little.
import { degrees } from "../stage/between.js";
import { set, svg } from "../ui/elements.js";

const WIDE = 84;
const HIGH = 48;

/**
 * The lines of a contract figure as [x1, y1, x2, y2, even] in a box of `w` by `h`; `even` says that another line has the very
 * same direction. The view hangs on the points the lines go through, not on their crossings, so that it stays put while a line turns.
 */
export function segments(figure, w = WIDE, h = HIGH) {
  const lines = Object.values(figure?.lines ?? {}).map((line) => ({
    direction: ((degrees(line.direction) % 180) + 180) % 180,
    at: line.through.map(degrees),
  }));
  if (!lines.length) return [];
  const middle = [0, 1].map((i) => lines.reduce((sum, line) => sum + line.at[i], 0) / lines.length);
  const reach = Math.max(1, ...lines.map((line) => Math.hypot(line.at[0] - middle[0], line.at[1] - middle[1])));
  const scale = ((Math.min(w, h) / 2) * 0.62) / reach;
  return lines.flatMap((line) => {
    const p = [w / 2 + (line.at[0] - middle[0]) * scale, h / 2 - (line.at[1] - middle[1]) * scale];
    const ends = clip(p, line.direction, w, h);
    const even = lines.some((other) => other !== line && Math.abs(other.direction - line.direction) < 1e-9);
    return ends ? [[...ends, even]] : [];
  });
}

function clip(p, direction, w, h) {
  const r = (direction * Math.PI) / 180;
  const d = [Math.cos(r), -Math.sin(r)];
  let [low, high] = [-Infinity, Infinity];
  for (const [at, by, most] of [
    [p[0], d[0], w],
    [p[1], d[1], h],
  ]) {
    if (Math.abs(by) < 1e-9) {
      if (at < 0 || at > most) return null;
      continue;
    }
    const [one, two] = [-at / by, (most - at) / by];
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  }
  if (low >= high) return null;
  return [p[0] + d[0] * low, p[1] + d[1] * low, p[0] + d[0] * high, p[1] + d[1] * high].map(
    (n) => Math.round(n * 10) / 10,
  );
}

/** An empty stamp. It is a picture beside words that say the same, so it is hidden from screen readers. */
export function stamp() {
  return svg("svg", { class: "stamp", viewBox: `0 0 ${WIDE} ${HIGH}`, "aria-hidden": "true" });
}

/** Bring a stamp up to date; an unchanged figure costs one comparison of text. */
export function draw(picture, figure) {
  const now = JSON.stringify(figure?.lines ?? null);
  if (picture.dataset.now === now) return;
  picture.dataset.now = now;
  const wanted = segments(figure);
  while (picture.childElementCount > wanted.length) picture.lastElementChild.remove();
  while (picture.childElementCount < wanted.length) picture.append(svg("line"));
  wanted.forEach(([x1, y1, x2, y2, even], i) => {
    set(picture.children[i], { x1, y1, x2, y2, class: even ? "stamp-line stamp-even" : "stamp-line" });
  });
}
