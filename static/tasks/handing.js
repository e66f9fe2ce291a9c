// What stands at the card's foot: the button that hands in, and what else can be pressed there.
import { h } from "../ui/elements.js";

/** `main` are the buttons that bring the task on, `also` all others; the page puts both in the order in which they are seen. */
export function handing(main, also = []) {
  return h(
    "p",
    { class: "toolbar hand-in" },
    main,
    also.some(Boolean) ? h("span", { class: "hand-also" }, also) : null,
  );
}

/**
 * Put what a module left in `card` into the foot: `hand` is the place of its buttons, `way` the button on. From left to right and from top to
 * bottom stands what Tab and a reader come to one after the other: the main button, the way on, the rest, then what was said of
 * the answer; held in the hand (`inHand`, a media query) that comes right under the main button, and the rest below it. `cue`,
 * the arrow to what lies farther down in `read`, stands at the end of that, and in the hand in the foot itself, over nothing of the card.
 */
export function footer({ hand, way, verdict, cue, read }, inHand) {
  let rest = [];

  function arrange() {
    const focused = document.activeElement;
    (inHand.matches ? verdict : read).after(cue);
    if (inHand.matches) cue.after(...rest);
    else hand.append(...rest);
    // A browser takes the focus from what is moved.
    if (focused instanceof HTMLElement && rest.some((one) => one.contains(focused)))
      focused.focus({ preventScroll: true });
  }

  inHand.addEventListener("change", arrange);
  return {
    take(card) {
      for (const one of rest) one.remove();
      const mine = [...card.querySelectorAll(":scope > .hand-in")];
      rest = mine.flatMap((one) => [...one.querySelectorAll(":scope > .hand-also")]);
      hand.replaceChildren(...mine, way);
      arrange();
    },
    clear() {
      for (const one of rest) one.remove();
      rest = [];
      hand.replaceChildren();
    },
  };
}
