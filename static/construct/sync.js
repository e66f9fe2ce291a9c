// Keyed SVG: what stays keeps its element, only changed attributes are written. One call a frame.

const NS = "http://www.w3.org/2000/svg";

export function svg(tag, attributes = {}, text = null) {
  const element = document.createElementNS(NS, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  if (text !== null) element.textContent = text;
  return element;
}

/** Bring a group in step with items {key, tag, text?, ...attributes}. */
export function sync(group, items) {
  const kept = (group.kept ??= new Map());
  const wanted = new Set();
  let last = null;
  for (const { key, tag, text, ...attributes } of items) {
    wanted.add(key);
    let entry = kept.get(key);
    if (!entry) {
      entry = { element: svg(tag), is: {}, text: null };
      kept.set(key, entry);
      group.insertBefore(entry.element, last ? last.nextSibling : group.firstChild);
    }
    for (const [name, value] of Object.entries(attributes)) {
      if (entry.is[name] === value) continue;
      entry.is[name] = value;
      entry.element.setAttribute(name, value);
    }
    if (text !== undefined && text !== entry.text) {
      entry.text = text;
      entry.element.textContent = text;
    }
    last = entry.element;
  }
  for (const [key, entry] of kept) {
    if (wanted.has(key)) continue;
    entry.element.remove();
    kept.delete(key);
  }
}
