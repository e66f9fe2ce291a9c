// Carrying a triangle onto a congruent one, as SSS says can be done. Pure.

/** A triangle part of the way to a congruent one: turned and shifted, or turned over where it must be. */
export function carried(from, to, k) {
  const turnOf = (t) => Math.atan2(t[1][1] - t[0][1], t[1][0] - t[0][0]);
  const sign = (t) => Math.sign((t[1][0] - t[0][0]) * (t[2][1] - t[0][1]) - (t[1][1] - t[0][1]) * (t[2][0] - t[0][0]));
  let turn = turnOf(to) - turnOf(from);
  turn = Math.atan2(Math.sin(turn), Math.cos(turn)) * k;
  const over = sign(from) === sign(to) ? 1 : 1 - 2 * k;
  const base = turnOf(from);
  return from.map(([x, y]) => {
    const [dx, dy] = [x - from[0][0], y - from[0][1]];
    // Along and beside the first side; beside shrinks through 0 when the triangle is turned over.
    const along = dx * Math.cos(base) + dy * Math.sin(base);
    const beside = (-dx * Math.sin(base) + dy * Math.cos(base)) * over;
    const angle = base + turn;
    return [
      from[0][0] + (to[0][0] - from[0][0]) * k + along * Math.cos(angle) - beside * Math.sin(angle),
      from[0][1] + (to[0][1] - from[0][1]) * k + along * Math.sin(angle) + beside * Math.cos(angle),
    ];
  });
}
