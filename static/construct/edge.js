// The paper's edge: the instruments lie there and are picked up; beside them what to do now, and what this instrument can do.
import { h, svg, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { compassShapes } from "./compass.js";
import { givens } from "./replay.js";
import { objectWords } from "./words.js";

const TOOLS = ["compass", "straightedge", "pencil"];

/** The edge under the paper. `desk` has state and the acts pick, swing, round, longer, open, lift, kind, undo, redo, hint, shake. */
export function createEdge(host, desk) {
  const now = h("p", { class: "c-now", id: "c-now" });
  const buttons = {};
  const bar = h("div", { class: "c-instruments", role: "group", "aria-label": say("construct.instruments") });
  const labels = {};
  for (const name of TOOLS) {
    labels[name] = h("span", {}, say(`construct.${name}`));
    buttons[name] = h(
      "button",
      {
        type: "button",
        class: "c-instrument",
        "aria-pressed": "false",
        "aria-keyshortcuts": name[0],
        onclick: () => desk.pick(name),
      },
      portrait(name),
      labels[name],
    );
    bar.append(buttons[name]);
  }
  const act = (key, run) => h("button", { type: "button", class: "plain", onclick: run }, say(`construct.${key}`));
  const can = {
    swing: act("swing", desk.swing),
    round: act("swing_round", desk.round),
    longer: act("longer", desk.longer),
    open: act("new_opening", desk.open),
    lift: act("lift", desk.lift),
  };
  const kinds = h("span", { class: "c-kinds", role: "group", "aria-label": say("construct.draw_what") });
  const kind = {};
  for (const name of ["line", "ray", "segment"]) {
    kind[name] = h(
      "button",
      { type: "button", class: "plain", "aria-pressed": "false", onclick: () => desk.kind(name) },
      say(`construct.draw_${name}`),
    );
    kinds.append(kind[name]);
  }
  const undo = act("undo", desk.undo);
  const redo = act("redo", desk.redo);
  const doingNow = h(
    "div",
    { class: "c-doing" },
    now,
    h("div", { class: "toolbar c-can" }, ...Object.values(can), kinds),
  );
  const shake = act("shake", desk.shake);
  const hint = act("next_step", desk.hint);
  const undoing = h("div", { class: "c-undo" }, undo, redo, hint, shake);
  const guest = h("div", { class: "c-guest", hidden: true });
  host.append(h("div", { class: "c-edge" }, bar, doingNow, undoing, guest));

  /** Lay something else at the edge for a while (the reasons, one at a time), or the instruments again. */
  function lay(element) {
    for (const part of [bar, doingNow, undoing]) part.hidden = Boolean(element);
    guest.hidden = !element;
    guest.replaceChildren(...(element ? [element] : []));
  }

  /** A control that has just gone or can't be pressed any more gives the focus to the paper, where the work goes on. */
  function keepFocus(at) {
    if (
      at &&
      [doingNow, undoing].some((part) => part.contains(at)) &&
      (at.hidden || at.disabled || at.closest("[hidden]"))
    )
      desk.toPaper();
  }

  function update() {
    const { state } = desk;
    const off = desk.frozen();
    const focused = document.activeElement; // asked first: what is hidden may lose it at once
    for (const name of TOOLS) {
      buttons[name].setAttribute("aria-pressed", `${state.tool === name}`);
      buttons[name].disabled = off;
    }
    const compass = state.tool === "compass";
    const stands = compass && state.foot && state.opening;
    can.swing.hidden = can.round.hidden = !stands;
    can.longer.hidden = !(
      compass &&
      !state.foot &&
      state.moves.at(-1)?.op === "arc" &&
      (state.moves.at(-1).sweep?.[1] ?? 360) < 360
    );
    can.open.hidden = !(compass && state.opening);
    can.lift.hidden = !(state.foot || state.first);
    kinds.hidden = state.tool !== "straightedge";
    for (const [name, button] of Object.entries(kind)) button.setAttribute("aria-pressed", `${state.kind === name}`);
    shake.disabled = hint.disabled = off;
    shake.hidden = !state.moves.length;
    undo.disabled = off || !state.moves.length;
    redo.disabled = off || !state.ahead.length;
    for (const button of [...Object.values(can), ...Object.values(kind)]) button.disabled = off;
    write(labels.compass, say(state.compass === "collapsing" ? "construct.compass_own" : "construct.compass"));
    write(now, state.told ?? doing(state));
    if (guest.hidden) keepFocus(focused);
  }

  return { update, lay, focusShake: () => shake.focus({ preventScroll: true }) };
}

/** The one line that says what the instrument in hand wants next. */
export function doing(state) {
  if (state.shown !== null) return say("construct.now_back", { n: state.shown, of: state.moves.length });
  const [a, b] = state.opening ?? [];
  if (!state.moves.length && !state.foot && !state.first && state.led) return first(state);
  if (state.tool === "pencil") return say("construct.now_pencil");
  if (state.tool === "straightedge") {
    if (!state.first) return say("construct.now_straightedge_first");
    return say(state.kind === "ray" ? "construct.now_straightedge_ray" : "construct.now_straightedge_second", {
      first: state.first,
    });
  }
  if (!state.foot)
    return state.opening ? say("construct.now_compass_foot_kept", { a, b }) : say("construct.now_compass_foot");
  const of = lineAt(state, state.foot);
  if (!state.opening && of && state.compass !== "collapsing")
    return say("construct.now_compass_open_on", { foot: state.foot, of });
  if (!state.opening)
    return say(state.compass === "collapsing" ? "construct.now_compass_open_own" : "construct.now_compass_open", {
      foot: state.foot,
    });
  if (state.compass === "collapsing") return say("construct.now_compass_swing_own", { foot: state.foot, b });
  return say("construct.now_compass_swing", { foot: state.foot, a, b });
}

/** What to do first: which tool is in hand, and what to tap. */
function first({ tool, construction, compass, start }) {
  const { angle = [], line = [], segment = [], point } = start;
  if (tool === "straightedge") {
    // Only a parallel through a point begins with a transversal.
    return construction?.startsWith("parallel")
      ? say("construct.first_transversal", { p: point, line: line.join("") })
      : say("construct.now_straightedge_first");
  }
  if (tool !== "compass") return say("construct.now_pencil");
  if (angle.length) return say("construct.first_vertex", { v: angle[1] });
  if (construction === "copy a segment" && compass !== "collapsing")
    return say("construct.first_length", { a: segment[0], b: segment[1] });
  return say("construct.first_point", { p: construction === "bisect a segment" ? segment[0] : point });
}

/** A given line, ray or segment that passes through a point, in words. */
function lineAt({ start }, name) {
  const found = Object.entries(givens(start)).find(([, [, a, b]]) => a === name || b === name);
  return found ? objectWords(found[0], start, []) : null;
}

/** A small drawing of the instrument as it lies at the edge. */
function portrait(name) {
  const root = svg("svg", { viewBox: "0 0 64 52", class: "c-portrait", "aria-hidden": "true" });
  if (name === "compass") {
    const inner = svg("g", { transform: "translate(3 0) scale(0.46)" });
    for (const { key: _key, tag, ...attributes } of compassShapes([30, 108], [96, 108], { locked: true }))
      inner.append(svg(/** @type {"path"} */ (tag), attributes));
    root.append(inner);
  } else if (name === "straightedge") {
    root.append(
      svg("path", { class: "c-maple", d: "M3 33L58 12L61 21L6 42Z" }),
      svg("path", { class: "c-bevel", d: "M4 36L59 15" }),
    );
  } else {
    root.append(
      svg("path", { class: "c-stick", d: "M16 40L50 9L55 14L21 45Z" }),
      svg("path", { class: "c-lead", d: "M16 40L12 49L21 45Z" }),
      svg("path", { class: "c-brass", d: "M50 9L54 5.5L58.5 10L55 14Z" }),
    );
  }
  return root;
}
