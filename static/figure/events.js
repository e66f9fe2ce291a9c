// The only module that binds pointer and keyboard events of a figure. It routes: start, move, end, cancel; the work is done
// once a frame by whoever is told. Taps do all that drags do (WCAG 2.2 SC 2.5.7): a tap on a handle picks it up, the next
// tap says where it goes.

const SLOP = 6; // pixels of trembling that are still a tap

/**
 * `on` hears: grab(handle), drag(handle, [x, y]), drop(handle), revert(), tap(target | null, [x, y]), key(handle, event) → handled.
 * A handle or target is the SVG group with data-do and data-name.
 */
export function bind(root, on) {
  let gesture = null;
  let frame = 0;
  const point = (event) => {
    const box = root.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const target = (event) => event.target.closest?.("[data-do]") ?? null;
  const isHandle = (element) => element && (element.dataset.do === "turn" || element.dataset.do === "slide");

  function down(event) {
    if (gesture || event.button > 0) return;
    const element = target(event);
    gesture = { id: event.pointerId, element, from: [event.clientX, event.clientY], at: null, moved: false };
    if (!isHandle(element)) return;
    root.setPointerCapture(event.pointerId);
    event.preventDefault(); // no text selection, no page drag
    (element.getAttribute("tabindex") === null ? element.parentNode.querySelector(`[data-name="${element.dataset.name}"][tabindex]`) : element)?.focus({ preventScroll: true });
  }

  function move(event) {
    if (!gesture || event.pointerId !== gesture.id) return;
    if (!gesture.moved && Math.hypot(event.clientX - gesture.from[0], event.clientY - gesture.from[1]) < SLOP) return;
    if (!gesture.moved) {
      gesture.moved = true;
      if (isHandle(gesture.element)) on.grab(gesture.element);
    }
    if (!isHandle(gesture.element)) return;
    gesture.at = point(event);
    frame ||= requestAnimationFrame(tick);
  }

  function tick() {
    frame = 0;
    if (gesture?.at) on.drag(gesture.element, gesture.at);
  }

  function up(event) {
    if (!gesture || event.pointerId !== gesture.id) return;
    const { element, moved } = gesture;
    if (moved && isHandle(element)) {
      if (frame) {
        cancelAnimationFrame(frame);
        tick();
      }
      gesture = null;
      on.drop(element);
      return;
    }
    gesture = null;
    if (!moved) on.tap(element, point(event));
  }

  function cancel(event) {
    if (!gesture || (event && event.pointerId !== gesture.id)) return;
    const held = gesture.moved && isHandle(gesture.element);
    cancelAnimationFrame(frame);
    frame = 0;
    gesture = null;
    if (held) on.revert();
  }

  function key(event) {
    if (event.key === "Escape") {
      const held = gesture;
      cancel();
      if (held || on.escape()) event.preventDefault();
      return;
    }
    const element = target(event);
    if (element && on.key(element, event)) event.preventDefault();
  }

  const bound = [["pointerdown", down], ["pointermove", move], ["pointerup", up], ["pointercancel", cancel], ["lostpointercapture", cancel], ["keydown", key]];
  for (const [name, act] of bound) root.addEventListener(name, act);
  return () => {
    cancelAnimationFrame(frame);
    for (const [name, act] of bound) root.removeEventListener(name, act);
  };
}
