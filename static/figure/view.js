// From the plane to the page: which part of the plane is shown, and how large. Chosen once, so that nothing jumps in a drag.

/** The part of the plane to show: `{x, y, w, h}`, its middle and its least width and height. */
export function windowOf(model) {
  if (model.frame) {
    const [left, bottom, right, top] = model.frame;
    return { x: (left + right) / 2, y: (bottom + top) / 2, w: right - left, h: top - bottom };
  }
  const used = new Set(Object.values(model.angles).map((angle) => angle.at));
  let points = Object.keys(model.meets)
    .filter((name) => model.at[name] && (used.has(name) || !model.lettered.includes(name)))
    .map((name) => model.at[name]);
  if (points.length < 2) points = [...points, ...Object.values(model.lines).map((line) => line.through)];
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const span = Math.max(box[2] - box[0], box[3] - box[1], 1e-3);
  return {
    x: (box[0] + box[2]) / 2,
    y: (box[1] + box[3]) / 2,
    w: Math.max((box[2] - box[0]) * 1.9, span * 0.8),
    h: Math.max((box[3] - box[1]) * 1.8, span * 0.8),
  };
}

/**
 * The view of a window in a box of pixels: turns points of the plane into points of the page, and back. `unit`: how large texts and
 * marks are on the Board, against those of a page of 1280 by 720.
 */
export function viewOf(frame, width, height, unit = 1) {
  const scale = Math.min(width / frame.w, height / frame.h);
  return {
    width,
    height,
    unit,
    scale,
    toPage: ([x, y]) => [width / 2 + (x - frame.x) * scale, height / 2 - (y - frame.y) * scale],
    toPlane: ([x, y]) => [frame.x + (x - width / 2) / scale, frame.y - (y - height / 2) / scale],
  };
}

/** Where a line through `p` along `d` (a unit vector) crosses the box, as the two far ends of what is seen; null if unseen. */
export function clip(p, d, width, height, inset = 0) {
  let [low, high] = [-Infinity, Infinity];
  for (const [at, by, size] of [
    [p[0], d[0], width],
    [p[1], d[1], height],
  ]) {
    if (Math.abs(by) < 1e-9) {
      if (at < inset || at > size - inset) return null;
      continue;
    }
    const [one, two] = [(inset - at) / by, (size - inset - at) / by];
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  }
  return low < high ? [low, high] : null;
}
