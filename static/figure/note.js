// The word that is written when two lines come to run alike, and why a line stops, where it covers no letter and no number.
import { say } from "../words/say.js";
import { freeCorner } from "./layout.js";
import { evened } from "./state.js";

const BUZZ = 14; // ms, where a device can be felt

/**
 * `{element, look(byHand) → text for ears, stop(line, why), write(), settle(), on() → whether it is written}`. `onmoment({came, went})`
 * hears of pairs of lines that come to run alike, or no longer do.
 */
export function createNote(state, onmoment) {
  const still = globalThis.matchMedia?.("(prefers-reduced-motion: reduce)");
  const element = document.createElement("p");
  element.className = "figure-note";
  element.setAttribute("aria-hidden", "true");
  let noted = "";
  let halt = ""; // why the line in hand goes no farther

  /** Look whether lines have become, or are no longer, of one direction; answers what to say of it, or "". */
  function look(byHand) {
    const { came, went } = evened(state);
    if (!state.notice) return "";
    if (came.length || went.length) onmoment?.({ came, went });
    if (came.length) {
      state.fresh = !still?.matches;
      if (byHand) globalThis.navigator?.vibrate?.(BUZZ);
    }
    write();
    if (came.length)
      return say(state.reason ? "figure.parallel_reason" : "figure.parallel_told", {
        l: came[0][0],
        m: came[0][1],
        reason: state.reason ?? "",
      });
    return went.length ? say("figure.parallel_left", { l: went[0][0], m: went[0][1] }) : "";
  }

  function write() {
    const pair = state.notice ? state.even[0] : null;
    if (!pair && !noted && !halt) return;
    const reason = state.reason ?? say("figure.parallel_drawn");
    const now = [pair ? `${pair.join(" ")} ${reason}` : "", halt].filter(Boolean).join(" ");
    if (now === noted) return;
    noted = now;
    element.replaceChildren();
    element.toggleAttribute("data-on", now !== "");
    if (halt) element.append(span("figure-halt", halt));
    if (!pair) return;
    const [l, m] = pair;
    element.append(
      span("statement", say("figure.parallel", { l, m })),
      " ",
      span("figure-note-word", `${say("figure.parallel_word")}${state.reason ? ": " : ", "}${reason}`),
    );
  }

  /** Say why a line goes no farther; with "" that it is free again. */
  function stop(line, why) {
    const text = why ? say(`figure.stopped_${why}`, { line }) : "";
    if (text === halt) return;
    halt = text;
    write();
    settle();
  }

  /** Go to the corner where it covers least. */
  function settle() {
    if (!noted) return;
    const [w, h] = state.size === "board" ? [720, 84] : state.view.width < 520 ? [150, 58] : [350, 42];
    const corner = freeCorner(
      state.laid,
      state.view,
      w,
      h * (halt && state.even.length ? 1.6 : 1),
      element.dataset.corner,
    );
    if (element.dataset.corner !== corner) element.dataset.corner = corner;
  }

  return { element, look, stop, write, settle, on: () => noted !== "" };
}

function span(name, text) {
  const element = document.createElement("span");
  element.className = name;
  element.textContent = text;
  return element;
}
