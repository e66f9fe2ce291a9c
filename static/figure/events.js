// The only module that binds pointers. A gesture on a handle has four verbs: start, move, end, cancel; `move` notes the place, the
// work is done once a frame. What doesn't travel is a tap: it picks a handle up, and the next tap puts it down.

const THRESHOLD = 6; // px that tell a drag from a tap

/**
 * `act` holds: press(line, part), start(line, part, point), move(point), end(), cancel() for drags; tap(line, part, point) and
 * hold(line, part) for a handle tapped, or clicked without a place; choose(point, target) for all other taps.
 * Answers `{unbind, cancel}`.
 */
export function bindPointer(svg, act, frame) {
  let gesture = null; // {id, x, y, travelled, handle, at}
  let justDragged = false;

  let box = null; // where the figure lies; asked once a gesture, since asking in mid-drag would force a layout
  const spot = (event) => {
    return [event.clientX - box.left, event.clientY - box.top];
  };

  function down(event) {
    if (gesture || event.button > 0) return;
    justDragged = false;
    box = svg.getBoundingClientRect();
    const handle = event.target.closest?.("[data-part]");
    if (!handle || act.isFrozen()) return;
    gesture = {
      id: event.pointerId,
      from: spot(event),
      at: spot(event),
      travelled: false,
      line: handle.dataset.line,
      part: handle.dataset.part,
    };
    svg.setPointerCapture?.(event.pointerId);
    // No mouse events beside those of the pointer: they would double what a frame of a drag costs before any of it is ours.
    event.preventDefault();
    act.press(gesture.line, gesture.part);
  }

  function moved(event) {
    if (event.pointerId !== gesture?.id) return;
    gesture.at = spot(event);
    if (!gesture.travelled) {
      if (Math.hypot(gesture.at[0] - gesture.from[0], gesture.at[1] - gesture.from[1]) < THRESHOLD) return;
      gesture.travelled = true;
      act.start(gesture.line, gesture.part, gesture.from);
    }
    frame(() => gesture?.travelled && act.move(gesture.at));
  }

  function up(event) {
    if (event.pointerId !== gesture?.id) return;
    const done = gesture;
    gesture = null;
    justDragged = true; // the click that follows belongs to this gesture
    setTimeout(() => (justDragged = false), 0);
    if (done.travelled) {
      act.move(done.at);
      act.end();
    } else {
      act.tap(done.line, done.part, done.at);
    }
  }

  function cancel() {
    if (!gesture) return false;
    const { id, travelled } = gesture;
    gesture = null;
    if (svg.hasPointerCapture?.(id)) svg.releasePointerCapture(id);
    if (travelled) act.cancel();
    return travelled;
  }

  function cancelled(event) {
    if (event.pointerId === gesture?.id) cancel();
  }

  function click(event) {
    box = svg.getBoundingClientRect();
    if (justDragged) {
      justDragged = false;
      return;
    }
    const target = event.target.closest?.("[data-kind],[data-part]") ?? null;
    // A click without a place comes from a screen reader or a script: it means the very thing it is sent to.
    const placeless = event.detail === 0 || (event.clientX === 0 && event.clientY === 0);
    if (target?.dataset.part) {
      if (placeless) act.hold(target.dataset.line, target.dataset.part);
      return;
    }
    act.choose(spot(event), placeless ? target : null);
  }

  // A finger on a handle drags it; anywhere else on the paper it scrolls the page. `touch-action` can't say so: browsers
  // read it of a whole drawing, not of a part of one, and take the finger away after some fifteen pixels.
  function touched(event) {
    if (event.target.closest?.("[data-part]") && !act.isFrozen()) event.preventDefault();
  }

  const bound = [
    ["pointerdown", down],
    ["pointermove", moved],
    ["pointerup", up],
    ["pointercancel", cancelled],
    ["click", click],
  ];
  for (const [type, listener] of bound) svg.addEventListener(type, listener);
  svg.addEventListener("touchstart", touched, { passive: false });
  return {
    cancel,
    unbind() {
      for (const [type, listener] of bound) svg.removeEventListener(type, listener);
      svg.removeEventListener("touchstart", touched);
    },
  };
}
