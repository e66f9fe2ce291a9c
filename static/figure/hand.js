// Turning and sliding lines: by dragging, by a tap that picks up and a tap that puts down, by keys and by the strip's buttons.
import { say } from "../words/say.js";
import { candidates } from "./choose.js";
import { unit, writeFigure } from "./model.js";
import { pivotOf } from "./moves.js";
import { move, remember } from "./state.js";

// How near the direction of another line catches a line that is turned by hand: as many degrees, or as many px at the hand if that is
// more, up to a most: near the crossing a hand is coarse.
const CATCH = { degrees: 1.5, px: 10, most: 3 };
const STEP = 6; // px that a line slides at one press, whatever the scale

/**
 * `figure` holds state, svg, options, refresh() (draw all), frame() (draw what the hand moves), take() (show which handle it has),
 * strip() (show which line the strip works on), voice, note, chooser. Answers the acts that pointers, keys and the strip are bound to.
 */
export function createHand({ state, svg, options, refresh, frame, voice, note, chooser, take, strip }) {
  const { tell, tellMove } = voice;

  /** The direction from the pivot to a point of the page, in degrees. */
  function pointing(pivot, point) {
    const p = state.view.toPlane(point);
    return (Math.atan2(p[1] - pivot[1], p[0] - pivot[0]) * 180) / Math.PI;
  }

  /** The direction that a hand means: that of another line, once it has come near it. */
  function meant(line, wanted, reach) {
    if (!state.notice) return wanted;
    const near = Math.min(CATCH.most, Math.max(CATCH.degrees, (CATCH.px / Math.max(reach, 1)) * (180 / Math.PI)));
    let best = null;
    for (const [other, { direction }] of Object.entries(state.model.lines)) {
      if (other === line || direction % state.step) continue;
      let off = (((direction - wanted) % 180) + 180) % 180;
      if (off > 90) off -= 180;
      if (Math.abs(off) <= near && (best === null || Math.abs(off) < Math.abs(best))) best = off;
    }
    return wanted + (best ?? 0);
  }

  function shift(line, steps) {
    const { direction, through } = state.model.lines[line];
    const u = unit(direction);
    const far = (steps * STEP) / state.view.scale;
    return [through[0] - u[1] * far, through[1] + u[0] * far];
  }

  function done() {
    options.onchange?.(writeFigure(state.model), true);
    refresh();
  }

  /** One finished move. */
  function change(line, what) {
    if (state.frozen) return;
    const before = state.model;
    const stopped = move(state, line, what);
    state.line = line;
    state.changed = true;
    note.stop(line, stopped);
    tellMove(line, stopped, note.look(true), before);
    remember(state, before);
    done();
  }

  function putDown(point) {
    const { line, part } = state.held;
    state.held = null;
    if (part === "ring") change(line, { point: state.view.toPlane(point) });
    else change(line, { to: pointing(pivotOf(state.model, line), point) });
  }

  /** Bring the line as near to the hand as it may go. */
  function turn(gesture) {
    const { line, from, pivot, total } = gesture;
    const start = from.lines[line].direction;
    const whole = Math.round(meant(line, start + total, gesture.reach) / state.step) * state.step;
    // How far the line has been turned so far, unrolled, is kept with the gesture.
    const so_far = gesture.done ?? start;
    const by = whole - so_far;
    if (!by) {
      gesture.stopped = "";
      return;
    }
    const was = state.model.lines[line].direction;
    gesture.stopped = move(state, line, { by, pivot });
    let went = state.model.lines[line].direction - was;
    went -= 180 * Math.round(went / 180);
    // The short way round, unless the whole way was gone.
    gesture.done = gesture.stopped ? so_far + (Math.sign(by) * went < 0 ? went + Math.sign(by) * 180 : went) : whole;
  }

  /** What is said at the end of a drag, where its lines have come to run alike. */
  function saidOf(from) {
    const same = state.even.every(([l, m]) => from.lines[l].direction === from.lines[m].direction);
    return state.notice && state.even.length && !same
      ? say("figure.parallel_told", { l: state.even[0][0], m: state.even[0][1] })
      : "";
  }

  const drag = {
    press(line, part) {
      state.line = line;
      strip();
      svg
        .querySelector(`[data-line="${line}"][data-part="${part === "a" ? "b" : part}"]`)
        ?.focus({ preventScroll: true });
    },
    start(line, part, point) {
      if (state.held) refresh();
      state.held = null;
      const pivot = pivotOf(state.model, line);
      const p = state.view.toPlane(point);
      const at = state.model.lines[line].through;
      state.gesture = {
        line,
        part,
        from: state.model,
        pivot,
        first: part === "ring" ? [p[0] - at[0], p[1] - at[1]] : pointing(pivot, point),
        total: 0,
      };
      take();
    },
    move(point) {
      const { gesture } = state;
      const before = state.model;
      if (gesture.part === "ring") {
        const p = state.view.toPlane(point);
        gesture.stopped = move(state, gesture.line, { point: [p[0] - gesture.first[0], p[1] - gesture.first[1]] });
      } else {
        // The turn since the last frame, the short way round; so a line follows the hand through any number of turns.
        const now = pointing(gesture.pivot, point);
        const at = state.view.toPage(gesture.pivot);
        gesture.reach = Math.hypot(point[0] - at[0], point[1] - at[1]);
        let step = now - (gesture.last ?? gesture.first);
        step -= 360 * Math.round(step / 360);
        gesture.last = now;
        gesture.total += step;
        turn(gesture);
      }
      note.stop(gesture.line, gesture.stopped);
      if (state.model === before) return; // less than a step: nothing to draw
      state.changed = true;
      const said = note.look(true);
      if (said) tell(said);
      if (options.onmove) options.onmove(state.model);
      else options.onchange?.(writeFigure(state.model), false);
      frame();
    },
    end() {
      const { line, from, stopped } = state.gesture;
      state.gesture = null;
      tellMove(line, stopped, saidOf(from), from);
      remember(state, from);
      done();
    },
    cancel() {
      const { line, from } = state.gesture;
      state.gesture = null;
      state.model = from;
      note.stop(line, "");
      note.look(false);
      tell(say("figure.put_back", { line }));
      done();
    },
  };

  function hold(line, part) {
    if (state.frozen) return;
    const same = state.held?.line === line && state.held.part === part;
    state.held = same ? null : { line, part };
    state.line = line;
    tell(say(same ? "figure.put_down" : part === "ring" ? "figure.slide_held" : "figure.turn_held", { line }));
    refresh();
  }

  return {
    ...drag,
    hold,
    isFrozen: () => Boolean(state.frozen),
    /** A tap within a handle's wide reach, but not on its ink, may mean an angle that lies there. */
    tap(line, part, point) {
      const laid = state.laid.lines[line];
      const at = part === "ring" ? laid.ring : laid.grips[part === "a" ? 0 : 1];
      const off = Math.hypot(point[0] - at[0], point[1] - at[1]);
      // With a line in hand, a finger beside a handle means that place: browsers lead touches to what lies near.
      if (state.held && off > (state.held.line === line && state.held.part === part ? 20 : 12)) putDown(point);
      else if (off >= 12 && !state.held && state.pick && candidates(state, point).length) chooser.at(point, null);
      else hold(line, part);
    },
    choose(point, target) {
      if (state.held) putDown(point);
      else chooser.at(point, target);
    },
    nudge: (line, part, steps) =>
      change(line, part === "ring" ? { point: shift(line, steps) } : { by: steps * state.step }),
    extreme: (line, part, sign) =>
      change(line, part === "ring" ? { point: shift(line, sign * 200) } : { by: sign * 178 }),
    turnTo: (value) => change(state.line, { to: value }),
    /** Put down what is held; whether something was. */
    letGo() {
      if (!state.held) return false;
      const { line } = state.held;
      state.held = null;
      tell(say("figure.put_down", { line }));
      refresh();
      return true;
    },
    undo() {
      if (state.frozen) return;
      const before = state.undo.pop();
      if (!before) return;
      const now = state.model;
      state.model = before;
      note.stop(state.line, "");
      note.look(false);
      tellMove(state.line, "", "", now);
      done();
    },
  };
}
