// Exact fractions for the answer reader: {n, d} with d > 0 and no common factor, both BigInt.

/** @param {bigint} a @param {bigint} b @returns {bigint} */
function gcd(a, b) {
  while (b) [a, b] = [b, a % b];
  return a < 0n ? -a : a;
}

/** @param {bigint} n @param {bigint} d @returns {Ratio} */
export function ratio(n, d = 1n) {
  if (d < 0n) [n, d] = [-n, -d];
  const g = gcd(n, d) || 1n;
  return { n: n / g, d: d / g };
}

export const zero = ratio(0n);
export const one = ratio(1n);

/**
 * "3.50" as 7/2; the text holds digits and at most one point.
 * @param {string} text
 */
export function fromDecimal(text) {
  const [whole, part = ""] = text.split(".");
  return ratio(BigInt(whole + part || "0"), 10n ** BigInt(part.length));
}

/**
 * @typedef {{n: bigint, d: bigint}} Ratio
 * @typedef {(a: Ratio, b: Ratio) => Ratio} Operation
 */

/** @type {Operation} */
export const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
/** @type {Operation} */
export const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
/** @type {Operation} */
export const over = (a, b) => ratio(a.n * b.d, a.d * b.n);
/** @type {(a: Ratio) => boolean} */
export const isZero = (a) => a.n === 0n;
/** @type {(a: Ratio) => string} */
export const show = (a) => (a.d === 1n ? `${a.n}` : `${a.n}/${a.d}`);
