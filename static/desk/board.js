// The sheet "on the Board": what is shown, and the verbs of its kind. The teacher's own figure is moved here and goes out live.
import { createFigure } from "../figure/figure.js";
import { createStage } from "../stage/stage.js";
import { blank, extent, meaning, step } from "../stage/step.js";
import { say } from "../words/say.js";
import { h, write } from "../ui/elements.js";
import { newest } from "./throttle.js";

const LIVE = 100; // ms between two of the teacher's figures

export function mount(host, desk) {
  const paper = h("div", { class: "stage" });
  const bar = h("div", { class: "toolbar stage-bar" });
  const none = h("p", { class: "room-empty" }, say("desk.board_empty"));
  host.append(none, paper, bar);

  let kind = null; // what the sheet is set up for
  let live = null; // the teacher's figure, when that is on the stage
  let mirror = null; // any other stage, as the Board shows it
  const out = newest((doc) => desk.act("stage", { stage: doc }), LIVE);

  function update(state) {
    const stage = state.stage ?? null;
    const bare = !stage || (stage.kind === "blank" && !stage.under);
    none.hidden = !bare;
    paper.hidden = bare;
    const now = bare ? null : stage.kind;
    if (now !== kind || live?.other(stage)) {
      clear();
      kind = now;
      if (kind) paper.dataset.kind = kind;
      if (kind === "figure") live = liveFigure(paper, bar, stage, desk, out);
      else if (kind) mirror = mirrored(paper, bar, desk, out);
    }
    (live ?? mirror)?.update(stage);
  }

  function clear() {
    out.stop();
    live?.destroy();
    mirror?.destroy();
    live = mirror = null;
    paper.replaceChildren();
    bar.replaceChildren();
  }

  // A clicker on the Desk's own machine, while this sheet has the focus; arrows stay with the figure and the fields.
  host.addEventListener("keydown", (event) => {
    if (event.target.closest("input, select, textarea") || !["PageDown", "PageUp", ".", "b", "B"].includes(event.key))
      return;
    const stage = desk.state?.stage;
    if (!stage || (stage.kind === "figure" && event.key.startsWith("Page"))) return;
    const way = meaning(event.key);
    const next = way === "blank" ? blank(stage) : step(stage, way === "forward" ? 1 : -1);
    event.preventDefault();
    if (next) desk.stage(next);
  });

  return { update, destroy: clear };
}

function button(key, act) {
  return h("button", { type: "button", class: "plain", onclick: act }, say(key));
}

function common(desk) {
  return [
    button("desk.blank", () => desk.stage(blank(desk.state.stage))),
    button("desk.clear", () => desk.stage(null)),
  ];
}

/** Any stage but the live figure: a small mirror of the Board, with the steps of a demonstration. */
function mirrored(paper, bar, desk, out) {
  // What is moved in the mirror is moved on the Board.
  const stage = createStage(paper, { size: "seat", change: (doc) => out.push(doc) });
  const back = button("desk.back", () => go(-1));
  const forward = button("desk.forward", () => go(1));
  forward.className = "action";
  const where = h("span", { class: "stage-where" });
  const reasons = h(
    "button",
    {
      type: "button",
      class: "plain",
      "aria-pressed": "true",
      onclick: () => desk.stage({ ...desk.state.stage, reasons: desk.state.stage.reasons === false }),
    },
    say("desk.reasons"),
  );
  const speed = h(
    "select",
    {
      class: "field",
      id: "stage-speed",
      onchange: (event) => desk.stage({ ...desk.state.stage, speed: Number(event.target.value) }),
    },
    [0.5, 1, 2].map((n) => h("option", { value: n }, say("desk.speed_of", { n }))),
  );
  const pace = h("span", {}, h("label", { for: "stage-speed" }, say("desk.speed")), " ", speed);
  bar.append(back, forward, where, reasons, pace, ...common(desk));

  function go(by) {
    const next = step(desk.state.stage, by);
    if (next) desk.stage(next);
  }

  return {
    update(doc) {
      stage.show(doc);
      const reach = extent(doc);
      for (const part of [back, forward, where]) part.hidden = !reach;
      reasons.hidden = doc.kind !== "proof";
      reasons.setAttribute("aria-pressed", `${doc.reasons !== false}`);
      pace.hidden = doc.kind !== "construction";
      if (!reach) return;
      back.disabled = reach.shown <= 0;
      forward.disabled = reach.shown >= reach.all;
      write(where, say("desk.step_of", { shown: reach.shown, all: reach.all }));
      if (doc.speed) speed.value = `${doc.speed}`;
    },
    destroy: () => stage.destroy(),
  };
}

