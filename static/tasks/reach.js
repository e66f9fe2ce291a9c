// Whether a statement holds in the figure as drawn: for the tick beside what is to be reached. The server judges; this only shows.
import { halfTurn, measure } from "../figure/model.js";

/** @import { Model } from "../figure/model.js" */
/** @typedef {(model: Model, ...names: string[]) => boolean | null} Test */

const ANGLE = String.raw`m?∠\s*(\w+)`;
/** @type {[RegExp, Test][]} */
const FORMS = [
  [new RegExp(`^${ANGLE}\\s*[≅=]\\s*${ANGLE}$`, "u"), (model, a, b) => angles(model, [a, b], (x, y) => x === y)],
  [
    new RegExp(`^${ANGLE}\\s*=\\s*(\\d+(?:\\.\\d+)?)°?$`, "u"),
    (model, a, n) => angles(model, [a], (x) => x === Number(n)),
  ],
  [
    new RegExp(`^${ANGLE}\\s+and\\s+${ANGLE}\\s+are\\s+supplementary$`, "u"),
    (model, a, b) => angles(model, [a, b], (x, y) => x + y === 180),
  ],
  [
    new RegExp(`^${ANGLE}\\s+and\\s+${ANGLE}\\s+are\\s+complementary$`, "u"),
    (model, a, b) => angles(model, [a, b], (x, y) => x + y === 90),
  ],
  [
    new RegExp(`^${ANGLE}\\s*\\+\\s*${ANGLE}\\s*=\\s*(\\d+)°?$`, "u"),
    (model, a, b, n) => angles(model, [a, b], (x, y) => x + y === Number(n)),
  ],
  [/^(\w+)\s*(?:∥|\|\|)\s*(\w+)$/u, (model, l, m) => lines(model, l, m, (turn) => turn === 0)],
  [/^(\w+)\s*∦\s*(\w+)$/u, (model, l, m) => lines(model, l, m, (turn) => turn !== 0)],
  [/^(\w+)\s*⊥\s*(\w+)$/u, (model, l, m) => lines(model, l, m, (turn) => turn === 90)],
];

function angles(model, names, test) {
  return names.every((name) => name in model.angles) ? test(...names.map((name) => measure(model, name))) : null;
}

function lines(model, l, m, test) {
  return l in model.lines && m in model.lines
    ? test(halfTurn(model.lines[l].direction - model.lines[m].direction))
    : null;
}

const read = new Map(); // asked of the same few statements in every frame of a drag

/** True or false as drawn; null for a statement in a form that isn't known here. */
export function holds(model, statement) {
  let test = read.get(statement);
  if (!test) read.set(statement, (test = reader(statement)));
  return test(model);
}

function reader(statement) {
  for (const [form, test] of FORMS) {
    const found = statement.trim().match(form);
    if (found) return (model) => test(model, ...found.slice(1));
  }
  return () => null;
}
