// Elements of a page: found, made in one call, kept in step with a list. Text is always text: nothing here reads markup.

/**
 * What an attribute may be given. A listener is told of the event that it asked for: its type stands where it is written.
 * @typedef {string | number | boolean | null | undefined | ((event: any) => unknown)} Attribute
 */
/**
 * What may stand in an element; null and false are left out, lists are laid flat.
 * @typedef {Node | string | null | undefined | false | readonly (Node | string | null | undefined | false)[]} Child
 */

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
  for (const child of children.flat()) if (child !== null && child !== undefined && child !== false) element.append(child);
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

/**
 * Keep the children of `host` in step with `items`, by key: what stays keeps its element (and its focus), what is gone goes,
 * what is new is made. `make(item)` answers an element, `update(element, item)` brings it up to date.
 */
export function keyed(host, items, key, make, update) {
  const old = new Map([...host.children].map((element) => [element.dataset.key, element]));
  let place = host.firstElementChild;
  for (const item of items) {
    const name = `${key(item)}`;
    let element = old.get(name);
    if (element) old.delete(name);
    else {
      element = make(item);
      element.dataset.key = name;
    }
    update(element, item);
    if (element === place) place = place.nextElementSibling;
    else host.insertBefore(element, place);
  }
  for (const element of old.values()) element.remove();
}
