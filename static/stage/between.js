// A figure part of the way from one to another, for a mirror that gets few updates a second. Pure; no page.

/** Degrees as a plain number; "37/2" is a fraction. */
export function degrees(value) {
  if (typeof value === "number") return value;
  const [top, bottom = "1"] = String(value).split("/");
  return Number(top) / Number(bottom);
}

/** The signed shorter way from one direction to another (both modulo 180), in [-90, 90). */
export function turn(from, to) {
  return ((((to - from + 90) % 180) + 180) % 180) - 90;
}

/** True when the two figures have the same lines, meets and angles by name, so that one can move into the other. */
export function alike(a, b) {
  if (!a || !b) return false;
  return ["lines", "meets", "angles"].every((part) => names(a[part]) === names(b[part]));
}

function names(part) {
  return Object.keys(part ?? {}).join(" ");
}

/**
 * The figure `k` of the way (0 to 1) from `a` to `b`: lines turn the shorter way, points slide straight.
 * At 1 it is `b` itself, so that exact directions arrive exact.
 */
export function between(a, b, k) {
  if (k >= 1 || !alike(a, b)) return b;
  const lines = {};
  for (const [name, line] of Object.entries(b.lines)) {
    const old = a.lines[name];
    const from = degrees(old.direction);
    const swing = turn(from, degrees(line.direction));
    const through = line.through.map((to, i) => mix(degrees(old.through[i]), degrees(to), k));
    lines[name] = { ...line, direction: round((((from + swing * k) % 180) + 180) % 180), through: through.map(round) };
  }
  const meets = {};
  for (const [name, meet] of Object.entries(b.meets ?? {})) {
    // A meet's place follows from its lines: a stored one belongs to the figure that has arrived.
    meets[name] = Array.isArray(meet) ? meet : { lines: meet.lines };
  }
  return { ...b, lines, meets };
}

function mix(a, b, k) {
  return a + (b - a) * k;
}

function round(n) {
  return Math.round(n * 1e4) / 1e4;
}
