// What a student types as an answer, read as app/practice/answers.py reads it: the same grammar, the same
// limits, the same faults at the same places. tests/vectors/answers.json holds both to it.
//
// A polynomial is a Map from monomial ("", "x", "x·x", "x·y") to an exact fraction (rational.js).

import { fromDecimal, isZero, one, over, plus, ratio, show, times, zero } from "./rational.js";

export const LENGTH = 64;
export const TOKENS = 30;
export const DEPTH = 8;
export const DIGITS = 6;
const DEGREE = 2;
const LETTERS = 3;

const SPACE = new Set([" ", "\t", "\u00a0", "\u2009", "\u202f"]);
const SAME = { "−": "-", "–": "-", "×": "*", "·": "*", "⋅": "*", "÷": "/", º: "°" };
const DEGREES = new Set(["deg", "degree", "degrees", "grado", "grados"]);
const SIGNS = new Set([..."+-*/^=(),;²°"]);
const isDigit = (c) => c >= "0" && c <= "9";
const isLetter = (c) => (c >= "a" && c <= "z") || (c >= "A" && c <= "Z");

/** Why an answer can't be read: `code` is a key of the practice catalogue, `at` the place counted from 0. */
export class AnswerFault extends Error {
  constructor(code, at, fields = {}) {
    super(code);
    this.code = code;
    this.at = at;
    this.fields = { at, place: at + 1, ...fields };
  }
}

const degree = (monomial) => (monomial === "" ? 0 : monomial.split("·").length);

function add(p, q, k = one) {
  const total = new Map(p);
  for (const [m, c] of q) total.set(m, plus(total.get(m) ?? zero, times(c, k)));
  for (const [m, c] of total) if (isZero(c)) total.delete(m);
  return total;
}

function scale(p, k) {
  return add(new Map(), p, k);
}

function multiply(p, q) {
  let total = new Map();
  for (const [m, a] of p) {
    for (const [n, b] of q) {
      const key = [...m.split("·"), ...n.split("·")].filter(Boolean).sort().join("·");
      total = add(total, new Map([[key, times(a, b)]]));
    }
  }
  return total;
}

/** The polynomial in one canonical order, as Python's show_poly writes it. */
export function showPoly(poly) {
  const keys = [...poly.keys()].sort((a, b) => degree(b) - degree(a) || (a < b ? -1 : 1));
  let text = "";
  for (const key of keys) {
    const k = poly.get(key);
    const negative = k.n < 0n;
    const size = ratio(negative ? -k.n : k.n, k.d);
    const parts = key.split("·").filter(Boolean);
    const named = parts.length === 2 && parts[0] === parts[1] ? `${parts[0]}²` : parts.join("");
    let number = show(size);
    if (named && number === "1") number = "";
    else if (named && size.d !== 1n) number = `(${number})`;
    const sign = text ? (negative ? " - " : " + ") : negative ? "-" : "";
    text += sign + number + named;
  }
  return text || "0";
}

const GAP = "[ \\t\\u00a0\\u2009\\u202f]*";
const ANGLE = new RegExp(
  `^(?:m(?:easure${GAP}of)?${GAP})?(?:[∠<]|angle\\b)${GAP}([0-9]{1,3}|[A-Za-z]{1,3})(?![A-Za-z0-9])`,
  "i",
);
// What is said after an equation: (cons. int.). Three letters in a row are no letters of a problem.
const REMARK = new RegExp(`${GAP}\\((?=[^()=]*[A-Za-z]{3})[^()=0-9]*\\)${GAP}\\.?${GAP}$`);

/** In a line of working an angle stands for its measure, a letter "∠2", and a remark may follow the equation in brackets. */
function tokens(text, line) {
  let chars = [...text];
  if (chars.length > LENGTH) throw new AnswerFault("too_long", LENGTH, { most: LENGTH });
  const end = chars.length;
  if (line && text.includes("=")) chars = [...text.replace(REMARK, "")];
  const found = [];
  let at = 0;
  while (at < chars.length) {
    const sign = SAME[chars[at]] ?? chars[at];
    const start = at;
    if (SPACE.has(sign)) {
      at += 1;
      continue;
    }
    const angle = line ? ANGLE.exec(chars.slice(at).join("")) : null;
    if (angle) {
      at += [...angle[0]].length;
      found.push({ kind: "letter", word: `∠${angle[1]}`, at: start });
    } else if (isDigit(sign) || sign === ".") {
      at = numberEnd(chars, at);
      found.push({ kind: "number", word: chars.slice(start, at).join(""), at: start });
    } else if (isLetter(sign)) {
      while (at < chars.length && isLetter(chars[at])) at += 1;
      found.push(...letters(chars.slice(start, at).join(""), start));
    } else if (SIGNS.has(sign)) {
      at += 1;
      found.push({ kind: sign, word: sign, at: start });
    } else {
      throw new AnswerFault("sign", at, { sign });
    }
    if (found.length > TOKENS) throw new AnswerFault("too_many", start, { most: TOKENS });
  }
  return { found, end };
}

