// Elements made in one call. Text is always text: nothing here reads markup.

/** `h("button", {type: "button", class: "plain", onclick: act}, "Nod")`; null and false children are left out. */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  set(element, attributes);
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** Set attributes; a function is a listener, true an empty attribute, false and null take the attribute away. */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name.replace(/^on/, ""), value);
    else if (value === false || value === null || value === undefined) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : `${value}`);
  }
  return element;
}

/** Write text only when it differs, so that a live region does not say it again. */
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
