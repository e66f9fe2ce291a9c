// SVG elements, written to only where something changed.

const SVG = "http://www.w3.org/2000/svg";
const kept = new WeakMap();

export function make(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  put(element, attributes);
  element.append(...children);
  return element;
}

/** Set the attributes that differ from what they were; null and false take one away. */
export function put(element, attributes) {
  let known = kept.get(element);
  if (!known) kept.set(element, (known = {}));
  for (const name in attributes) {
    const value = attributes[name];
    if (known[name] === value) continue;
    known[name] = value;
    if (value === null || value === undefined || value === false) element.removeAttribute(name);
    else element.setAttribute(name, value);
  }
  return element;
}

/** Set one attribute, if it differs from what it was: for what is written in every frame. */
export function set(element, name, value) {
  const known = kept.get(element);
  if (known[name] === value) return;
  known[name] = value;
  element.setAttribute(name, value);
}

/** Carry an element to a place, to a tenth of a px. */
export function carry(element, p) {
  const known = kept.get(element);
  const [x, y] = [Math.round(p[0] * 10) / 10, Math.round(p[1] * 10) / 10];
  if (known.x_ === x && known.y_ === y) return;
  known.x_ = x;
  known.y_ = y;
  element.setAttribute("transform", `translate(${x} ${y})`);
}

const texts = new WeakMap();

/** Write text only where it differs; what was written last is remembered, since reading it back from the page costs more. */
export function write(element, text) {
  if (texts.get(element) === text) return;
  texts.set(element, text);
  // Changing the text node costs less than putting another in its place.
  if (element.firstChild?.nodeType === 3) element.firstChild.data = text;
  else element.textContent = text;
}

const rows = new WeakMap();

/** Keep the children of `host` in step with `keys`: what stays keeps its element, what is gone goes, what is new is made. */
export function keyed(host, keys, create) {
  const joined = keys.join("\n");
  const last = rows.get(host);
  if (last?.joined === joined) return last.elements;
  const elements = {};
  let place = host.firstElementChild;
  for (const key of keys) {
    const element = last?.elements[key] ?? create(key);
    if (element === place) place = place.nextElementSibling;
    else host.insertBefore(element, place);
    elements[key] = element;
  }
  for (const key in last?.elements) if (!(key in elements)) last.elements[key].remove();
  rows.set(host, { joined, elements });
  return elements;
}
