// Elements of a page: found, made in one call, kept in step with a list. Text is always text: nothing here reads markup.

/**
 * What an attribute may be given. A listener is told of the event that it asked for: its type stands where it is written.
 * @typedef {string | number | boolean | null | undefined | ((event: any) => unknown)} Attribute
 */
/**
 * What may stand in an element; null and false are left out, lists are laid flat.
 * @typedef {Node | string | null | undefined | false | readonly (Node | string | null | undefined | false)[]} Child
 */

export const SVG = "http://www.w3.org/2000/svg";

/**
 * The element of the page with an id, as what it is: `byId("next", HTMLButtonElement)`. A page without it is a fault of ours.
 * @template {Element} T
 * @param {string} id
 * @param {new () => T} type
 * @returns {T}
 */
export function byId(id, type) {
  const found = document.getElementById(id);
  if (found instanceof type) return found;
  throw new TypeError(`the page has no ${type.name} #${id}`);
}

/**
 * The first element inside `root` that a selector finds, as what it is. A page without it is a fault of ours.
 * @template {Element} T
 * @param {ParentNode} root
 * @param {string} selector
 * @param {new () => T} type
 * @returns {T}
 */
export function find(root, selector, type) {
  const found = root.querySelector(selector);
  if (found instanceof type) return found;
  throw new TypeError(`the page has no ${type.name} ${selector}`);
}

/**
 * The element that an event came from, or the nearest around it that a selector finds.
 * @param {Event} event
 * @param {string} selector
 * @returns {HTMLElement | null}
 */
export function pressed(event, selector) {
  const { target } = event;
  return target instanceof Element ? target.closest(selector) : null;
}

/**
 * `h("button", {type: "button", class: "plain", onclick: act}, "Nod")`; null and false children are left out.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, Attribute>} attributes
 * @param {Child[]} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  set(element, attributes);
  for (const child of children.flat())
    if (child !== null && child !== undefined && child !== false) element.append(child);
  return element;
}

/**
 * The same for a drawing: `svg("path", { class: "arc", d })`.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Record<string, Attribute>} attributes
 * @param {(Node | string)[]} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  set(element, attributes);
  element.append(...children);
  return element;
}

/**
 * Set attributes; a function is a listener, true an empty attribute, false and null take the attribute away.
 * @template {Element} T
 * @param {T} element
 * @param {Record<string, Attribute>} attributes
 * @returns {T}
 */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name.replace(/^on/, ""), value);
    else if (value === false || value === null || value === undefined) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : `${value}`);
  }
  return element;
}

/**
 * Write text only when it differs, so that a live region does not say it again.
 * @param {Node} element
 * @param {string} text
 */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** @type {WeakMap<Element, {joined: string, elements: Record<string, any>}>} */
const lists = new WeakMap();

/**
 * Keep the children of `host` in step with `keys`: what stays keeps its element (and its focus), what is gone goes, what is new is
 * made. Answers the elements by their keys. Nothing else may put children there.
 * @template {Element} E
 * @param {Element} host
 * @param {string[]} keys
 * @param {(key: string) => E} create
 * @returns {Record<string, E>}
 */
export function keyed(host, keys, create) {
  const joined = keys.join("\n");
  const last = lists.get(host);
  if (last?.joined === joined) return last.elements;
  /** @type {Record<string, E>} */
  const elements = {};
  let place = host.firstElementChild;
  for (const key of keys) {
    const element = last?.elements[key] ?? create(key);
    if (element === place) place = place.nextElementSibling;
    else host.insertBefore(element, place);
    elements[key] = element;
  }
  for (const key in last?.elements) if (!(key in elements)) last.elements[key].remove();
  lists.set(host, { joined, elements });
  return elements;
}

/**
 * The same for things with more to them: `make(item)` answers an element, `update(element, item)` brings it up to date.
 * @template {Element} E
 * @template T
 * @param {Element} host
 * @param {T[]} items
 * @param {(item: T) => string | number} key
 * @param {(item: T) => E} make
 * @param {(element: E, item: T) => void} update
 */
export function inStep(host, items, key, make, update) {
  const by = new Map(items.map((item) => [`${key(item)}`, item]));
  const elements = keyed(host, [...by.keys()], (name) => make(/** @type {T} */ (by.get(name))));
  for (const [name, item] of by) update(elements[name], item);
}

/**
 * A row of buttons that is one stop for Tab; arrows, Home and End go along it, and it remembers where one was. What the keys do here
 * is done: nothing behind hears of them.
 * @param {HTMLElement} bar
 */
export function oneStop(bar) {
  const all = [...bar.querySelectorAll("button")];
  const place = (/** @type {Event} */ event) => all.findIndex((button) => button === event.target);

  function at(/** @type {number} */ n) {
    all.forEach((button, i) => {
      button.tabIndex = i === n ? 0 : -1;
    });
  }

  at(0);
  bar.addEventListener("focusin", (event) => place(event) >= 0 && at(place(event)));
  bar.addEventListener("keydown", (event) => {
    const here = place(event);
    /** @type {Record<string, number>} */
    const ways = {
      ArrowRight: here + 1,
      ArrowDown: here + 1,
      ArrowLeft: here - 1,
      ArrowUp: here - 1,
      Home: 0,
      End: all.length - 1,
    };
    const to = ways[event.key];
    if (here < 0 || to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    all[(to + all.length) % all.length].focus();
  });
}
