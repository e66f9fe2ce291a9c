// Exact fractions for the answer reader: {n, d} with d > 0 and no common factor, both BigInt.

function gcd(a, b) {
  while (b) [a, b] = [b, a % b];
  return a < 0n ? -a : a;
}

export function ratio(n, d = 1n) {
  if (d < 0n) [n, d] = [-n, -d];
  const g = gcd(n, d) || 1n;
  return { n: n / g, d: d / g };
}

export const zero = ratio(0n);
export const one = ratio(1n);

/** "3.50" as 7/2; the text holds digits and at most one point. */
export function fromDecimal(text) {
  const [whole, part = ''] = text.split('.');
  return ratio(BigInt((whole + part) || '0'), 10n ** BigInt(part.length));
}

export const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
export const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
export const over = (a, b) => ratio(a.n * b.d, a.d * b.n);
export const isZero = (a) => a.n === 0n;
export const show = (a) => (a.d === 1n ? `${a.n}` : `${a.n}/${a.d}`);
