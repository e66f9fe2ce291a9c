// The focus is never lost. A control that is pressed may be hidden, put to rest or made anew by what it did; a browser then lets the
// focus fall to the page's body, where a keyboard begins again at the top and a screen reader falls silent.

const CONTROLS = "button, summary, a[href], input, select, textarea, [tabindex]";

const ready = (element) =>
  element.isConnected &&
  !element.disabled &&
  !element.matches(":disabled") &&
  element.checkVisibility?.({ visibilityProperty: true }) !== false &&
  element.getClientRects().length > 0;
const named = (element) =>
  `${element.tagName} ${element.id} ${element.getAttribute("aria-label") ?? ""} ${element.name ?? ""} ${element.textContent.trim().slice(0, 60)}`;

/**
 * Keep the focus inside `root`. When what had it can hold it no longer, it goes to its like among what was made anew, else to the
 * nearest control after its old place, else before it, else to `last()`. Answers `{stop}`.
 */
export function keepFocus(root, last, env = globalThis) {
  let held = null; // {element, name, trail: its ancestors, place: its rank among the controls of each}
  let due = false;

  function remember(event) {
    const element = event.target;
    if (!root.contains(element)) {
      held = null; // the hand has gone elsewhere on the page
      return;
    }
    const trail = [];
    for (let up = element.parentElement; up && root.contains(up); up = up.parentElement)
      trail.push([up, rank(up, element)]);
    held = { element, name: named(element), trail };
  }

  function rank(host, element) {
    return [...host.querySelectorAll(CONTROLS)].indexOf(element);
  }

  function lost() {
    const at = env.document.activeElement;
    return held && (!at || at === env.document.body) && !ready(held.element);
  }

  function look() {
    due = false;
    if (!lost()) return;
    const { name, trail } = held;
    for (const [host, at] of trail) {
      if (!host.isConnected) continue;
      const all = [...host.querySelectorAll(CONTROLS)];
      const able = all.filter((one) => ready(one) && one.tabIndex >= -1);
      const like = able.find((one) => named(one) === name);
      const next = like ?? able.find((one) => all.indexOf(one) >= at) ?? able.at(-1);
      if (!next) continue;
      next.focus({ preventScroll: true });
      return;
    }
    last()?.focus({ preventScroll: true });
  }

  // After the page has drawn what was done: only then does a browser know that a control is gone.
  function soon() {
    if (due) return;
    due = true;
    env.requestAnimationFrame(() => env.requestAnimationFrame(look));
  }

  const watch = new env.MutationObserver(soon);
  watch.observe(root, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ["disabled", "hidden", "open"],
  });
  env.document.addEventListener("focusin", remember);
  return {
    stop() {
      watch.disconnect();
      env.document.removeEventListener("focusin", remember);
    },
  };
}

/**
 * Do something that takes a while with the controls at rest, without taking the focus from the one that was pressed: it is
 * marked as resting (`aria-disabled`), and `restsQuietly` lets no press of it through.
 */
export async function atRest(controls, work) {
  const resting = controls.filter(Boolean);
  for (const one of resting) one.setAttribute("aria-disabled", "true");
  try {
    return await work();
  } finally {
    for (const one of resting) one.removeAttribute("aria-disabled");
  }
}

/** Let no press of a control at rest through to what it does. */
export function restsQuietly(root) {
  root.addEventListener(
    "click",
    (event) => {
      if (!event.target.closest?.('[aria-disabled="true"]')) return;
      event.preventDefault();
      event.stopPropagation();
    },
    true,
  );
}
