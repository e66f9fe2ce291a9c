// Help and the way out: two words in the head that unfold a small page. One is open at a time; a press beside it, Escape, or the
// focus going on folds it. What it lies over can't be pressed, reached or read until then: half a button is no button.
import { pressed } from "../ui/elements.js";

const CONTROLS = "summary, a[href], button, input, select, textarea, [tabindex]";

/** `menus` are `details` elements; `covers()` answers the parts of the page, with things to press, that an unfolded page may lie over. */
export function createMenus(menus, covers) {
  let still = []; // the parts that rest under the open page

  const opened = () => menus.find((menu) => menu.open);
  const box = (element) => element.getBoundingClientRect();
  const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

  function cover() {
    const page = opened()?.querySelector(".seat-menu-page");
    const under = page ? covers().filter((one) => meet(box(one), box(page))) : [];
    for (const one of still) if (!under.includes(one)) one.inert = false;
    for (const one of under) one.inert = true;
    still = under;
  }

  function fold(but = null) {
    for (const menu of menus) if (menu !== but) menu.open = false;
    cover();
  }

  for (const menu of menus) {
    menu.addEventListener("toggle", () => (menu.open ? fold(menu) : cover()));
    new ResizeObserver(cover).observe(menu.querySelector(".seat-menu-page"));
  }
  addEventListener("resize", cover);
  document.addEventListener("pointerdown", (event) => opened() && fold(pressed(event, ".seat-menu")));
  document.addEventListener("focusin", (event) => opened() && !opened().contains(event.target) && fold());
  document.addEventListener("keydown", (event) => {
    const open = opened();
    if (!open) return;
    const word = open.querySelector("summary");
    if (event.key === "Escape") {
      fold();
      word.focus();
    } else if (event.key === "Tab" && open.contains(document.activeElement)) {
      const all = [...open.querySelectorAll(CONTROLS)].filter(
        (one) => one.getClientRects().length && one.tabIndex >= 0,
      );
      // Out of the page, forward or back: it folds first, and Tab goes on from its word.
      if (document.activeElement !== all.at(event.shiftKey ? 0 : -1)) return;
      word.focus();
      fold();
    }
  });
  return { fold };
}
