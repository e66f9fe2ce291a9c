// A line as a hand draws it: a path that wavers a little, the same each time for the same seed.

/** A small generator of numbers in [0, 1), repeatable from its seed. */
export function chance(seed) {
  let s = seed >>> 0 || 1;
  return () => {
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    s >>>= 0;
    return s / 4294967296;
  };
}

/** Path data for a stroke from `a` to `b` ([x, y] in pixels) that wavers by at most `by` pixels. */
export function stroke(a, b, { seed = 1, by = 0.7, step = 70 } = {}) {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const parts = Math.max(3, Math.round(length / step));
  const along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const next = chance(seed * 7919 + 17);
  const points = [];
  for (let i = 0; i <= parts; i += 1) {
    const off = i === 0 || i === parts ? 0 : (next() - 0.5) * 2 * by;
    const k = (i / parts) * length;
    points.push([a[0] + along[0] * k - along[1] * off, a[1] + along[1] * k + along[0] * off]);
  }
  const f = (n) => n.toFixed(1);
  let path = `M${f(points[0][0])} ${f(points[0][1])}`;
  for (let i = 1; i < points.length - 1; i += 1) {
    const mid = [(points[i][0] + points[i + 1][0]) / 2, (points[i][1] + points[i + 1][1]) / 2];
    path += `Q${f(points[i][0])} ${f(points[i][1])} ${f(mid[0])} ${f(mid[1])}`;
  }
  const end = points.at(-1);
  return `${path}L${f(end[0])} ${f(end[1])}`;
}

/** Where the line through `p` with `direction` (degrees, y up) leaves the box [0, w] × [0, h]; null if it misses it. */
export function across(p, direction, w, h) {
  const r = (direction * Math.PI) / 180;
  const d = [Math.cos(r), -Math.sin(r)];
  let low = -Infinity;
  let high = Infinity;
  for (const [at, by, most] of [[p[0], d[0], w], [p[1], d[1], h]]) {
    if (Math.abs(by) < 1e-9) {
      if (at < 0 || at > most) return null;
      continue;
    }
    const one = (0 - at) / by;
    const two = (most - at) / by;
    low = Math.max(low, Math.min(one, two));
    high = Math.min(high, Math.max(one, two));
  }
  if (low >= high) return null;
  return [low, high].map((k) => [p[0] + d[0] * k, p[1] + d[1] * k]);
}

/** The crossing of two lines, each a point and a direction in degrees (y up); null when they are parallel. */
export function crossing(p, a, q, b) {
  const ra = (a * Math.PI) / 180;
  const rb = (b * Math.PI) / 180;
  const [ax, ay, bx, by] = [Math.cos(ra), -Math.sin(ra), Math.cos(rb), -Math.sin(rb)];
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < 1e-9) return null;
  const k = ((q[0] - p[0]) * by - (q[1] - p[1]) * bx) / cross;
  return [p[0] + ax * k, p[1] + ay * k];
}