/** The teacher's figure: every line can be moved, angles and lines can be marked; each change goes out, newest first. */
function liveFigure(paper, bar, first, desk, out) {
  const ground = h("div", { class: "stage-paper paper" });
  paper.append(ground);
  let doc = first;
  const figure = createFigure(ground, {
    figure: doc.figure,
    marks: doc.marks ?? {},
    movable: Object.keys(doc.figure.lines),
    step: 1,
    measures: Boolean(doc.measures),
    pick: "any",
    onpick: mark,
    onchange: (now) => push({ figure: now }),
    size: "seat",
    title: say("desk.own_figure"),
  });
  const measures = h("input", {
    type: "checkbox",
    id: "live-measures",
    onchange: (event) => {
      figure.setMeasures(event.target.checked);
      push({ measures: event.target.checked });
    },
  });
  const caption = h("input", {
    class: "field",
    id: "live-caption",
    maxlength: 120,
    autocomplete: "off",
    oninput: () => push({ caption: caption.value }),
  });
  bar.append(
    h("span", {}, measures, h("label", { for: "live-measures" }, say("desk.measures"))),
    h("span", { class: "stage-caption-field" }, h("label", { for: "live-caption" }, say("desk.caption")), " ", caption),
    h("span", { class: "stage-hint" }, say("desk.mark_hint")),
    button("desk.unmark", () => {
      figure.setMarks({});
      push({ marks: {} });
    }),
    ...common(desk),
  );

  function push(change) {
    doc = desk.stamp({ ...doc, ...change });
    desk.state = { ...desk.state, stage: doc };
    out.push(doc);
  }

  /** A tap marks: arcs on an angle (none, one, two, three), arrows on a line (none, one, two). */
  function mark({ kind, name }) {
    const marks = structuredClone(doc.marks ?? {});
    if (kind === "angle") turn((marks.angles ??= {}), name, "arcs", 3);
    else if (kind === "line") turn((marks.lines ??= {}), name, "arrows", 2);
    else return;
    figure.setMarks(marks);
    push({ marks });
  }

  fill();

  function fill() {
    measures.checked = Boolean(doc.measures);
    if (document.activeElement !== caption) caption.value = doc.caption ?? "";
  }

  return {
    update(stage) {
      if (stage === doc || (stage.by === doc.by && stage.n <= doc.n)) return;
      doc = stage;
      fill();
      figure.setFigure(stage.figure);
      figure.setMarks(stage.marks ?? {});
      figure.setMeasures(Boolean(stage.measures));
    },
    /** Whether this document is another figure, not this one moved: it has other lines, or it was put there anew from here. */
    other: (stage) => names(stage) !== names(doc) || (stage.by === doc.by && stage.n > doc.n),
    destroy() {
      out.stop();
      figure.destroy();
    },
  };
}

function names(stage) {
  return Object.keys(stage.figure.lines).join(" ");
}

function turn(marks, name, what, most) {
  const next = ((marks[name]?.[what] ?? 0) + 1) % (most + 1);
  if (next) marks[name] = { [what]: next, tone: "given" };
  else delete marks[name];
}
