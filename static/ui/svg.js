// SVG elements, written to only where something changed.
import { keyed, SVG } from "./elements.js";

/** @typedef {string | number | boolean | null | undefined} Value */
/** @typedef {Record<string, Value>} Attributes */
/**
 * A shape of a drawing: its key among its like, its element's name, its text, its attributes.
 * @typedef {{key: string, tag: string, text?: string, [attribute: string]: Value}} Shape
 */

/**
 * What was written to each element last: reading it back from the page would cost more.
 * @type {WeakMap<Element, Record<string, Value>>}
 */
const kept = new WeakMap();

/** @param {Element} element */
function known(element) {
  let found = kept.get(element);
  if (!found) kept.set(element, (found = {}));
  return found;
}

/**
 * `make("circle", { r: 4 })`; null and false attributes are left out.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Attributes} attributes
 * @param {(Node | string)[]} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  put(element, attributes);
  element.append(...children);
  return element;
}

/**
 * Set the attributes that differ from what they were; null and false take one away.
 * @template {Element} T
 * @param {T} element
 * @param {Attributes} attributes
 * @returns {T}
 */
export function put(element, attributes) {
  const last = known(element);
  for (const name in attributes) {
    const value = attributes[name];
    if (last[name] === value) continue;
    last[name] = value;
    if (value === null || value === undefined || value === false) element.removeAttribute(name);
    else element.setAttribute(name, `${value}`);
  }
  return element;
}

/**
 * Set one attribute, if it differs from what it was: for what is written in every frame.
 * @param {Element} element
 * @param {string} name
 * @param {string | number} value
 */
export function set(element, name, value) {
  const last = known(element);
  if (last[name] === value) return;
  last[name] = value;
  element.setAttribute(name, `${value}`);
}

/**
 * Carry an element to a place, to a tenth of a px.
 * @param {Element} element
 * @param {readonly number[]} p
 */
export function carry(element, p) {
  const last = known(element);
  const [x, y] = [Math.round(p[0] * 10) / 10, Math.round(p[1] * 10) / 10];
  if (last.x_ === x && last.y_ === y) return;
  last.x_ = x;
  last.y_ = y;
  element.setAttribute("transform", `translate(${x} ${y})`);
}

/** @type {WeakMap<Element, string>} */
const texts = new WeakMap();

/**
 * Write text only where it differs; what was written last is remembered, since reading it back from the page costs more.
 * @param {Element} element
 * @param {string} text
 */
export function write(element, text) {
  if (texts.get(element) === text) return;
  texts.set(element, text);
  const first = element.firstChild;
  // Changing the text node costs less than putting another in its place.
  if (first instanceof Text) first.data = text;
  else element.textContent = text;
}

/**
 * Bring a group in step with its shapes: what stays keeps its element, and only changed attributes are written.
 * @param {Element} group
 * @param {Shape[]} shapes
 */
export function sync(group, shapes) {
  const tags = new Map(shapes.map(({ key, tag }) => [key, tag]));
  const elements = keyed(group, [...tags.keys()], (key) => document.createElementNS(SVG, `${tags.get(key)}`));
  for (const { key, tag: _tag, text, ...attributes } of shapes) {
    put(elements[key], attributes);
    if (text !== undefined) write(elements[key], text);
  }
}
