// Turning and sliding a line, one whole step at a time, as far as the figure stays the figure that it is: its named crossings
// keep apart, keep their order along every line, and stay on the paper.
import { along, back, crossing, halfTurn, order, placeAll, ray, round, unit } from "./model.js";

const FLATTEST = 14; // degrees: lines that cross at less than this can't be read as crossing
const MARGIN = 40; // px from a crossing to the edge of the paper; more where a thin sector needs room for its number

/** What a line turns about: the crossing it shares with two others or has alone, else a point between its crossings. */
export function pivotOf(model, name) {
  const on = order(model, name).filter((meet) => !model.lettered.includes(meet) || used(model).has(meet));
  const crowded = on.filter((meet) => model.meets[meet].lines.length > 2);
  if (crowded.length) return model.at[crowded[0]];
  const line = model.lines[name];
  if (on.length === 1) return model.at[on[0]];
  if (!on.length) return line.through;
  const [first, last] = [on[0], on.at(-1)].map((meet) => along(line, model.at[meet]));
  const inset = (last - first) * 0.2;
  if (first + inset < 0 && last - inset > 0) return line.through;
  const u = unit(line.direction);
  const middle = (first + last) / 2;
  return [line.through[0] + middle * u[0], line.through[1] + middle * u[1]];
}

/** Whether a line may turn, and slide: a crossing of three lines holds them together. */
export function freedom(model, name) {
  const crowded = Object.values(model.meets).filter((meet) => meet.lines.length > 2 && meet.lines.includes(name));
  return { turn: crowded.length < 2, slide: crowded.length < 1 };
}

/** The meets at which there are angles; asked many times for the same ones. */
function used({ angles }) {
  let known = uses.get(angles);
  if (!known) uses.set(angles, (known = new Set(Object.values(angles).map((angle) => angle.at))));
  return known;
}

const uses = new WeakMap();

function replaced(model, name, line) {
  const next = { ...model, lines: { ...model.lines, [name]: line } };
  // Crossings that nobody named follow the lines as they can.
  const inUse = used(model);
  for (const meet of model.lettered) {
    const [l, m] = model.meets[meet].lines.map((one) => next.lines[one]);
    if (!inUse.has(meet) && !crossing(l, m)) {
      next.meets = Object.fromEntries(Object.entries(next.meets).filter(([other]) => other !== meet));
      next.lettered = next.lettered.filter((other) => other !== meet);
    }
  }
  return placeAll(next);
}

/** The model with a line turned to `direction` about `pivot`. Past 180 its + runs the other way, so its rays change sign. */
export function turned(model, name, direction, pivot = pivotOf(model, name)) {
  const old = model.lines[name];
  const next = halfTurn(direction);
  // The ray of the line that is nearest to the old one keeps its name.
  const flips = Math.abs(next - old.direction) > 90;
  const line = { direction: next, through: pivot.map((c) => round(c, 6)), swapped: flips !== Boolean(old.swapped) };
  const base = flips ? { ...model, angles: flipped(model.angles, name) } : model;
  return replaced(base, name, line);
}

function flipped(angles, name) {
  const flip = (side) => (ray(side).line === name ? name + back(ray(side).sign) : side);
  return Object.fromEntries(
    Object.entries(angles).map(([key, angle]) => [key, { ...angle, from: flip(angle.from), to: flip(angle.to) }]),
  );
}

/** The model with a line moved to pass through a point, direction kept. */
export function slid(model, name, point) {
  const line = model.lines[name];
  // Only the way across the line counts: the point it goes through stays where it was along the line.
  const u = unit(line.direction);
  const [dx, dy] = [point[0] - line.through[0], point[1] - line.through[1]];
  const across = -dx * u[1] + dy * u[0];
  const through = [round(line.through[0] - across * u[1], 6), round(line.through[1] + across * u[0], 6)];
  return replaced(model, name, { direction: line.direction, swapped: line.swapped, through });
}

/** How far a figure is from one that can be read: 0 where all is well. `rank` is the order to keep, by line. */
export function trouble(model, view, rank) {
  // Where a step has led to is where the next one begins.
  const known = troubles.get(model);
  if (known?.view === view && known.rank === rank) return known.sum;
  const parts = troubleOf(model, view, rank);
  const sum = parts.flat + parts.paper + parts.close + parts.order;
  troubles.set(model, { view, rank, sum, parts });
  return sum;
}

/** What a step would have spoiled: "flat" (lines that cross too flatly), "paper" (a crossing off it), "close" (two crossings), "order". */
function cause(model, tried, view, rank) {
  trouble(model, view, rank);
  trouble(tried, view, rank);
  const [before, after] = [troubles.get(model).parts, troubles.get(tried).parts];
  return Object.keys(after).reduce((worst, key) =>
    after[key] - before[key] > after[worst] - before[worst] ? key : worst,
  );
}

const troubles = new WeakMap();

