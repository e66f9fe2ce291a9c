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

export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Keep the children of `host` in step with `keys`: what stays keeps its element, what is gone goes, what is new is made. */
export function keyed(host, keys, create) {
  const old = new Map();
  for (const child of [...host.children]) old.set(child.getAttribute("data-key"), child);
  const elements = {};
  let place = host.firstElementChild;
  for (const key of keys) {
    let element = old.get(key);
    if (element) old.delete(key);
    else {
      element = create(key);
      element.setAttribute("data-key", key);
    }
    if (element === place) place = place.nextElementSibling;
    else host.insertBefore(element, place);
    elements[key] = element;
  }
  for (const element of old.values()) element.remove();
  return elements;
}