function numberEnd(chars, start) {
  let at = start;
  let digits = 0;
  let points = 0;
  while (at < chars.length && (isDigit(chars[at]) || chars[at] === "." || decimalComma(chars, at))) {
    if (isDigit(chars[at])) digits += 1;
    else points += 1;
    at += 1;
  }
  if (points > 1 || !digits || chars[at - 1] === ".") throw new AnswerFault("number", start);
  if (digits > DIGITS) throw new AnswerFault("long_number", start, { most: DIGITS });
  return at;
}

/** 18,5 is a decimal. Three digits after the comma may be thousands, so 1,000 is asked about instead. */
function decimalComma(chars, at) {
  if (chars[at] !== "," || at === 0 || !isDigit(chars[at - 1])) return false;
  let end = at + 1;
  while (end < chars.length && isDigit(chars[end])) end += 1;
  return ![0, 3].includes(end - at - 1);
}

function letters(word, start) {
  const low = word.toLowerCase();
  if (low === "or" || low === "and") return [{ kind: low, word, at: start }];
  if (DEGREES.has(low)) return [{ kind: "°", word, at: start }];
  if (word.length === 1) return [{ kind: "letter", word: low, at: start }]; // a capital alone is the letter: X = 20
  if (word.length > DEGREE || word !== low) throw new AnswerFault("word", start, { word: word.slice(0, 16) });
  return [...word].map((letter, i) => ({ kind: "letter", word: letter, at: start + i }));
}

class Reader {
  constructor(text, line = false) {
    if (typeof text === "number") {
      if (!(Math.abs(text) < 10 ** DIGITS)) throw new AnswerFault("long_number", 0, { most: DIGITS });
      text = String(text);
    }
    if (typeof text !== "string") throw new AnswerFault("not_text", 0);
    const { found, end } = tokens(text, line);
    this.tokens = found;
    this.end = end;
    this.at = 0;
    this.depth = 0;
    this.letters = [...new Set(found.filter((t) => t.kind === "letter").map((t) => t.word))].sort();
    if (this.letters.length > LETTERS) throw new AnswerFault("letters", 0, { most: LETTERS });
  }

  get kind() {
    return this.tokens[this.at]?.kind ?? "";
  }

  get place() {
    return this.tokens[this.at]?.at ?? this.end;
  }

  take() {
    this.at += 1;
    return this.tokens[this.at - 1];
  }

  fault(code, fields) {
    return new AnswerFault(code, this.place, fields);
  }

  anything() {
    if (!this.tokens.length) throw this.fault("empty");
    const first = this.sum();
    if (!this.kind) return { expression: first };
    if (this.kind !== "=") throw this.stray();
    const cases = [this.equations(first)];
    while (this.kind === "or") {
      this.take();
      cases.push(this.equations(this.sum()));
    }
    if (this.kind) throw this.stray();
    return { cases, letters: this.letters };
  }

  stray() {
    const { kind, word } = this.tokens[this.at];
    const before = this.at ? this.tokens[this.at - 1].kind : "";
    if (kind === "number" && before === "number") return this.fault("two_numbers");
    if (kind === "number" && ["letter", ")", "²", "°"].includes(before)) return this.fault("number_after");
    if (kind === ")") return this.fault("closing");
    return this.fault("stray", { sign: word });
  }

  equations(first) {
    const found = this.chain(first);
    while ([",", ";", "and"].includes(this.kind)) {
      this.take();
      found.push(...this.chain(this.sum()));
    }
    return found;
  }

  chain(first) {
    if (this.kind !== "=") throw this.fault("no_equals");
    const found = [];
    while (this.kind === "=") {
      this.take();
      const second = this.sum();
      found.push({ left: first, right: second });
      first = second;
    }
    return found;
  }

  sum() {
    let negative = false;
    if (this.kind === "+" || this.kind === "-") negative = this.take().kind === "-";
    let { poly, lone } = this.product();
    if (negative) {
      poly = scale(poly, ratio(-1n));
      lone = null;
    }
    while (this.kind === "+" || this.kind === "-") {
      const minus = this.take().kind === "-";
      const k = minus !== this.minus() ? ratio(-1n) : one;
      poly = add(poly, this.product().poly, k);
      lone = null;
    }
    return { poly, lone };
  }

