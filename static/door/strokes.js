// Where the lines of the front door's figure run. They are ruled: in a program about straight lines nothing wavers.

/** Path data for the straight stroke from `a` to `b` ([x, y] in pixels). */
export function stroke(a, b) {
  const f = (p) => `${p[0].toFixed(2)} ${p[1].toFixed(2)}`;
  return `M${f(a)}L${f(b)}`;
}

/** Where the line through `p` with `direction` (degrees, y up) leaves the box [0, w] × [0, h]; null if it misses it. */
export function across(p, direction, w, h) {
  const r = (direction * Math.PI) / 180;
  const d = [Math.cos(r), -Math.sin(r)];
  let low = -Infinity;
  let high = Infinity;
  for (const [at, by, most] of [
    [p[0], d[0], w],
    [p[1], d[1], h],
  ]) {
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
