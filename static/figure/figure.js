// A figure on the page: drawn, turned, slid, chosen from; by pointer, by taps, by keys, by fields.
import { say } from "../words/say.js";
import { bind } from "./events.js";
import { build, objects, put, update } from "./draw.js";
import { createControls } from "./controls.js";
import { degreesOf, describe } from "./describe.js";
import { fit, joining, layout, SIZES, toWorld, visible } from "./layout.js";
import { evenPairs, order, read, slid, slideToward, turnToward, write } from "./model.js";
import { namePair, rayOff } from "./pairs.js";

const SLIDE = 0.25; // units of the plane a press of a slide button moves a line
const TELL = 500; // ms between two descriptions while something moves (users.md A-28)

/** Draw a figure into `host`; see DEVELOPERS.md, "The figure on the page", for the options and what comes back. */
export function createFigure(host, options) {
  const o = { marks: {}, movable: [], step: 1, measures: false, pick: null, size: "seat", controls: null, moment: false, letters: null, title: "", description: "", onpick: () => {}, onchange: () => {}, onmoment: () => {}, ...options };
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  const wrap = document.createElement("div");
  wrap.className = `figure-wrap figure-${o.size}`;
  const ground = document.createElement("div");
  ground.className = "figure-ground";
  wrap.append(ground);
  host.append(wrap);

  let figure = read(o.figure);
  let marks = o.marks ?? {};
  let picked = new Set();
  let pair = null;
  let even = new Set();
  let view = null;
  let parts = null;
  let unbind = null;
  let controls = null;
  let held = null; // a handle picked up by a tap
  let before = null; // the figure at the start of a movement
  const past = [];
  let redraw = 0;
  let told = 0;
  let spoken = 0;

  const shape = (f) => JSON.stringify([Object.keys(f.lines), Object.entries(f.meets).map(([k, v]) => [k, v.lines]), Object.entries(f.angles).map(([k, v]) => [k, v.at])]);
  const lettered = () => o.letters ?? Object.keys(figure.angles).some((name) => !/^\d+$/.test(name));

  function mount() {
    unbind?.();
    parts?.root.remove();
    controls?.element.remove();
    parts = build(figure, { pick: o.pick, movable: o.movable, letters: lettered() || o.pick === "meet" });
    parts.title.textContent = o.title || say("figure.title");
    ground.append(parts.root);
    unbind = bind(parts.root, { grab, drag, drop, revert, tap, key, escape });
    const strip = o.controls ?? o.movable.length > 0;
    controls = strip && o.movable.length ? createControls(o.movable, { turnTo, turnBy, slideBy, undo }) : null;
    if (controls) wrap.append(controls.element);
    rove();
    even = evenSet();
    measureGround();
  }

  function measureGround() {
    const { width, height } = ground.getBoundingClientRect();
    if (width < 2 || height < 2) return;
    view = fit(figure, width, height);
    parts.root.setAttribute("viewBox", `0 0 ${width} ${height}`);
    draw();
  }

  function texts() {
    const out = {};
    for (const name of Object.keys(figure.angles)) {
      const number = /^\d+$/.test(name) && o.size !== "small" ? [name] : [];
      const label = marks.angles?.[name]?.label ?? (o.measures ? degreesOf(figure, name) : null);
      out[name] = label ? [...number, label] : number;
    }
    return out;
  }

  function draw() {
    redraw = 0;
    if (!view) return;
    const drawn = layout(figure, view, { size: o.size, texts: texts(), marks: shownMarks(), letters: Object.keys(parts.meets).length > 0, handles: o.movable });
    update(parts, drawn, { picked, even: o.moment ? even : new Set(), held, font: SIZES[o.size].font });
    trace();
    for (const name of o.movable) slider(name);
    controls?.update(figure, past.length > 0);
    tell();
  }

  /** In a figure that may say so, lines with equal directions get arrow marks "as drawn". */
  function shownMarks() {
    if (!o.moment || even.size === 0) return marks;
    const lines = { ...marks.lines };
    for (const name of even) lines[name] ??= { arrows: 1, tone: "drawn" };
    return { ...marks, lines };
  }

  function trace() {
    if (!pair) {
      put(parts.trace, "d", "");
      put(parts.traceBack, "d", "");
      return;
    }
    const [a, b] = pair;
    const named = namePair(figure, a, b);
    let path = "";
    if (named.transversal) {
      const t = named.transversal;
      path = joining(figure, view, a, b, rayOff(figure.angles[a], t), rayOff(figure.angles[b], t), SIZES[o.size].arc * 3.6);
    }
    put(parts.trace, "d", path);
    put(parts.traceBack, "d", path);
  }

  function slider(name) {
    const handles = parts.handles[name];
    const whole = Math.round(figure.lines[name].direction * 10) / 10;
    put(handles.ends[1], "aria-valuenow", `${whole}`);
    put(handles.ends[1], "aria-valuetext", say("figure.degrees", { n: whole }));
    const { through, direction } = figure.lines[name];
    const r = (direction * Math.PI) / 180;
    const off = Math.round((through[1] * Math.cos(r) - through[0] * Math.sin(r)) * 10) / 10;
    put(handles.ring, "aria-valuenow", `${Math.max(-100, Math.min(100, off))}`);
    put(handles.ring, "aria-valuetext", say("figure.off", { n: off }));
  }

  function tell(now = false) {
    clearTimeout(told);
    const wait = now ? 0 : Math.max(0, spoken + TELL - performance.now());
    told = setTimeout(() => {
      spoken = performance.now();
      const measured = Object.fromEntries(Object.keys(figure.angles).map((name) => [name, marks.angles?.[name]?.label ?? (o.measures ? degreesOf(figure, name) : null)]));
      const text = o.description || describe(figure, { marks, measured });
      if (parts.desc.textContent !== text) parts.desc.textContent = text;
      for (const name of Object.keys(parts.angles)) {
        const label = measured[name] ? say("figure.angle_measured", { name, text: measured[name] }) : say("figure.angle", { name });
        put(parts.angles[name].group, "aria-label", label);
      }
    }, wait);
  }

  function soon() {
    redraw ||= requestAnimationFrame(draw);
  }

  // — moving —

  const box = () => visible(view, 26);
  const least = () => 62 / view.scale; // two crossings never closer than this

  function pivot(name) {
    const on = order(figure, name).map((meet) => figure.meets[meet].at);
    if (on.length === 0) return figure.lines[name].through;
    const [a, b] = [on[0], on[on.length - 1]];
    return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  }

  function change(next, done) {
    if (next === figure) return;
    const was = even;
    figure = next;
    even = evenSet();
    if (o.moment) feel(was);
    soon();
    o.onchange(write(figure), done);
  }

  function evenSet() {
    return new Set(evenPairs(figure).flat());
  }

  /** The moment when two lines come to run the same way: it can be felt, and it is said. */
  function feel(was) {
    const fresh = [...even].filter((name) => !was.has(name));
    if (fresh.length) globalThis.navigator.vibrate?.(still.matches ? 0 : 14);
    if (fresh.length || (was.size && even.size < was.size)) o.onmoment(evenPairs(figure));
  }

  function turnAbout(from, name, wanted) {
    const centre = pivot(name);
    const set = slid(from, name, centre) ?? from;
    return turnToward(set, name, wanted, o.step, box(), least());
  }

  function grab(element) {
    held = element;
    before = figure;
    parts.root.classList.add("moving");
    controls?.pick(element.dataset.name);
  }

  function drag(element, at) {
    const name = element.dataset.name;
    const [x, y] = toWorld(view, at);
    if (element.dataset.do === "turn") {
      const centre = pivot(name);
      change(turnAbout(figure, name, (Math.atan2(y - centre[1], x - centre[0]) * 180) / Math.PI), false);
    } else change(slideToward(figure, name, nearest(name, [x, y]), box(), least()), false);
  }

  /** The place on a line's own normal through the pointer, in quarter steps: sliding never turns. */
  function nearest(name, [x, y]) {
    const { direction, through } = figure.lines[name];
    const r = (direction * Math.PI) / 180;
    const off = (y - through[1]) * Math.cos(r) - (x - through[0]) * Math.sin(r);
    const by = Math.round(off / SLIDE) * SLIDE;
    return [through[0] - by * Math.sin(r), through[1] + by * Math.cos(r)];
  }

  function drop() {
    parts.root.classList.remove("moving");
    held = null;
    if (before && before !== figure) {
      past.push(before);
      if (past.length > 60) past.shift();
      o.onchange(write(figure), true);
    }
    before = null;
    soon();
  }

  function revert() {
    parts.root.classList.remove("moving");
    held = null;
    if (before) change(before, true);
    before = null;
    soon();
  }

  function escape() {
    if (!held && !before) return false;
    revert();
    return true;
  }

  /** One finished movement made without a drag. */
  function once(make) {
    before = figure;
    change(make(), false);
    drop();
  }

  const turnTo = (name, degrees) => once(() => turnAbout(figure, name, degrees));
  const turnBy = (name, by) => once(() => turnAbout(figure, name, figure.lines[name].direction + by * o.step));
  function slideBy(name, steps) {
    const r = (figure.lines[name].direction * Math.PI) / 180;
    const [x, y] = figure.lines[name].through;
    once(() => slideToward(figure, name, [x - steps * SLIDE * Math.sin(r), y + steps * SLIDE * Math.cos(r)], box(), least()));
  }

  function undo() {
    const last = past.pop();
    if (!last) return;
    change(last, true);
    soon();
  }

  // — choosing —

  function tap(element, at) {
    if (held && (!element || element !== held)) {
      const handle = held;
      before = figure;
      drag(handle, at);
      return drop();
    }
    if (element?.dataset.do === "turn" || element?.dataset.do === "slide") {
      if (held === element) held = null;
      else {
        held = element;
        controls?.pick(element.dataset.name);
      }
      return soon();
    }
    if (element && pickable(element.dataset.do)) choose(element);
    return undefined;
  }

  const pickable = (kind) => o.pick === kind || (o.pick === "any" && (kind === "angle" || kind === "line"));

  function choose(element) {
    o.onpick({ kind: element.dataset.do, name: element.dataset.name });
    rove(element);
  }

  function key(element, event) {
    const { do: kind, name } = element.dataset;
    if (kind === "turn" || kind === "slide") return keyMove(kind, name, event);
    if (!pickable(kind)) return false;
    if (event.key === "Enter" || event.key === " ") {
      choose(element);
      return true;
    }
    const all = choices();
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    const to = event.key === "Home" ? 0 : event.key === "End" ? all.length - 1 : by ? (all.indexOf(element) + by + all.length) % all.length : null;
    if (to === null) return false;
    rove(all[to]);
    all[to].focus();
    return true;
  }

  function keyMove(kind, name, event) {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10, Home: -180, End: 180 }[event.key];
    if (!by) return false;
    const steps = event.shiftKey && Math.abs(by) === 1 ? by * 10 : by;
    if (kind === "slide") slideBy(name, Math.abs(steps) > 100 ? Math.sign(steps) * 40 : steps);
    else if (Math.abs(steps) > 100) turnTo(name, figure.lines[name].direction + Math.sign(steps) * 89);
    else turnBy(name, steps);
    return true;
  }

  const choices = () => [...parts.root.querySelectorAll("[aria-pressed]")];

  /** One Tab stop for all that can be chosen; arrow keys move among it. */
  function rove(to = null) {
    const all = choices();
    const stop = to ?? all.find((element) => element.getAttribute("tabindex") === "0") ?? all[0];
    for (const element of all) put(element, "tabindex", element === stop ? "0" : "-1");
  }

  const watch = new ResizeObserver(() => measureGround());
  mount();
  watch.observe(ground);

  return {
    el: wrap,
    get: () => write(figure),
    undo,
    setFigure(json) {
      const next = read(json);
      const same = shape(next) === shape(figure);
      figure = next;
      even = evenSet();
      if (!same) {
        picked = new Set();
        pair = null;
        mount();
      } else soon();
    },
    setMarks(next) {
      marks = next ?? {};
      soon();
    },
    setPicked(list) {
      picked = new Set(list.map((item) => (typeof item === "string" ? `angle ${item}` : `${item.kind} ${item.name}`)));
      for (const element of choices()) put(element, "aria-pressed", picked.has(`${element.dataset.do} ${element.dataset.name}`) ? "true" : "false");
      soon();
    },
    setPath(a, b) {
      pair = a && b ? [a, b] : null;
      soon();
    },
    setPick(kind) {
      if (o.pick === kind) return;
      o.pick = kind;
      if (kind === "meet" && Object.keys(parts.meets).length === 0) return mount();
      for (const [name, line] of Object.entries(parts.lines)) objects(line.group, say("figure.line", { name }), pickable("line"));
      for (const [name, angle] of Object.entries(parts.angles)) objects(angle.group, say("figure.angle", { name }), pickable("angle"));
      for (const [name, meet] of Object.entries(parts.meets)) objects(meet.group, say("figure.meet", { name }), pickable("meet"));
      rove();
      tell(true);
      return soon();
    },
    setMovable(list) {
      if (list.join() === o.movable.join()) return;
      o.movable = [...list];
      mount();
    },
    setMeasures(on) {
      if (o.measures === Boolean(on)) return;
      o.measures = Boolean(on);
      soon();
    },
    destroy() {
      watch.disconnect();
      cancelAnimationFrame(redraw);
      clearTimeout(told);
      unbind();
      wrap.remove();
    },
  };
}