  // One minus sign right after another sign: 3x + -4, 3 · -4.
  minus() {
    if (this.kind !== "-") return false;
    this.take();
    return true;
  }

  product() {
    let { poly, lone } = this.power();
    while (["*", "/", "letter", "("].includes(this.kind)) {
      const place = this.place;
      const sign = this.kind === "*" || this.kind === "/" ? this.take().kind : "*";
      if (this.kind === "*") throw this.fault("double_star");
      const signed = ["*", "/"].includes(this.tokens[this.at - 1]?.kind) && this.minus();
      const by = scale(this.power().poly, signed ? ratio(-1n) : one);
      if (sign === "/") {
        const divisor = by.get("");
        if (!divisor || by.size > 1) throw new AnswerFault("divide", place);
        poly = scale(poly, over(one, divisor));
      } else {
        poly = multiply(poly, by);
        this.checkDegree(poly, place);
      }
      lone = null;
    }
    return { poly, lone };
  }

  checkDegree(poly, place) {
    if ([...poly.keys()].some((m) => degree(m) > DEGREE)) throw new AnswerFault("degree", place, { most: DEGREE });
  }

  power() {
    let { poly, lone } = this.atom();
    while (this.kind === "²" || this.kind === "^") {
      const place = this.place;
      let exponent = 2;
      if (this.take().kind === "^") {
        if (this.kind !== "number" || !["0", "1", "2"].includes(this.tokens[this.at].word)) {
          throw new AnswerFault("exponent", place, { most: DEGREE });
        }
        exponent = Number(this.take().word);
      }
      if (this.kind === "²" || this.kind === "^") throw this.fault("exponent", { most: DEGREE });
      const base = poly;
      poly = new Map([["", one]]);
      for (let i = 0; i < exponent; i += 1) poly = multiply(poly, base);
      this.checkDegree(poly, place);
      lone = null;
    }
    if (this.kind === "°") this.take();
    return { poly, lone };
  }

  atom() {
    if (!this.kind) throw this.fault("unfinished");
    if (this.kind === "number") {
      const value = fromDecimal(this.take().word.replace(",", "."));
      return { poly: isZero(value) ? new Map() : new Map([["", value]]), lone: null };
    }
    if (this.kind === "letter") {
      const letter = this.take().word;
      return { poly: new Map([[letter, one]]), lone: letter };
    }
    if (this.kind === "(") {
      const place = this.place;
      this.take();
      this.depth += 1;
      if (this.depth > DEPTH) throw new AnswerFault("deep", place, { most: DEPTH });
      const inside = this.sum();
      if (this.kind !== ")") {
        throw this.kind && this.kind !== "=" ? this.stray() : new AnswerFault("open", place);
      }
      this.take();
      this.depth -= 1;
      return inside;
    }
    throw this.fault("expected", { sign: this.tokens[this.at].word });
  }
}

/** {poly} of one expression without an equals sign. */
export function readExpression(text) {
  const found = new Reader(text).anything();
  if (found.cases) throw new AnswerFault("equals_here", 0);
  return found.expression;
}

/** {cases: [[{left, right}]], letters} of one line of working. */
export function readLine(text) {
  const found = new Reader(text, true).anything();
  if (!found.cases) throw new AnswerFault("no_equals", 0);
  return found;
}

const constant = (poly) => ([...poly.keys()].some((m) => m !== "") ? null : (poly.get("") ?? zero));

/** The number that the text says, as "12", "-7/2": `12`, `146/3`, `65°`, `x = 12`. */
export function readValue(text) {
  const found = new Reader(text).anything();
  if (found.expression) {
    const value = constant(found.expression.poly);
    if (value) return show(value);
  } else if (found.cases.length === 1 && found.cases[0].length === 1) {
    const { left, right } = found.cases[0][0];
    for (const [name, value] of [
      [left, right],
      [right, left],
    ]) {
      const number = constant(value.poly);
      if (name.lone && number) return show(number);
    }
  }
  throw new AnswerFault("not_a_number", 0);
}

/** As readValue, for a field labelled `label` ("m∠2", "x"): the label may be said along, m∠2 = 40°. */
export function readMeasure(text, label) {
  const found = /^\s*m\s*∠\s*([A-Za-z0-9]{1,8})$/.exec(label);
  if (!found || typeof text !== "string" || [...text].length > LENGTH) return readValue(text);
  const angle = `\\s*(?:m(?:easure)?\\s*)?(?:∠|<|angle)\\s*${found[1]}\\s*`;
  for (const pattern of [`^${angle}=(.*)$`, `^(.*)=${angle}$`]) {
    const said = new RegExp(pattern, "i").exec(text);
    if (said) return readValue(said[1]);
  }
  return readValue(text);
}
