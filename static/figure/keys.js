// The keyboard in the figure: sliders turn and slide lines; arrow keys go from angle to angle, Enter and Space choose; Escape
// undoes what is under way; Ctrl+Z takes back the last move. Only while the focus is in the figure.

const ONE = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 };
const TEN = { PageUp: 10, PageDown: -10 };

/** `act` holds: nudge(line, part, steps), extreme(line, part, sign), choose(element), rove(element, by), escape() → bool, undo(). */
export function bindKeys(root, act) {
  function down(event) {
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z" && !event.shiftKey) {
      if (event.target.matches("input, textarea")) return; // a field has its own undo
      event.preventDefault();
      act.undo();
      return;
    }
    if (event.key === "Escape" && act.escape()) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const handle = event.target.closest?.("[data-part]");
    if (handle) {
      const steps = TEN[event.key] ?? (ONE[event.key] ?? 0) * (event.shiftKey ? 10 : 1);
      const end = { Home: -1, End: 1 }[event.key];
      if (steps) act.nudge(handle.dataset.line, handle.dataset.part, steps);
      else if (end) act.extreme(handle.dataset.line, handle.dataset.part, end);
      else return;
      event.preventDefault();
      return;
    }
    const thing = event.target.closest?.("[data-kind]");
    if (!thing) return;
    if (event.key === "Enter" || event.key === " ") act.choose(thing);
    else if (ONE[event.key]) act.rove(thing, event.key === "ArrowRight" || event.key === "ArrowDown" ? 1 : -1);
    else if (event.key === "Home" || event.key === "End") act.rove(thing, event.key === "Home" ? -Infinity : Infinity);
    else return;
    event.preventDefault();
  }

  root.addEventListener("keydown", down);
  return () => root.removeEventListener("keydown", down);
}