function troubleOf(model, view, rank) {
  const inUse = used(model);
  const meets = Object.keys(model.meets).filter((name) => inUse.has(name) || !model.lettered.includes(name));
  const parts = { flat: 0, paper: 0, close: 0, order: 0 };
  const margins = [];
  for (const name of meets) {
    const { lines } = model.meets[name];
    let thinnest = 90;
    for (let i = 0; i < lines.length; i += 1) {
      for (let j = i + 1; j < lines.length; j += 1) {
        const d = halfTurn(model.lines[lines[i]].direction - model.lines[lines[j]].direction);
        thinnest = Math.min(thinnest, d, 180 - d);
      }
    }
    if (thinnest < FLATTEST) parts.flat += 1000 * (FLATTEST - thinnest);
    margins.push(Math.max(MARGIN, Math.min(100, 8 + 9.5 / Math.sin((thinnest * Math.PI) / 360))));
    if (!model.at[name]) return { ...parts, flat: Infinity };
  }
  const places = meets.map((name) => view.toPage(model.at[name]));
  places.forEach(([x, y], i) => {
    parts.paper += Math.max(
      0,
      margins[i] - x,
      margins[i] - y,
      x + margins[i] - view.width,
      y + margins[i] - view.height,
    );
    // Two crossings need the room of both.
    for (let j = 0; j < i; j += 1)
      parts.close += Math.max(0, 0.92 * (margins[i] + margins[j]) - Math.hypot(x - places[j][0], y - places[j][1]));
  });
  for (const [line, wanted] of Object.entries(rank)) {
    if (ranked(model, line) !== wanted) parts.order += 1e6;
  }
  return parts;
}

/** The crossings of each line in order, read so that a flip of its direction changes nothing. */
export function ranks(model) {
  return Object.fromEntries(Object.keys(model.lines).map((line) => [line, ranked(model, line)]));
}

function ranked(model, line) {
  const inUse = used(model);
  const on = order(model, line).filter((name) => inUse.has(name) || !model.lettered.includes(name));
  if (model.lines[line].swapped) on.reverse();
  return on.join(" ");
}

/**
 * Turn toward a direction step by step, and stop before the figure would become another one.
 * Answers `{model, stopped, why}`; `stopped` says that it did not get there, `why` (see `cause`) what stood in the way.
 */
export function turnTo(model, name, direction, { view, rank, step = 1, pivot = pivotOf(model, name) }) {
  const from = model.lines[name].direction;
  const want = halfTurn(Math.round(direction / step) * step);
  let way = halfTurn(want - from);
  if (way > 90) way -= 180;
  return walk(model, way, step, from, (now, at) => turned(now, name, at, pivot), view, rank);
}

/** As turnTo, the way round that is asked for: by `way` degrees, counterclockwise where positive. */
export function turnBy(model, name, way, { view, rank, step = 1, pivot = pivotOf(model, name) }) {
  const from = model.lines[name].direction;
  const end = Math.round((from + way) / step) * step;
  return walk(model, end - from, step, from, (now, at) => turned(now, name, at, pivot), view, rank);
}

function walk(model, way, step, from, act, view, rank) {
  const judge = (m) => trouble(m, view, rank);
  if (Math.abs(way) < 1e-9) return { model, stopped: false };
  let now = model;
  let worst = judge(model);
  const sign = Math.sign(way);
  let at = from;
  for (;;) {
    // Whole multiples of the step on the way, then the end.
    const next = sign > 0 ? Math.floor(at / step + 1e-9) * step + step : Math.ceil(at / step - 1e-9) * step - step;
    at = Math.abs(next - from) > Math.abs(way) ? from + way : next;
    const tried = act(now, at);
    const bad = judge(tried);
    if (bad > worst + 1e-9) return { model: now, stopped: true, why: cause(now, tried, view, rank) };
    [now, worst] = [tried, bad];
    if (Math.abs(at - from) >= Math.abs(way) - 1e-9) return { model: now, stopped: false };
  }
}

/** Slide a line toward a point, in steps of a sixteenth of the way, and stop as turnTo does. */
export function slideTo(model, name, point, { view, rank }) {
  const whole = slid(model, name, point);
  const judge = (m) => trouble(m, view, rank);
  const worst = judge(model);
  if (judge(whole) <= worst + 1e-9) return { model: whole, stopped: false };
  const [p, q] = [model.lines[name].through, whole.lines[name].through];
  let best = model;
  let bad = worst;
  let past = whole;
  for (let k = 1; k < 16; k += 1) {
    const tried = slid(model, name, [p[0] + ((q[0] - p[0]) * k) / 16, p[1] + ((q[1] - p[1]) * k) / 16]);
    const now = judge(tried);
    if (now > bad + 1e-9) {
      past = tried;
      break;
    }
    [best, bad] = [tried, now];
  }
  return { model: best, stopped: true, why: cause(best, past, view, rank) };
}

/** How far a line may turn each way from where it is, in degrees: for a slider's ends. */
export function limits(model, name, how) {
  return [-1, 1].map((sign) => {
    let sum = 0;
    let now = model;
    while (sum < 179) {
      const { model: next, stopped } = turnBy(now, name, sign * (how.step ?? 1), how);
      if (stopped) break;
      sum += how.step ?? 1;
      now = next;
    }
    return sign * sum;
  });
}
