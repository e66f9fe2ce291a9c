// The instruments as they lie on the paper: a wooden compass with a brass hinge, a straightedge of maple. Shapes in pixels.
import { n } from "./view.js";

/** @import { Point } from "./geometry.js" */

/** Of the two sides of the way from foot to pencil the one that is higher on the page; where neither is, the left. */
const sideOf = (dx, dy) => (dx > 0.001 || (Math.abs(dx) <= 0.001 && dy < 0) ? 1 : -1);

/**
 * The hinge's place for a foot and a pencil point: upright, the legs as long as the opening needs.
 * @param {Point} foot
 * @param {Point} pencil
 * @returns {Point}
 */
export function hinge(foot, pencil, side = 0) {
  const [dx, dy] = [pencil[0] - foot[0], pencil[1] - foot[1]];
  const d = Math.hypot(dx, dy) || 1;
  const leg = Math.max(96, d * 0.78);
  const rise = Math.sqrt(leg * leg - (d * d) / 4);
  const up = side || sideOf(dx, dy);
  return [(foot[0] + pencil[0]) / 2 + (up * dy * rise) / d, (foot[1] + pencil[1]) / 2 - (up * dx * rise) / d];
}

/**
 * A compass that stands on its foot, as shapes around that foot and a turn: {foot, pencil, side, at, turn}, the
 * first three for compassShapes(). While it swings only the turn changes; past the vertical the hinge changes sides.
 */
export function standingCompass(foot, pencil) {
  const [dx, dy] = [pencil[0] - foot[0], pencil[1] - foot[1]];
  return {
    foot: [0, 0],
    pencil: [n(Math.hypot(dx, dy)), 0],
    side: sideOf(dx, dy),
    at: [n(foot[0]), n(foot[1])],
    turn: n((Math.atan2(dy, dx) * 180) / Math.PI),
  };
}

/**
 * The compass as keyed shapes for sync(): two tapered legs, needle, pencil, hinge and knob.
 * @param {Point} foot
 * @param {Point} pencil
 * @param {{locked: boolean, ghost?: boolean, side?: number}} looks
 */
export function compassShapes(foot, pencil, { locked, ghost = false, side = 0 }) {
  const top = hinge(foot, pencil, side);
  const soft = ghost ? " c-ghost" : "";
  const [fx, fy] = along(foot, top, 22);
  const [px, py] = along(pencil, top, 26);
  return [
    // Few elements, since all of them move with every frame of a swing: metal tips, colored stick, both wooden legs.
    {
      key: "tips",
      tag: "path",
      class: `c-lead${soft}`,
      d: taper(foot, [fx, fy], 0.5, 1.4) + taper(pencil, along(pencil, top, 9), 0.4, 3.2),
    },
    { key: "stick", tag: "path", class: `c-stick${soft}`, d: taper(along(pencil, top, 9), [px, py], 3.2, 3.2) },
    {
      key: "legs",
      tag: "path",
      class: `c-wood${soft}`,
      d:
        taper([fx, fy], top, 2.6, 6) +
        taper([px, py], top, 3.6, 6) +
        disc(along(top, [(foot[0] + pencil[0]) / 2, (foot[1] + pencil[1]) / 2], -12), 4.5),
    },
    {
      key: "hinge",
      tag: "path",
      class: locked ? `c-brass${soft}` : "c-brass c-loose",
      d: disc(top, 8) + disc(top, 2.5),
    },
  ];
}

/** @param {Point} a @param {Point} b @param {number} far @returns {Point} */
function along(a, b, far) {
  const d = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return [a[0] + ((b[0] - a[0]) * far) / d, a[1] + ((b[1] - a[1]) * far) / d];
}

function taper(a, b, wa, wb) {
  const d = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [u, v] = [-(b[1] - a[1]) / d, (b[0] - a[0]) / d];
  const corner = (p, w) => `${n(p[0] + u * w)} ${n(p[1] + v * w)}`;
  return `M${corner(a, wa)}L${corner(b, wb)}L${corner(b, -wb)}L${corner(a, -wa)}Z`;
}

const disc = ([x, y], r) => `M${n(x - r)} ${n(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;

/** The straightedge along two pixel points: a long strip whose edge runs through both. */
export function straightedgeShapes(a, b) {
  const d = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
  // The strip lies below the line, so that what is being drawn stays in sight.
  const side = ux >= 0 ? 1 : -1;
  const [nx, ny] = [-uy * side, ux * side];
  const [from, to] = [-70, d + 70];
  const at = (t, w) => `${n(a[0] + ux * t + nx * w)} ${n(a[1] + uy * t + ny * w)}`;
  return [
    { key: "strip", tag: "path", class: "c-maple", d: `M${at(from, 1)}L${at(to, 1)}L${at(to, 30)}L${at(from, 30)}Z` },
    { key: "bevel", tag: "path", class: "c-bevel", d: `M${at(from, 7)}L${at(to, 7)}` },
  ];
}
