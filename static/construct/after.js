// After the check: where lines that should be parallel would meet; and why a right construction works, a reason at a time.
import { h, svg, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { createFigure } from "../figure/figure.js";
import { far } from "./geometry.js";
import { carried } from "./turn.js";
import { n, toScreen } from "./view.js";
import { said } from "../words/statement.js";

/** What is shown goes to `host`, the buttons that ask for it to `verbs`, which are always in sight. `desk` has state, view, layers, ctx, redraw(), shake(), fitTo(points), lay(element) at the edge, and `over`, a place over the paper. */
export function createAfter(host, verbs, desk) {
  let meets = null; // the place to show, while it is shown
  let why = null;
  let figure = null;
  let rest = () => {}; // the paper as it was before anything was shown on it; the buttons stay

  function clear() {
    meets = null;
    why = null;
    rest = () => {};
    over(null, {});
    desk.lay(null);
    host.replaceChildren();
    verbs.replaceChildren();
    desk.layers.overlay.replaceChildren();
  }

  function told(verdict) {
    clear();
    const more = verdict.more ?? {};
    if (more.meets) verbs.append(meeting(more.meets));
    if (more.result)
      verbs.append(
        h("button", { type: "button", class: "plain", onclick: () => desk.shake() }, say("construct.shake_see")),
      );
    if (verdict.ok && more.figure) {
      desk.ctx.carry.set("constructed", {
        figure: more.figure,
        given: more.given,
        marks: more.marks,
        lines: more.lines,
        transversal: more.transversal,
      });
    }
    if (verdict.ok && (more.why || more.chain)) host.append(opener(more));
  }

  function meeting(at) {
    const button = h(
      "button",
      { type: "button", class: "plain", "aria-pressed": "false", onclick: () => turn(meets ? null : at) },
      say("construct.where_meet"),
    );
    const turn = (place) => {
      meets = place;
      button.setAttribute("aria-pressed", `${Boolean(meets)}`);
      write(button, say(meets ? "construct.where_back" : "construct.where_meet"));
      const points = [...desk.state.values.values()].filter(Array.isArray);
      desk.fitTo(meets ? [...points, at] : points);
      desk.redraw();
      paint();
    };
    rest = () => meets && turn(null);
    return button;
  }

  /** The whole chain: the triangles on the paper, then the figure over it; one reason a press, at the paper's edge. */
  function opener(more) {
    const rows = [
      ...(more.why?.rows ?? []).map((row) => ({ ...row, on: "paper" })),
      ...(more.chain ?? []).map((row) => ({ ...row, on: "figure" })),
    ];
    const list = h("ol", { class: "c-why" });
    const proof = more.proof?.length ? proofTable(more.proof) : null;
    const end = h(
      "p",
      { class: "label", hidden: true },
      say("construct.why_all"),
      " ",
      more.figure ? say("construct.why_carried") : "",
    );
    const open = h("button", { type: "button", class: "plain", onclick: () => go(1) }, say("construct.why"));
    const text = h("p", { class: "c-reason" });
    const next = h("button", { type: "button", class: "action", onclick: () => go(1) }, say("construct.why_next"));
    const back = h("button", { type: "button", class: "plain", onclick: () => go(-1) }, say("construct.why_back"));
    const close = h(
      "button",
      {
        type: "button",
        class: "plain",
        onclick: () => {
          shut();
          open.focus();
        },
      },
      say("construct.why_close"),
    );
    const slip = h("div", { class: "c-reasons" }, text, h("p", { class: "toolbar" }, next, back, close));
    why = { shown: 0, triangles: more.why?.triangles ?? [], sides: more.why?.sides ?? [] };

    function go(by) {
      why.shown = Math.max(1, Math.min(rows.length, why.shown + by));
      const row = rows[why.shown - 1];
      list.replaceChildren(...rows.slice(0, why.shown).map((one) => h("li", {}, one.text)));
      write(text, row.text);
      over(row.on === "figure" ? row : null, more);
      next.disabled = why.shown === rows.length;
      back.disabled = why.shown === 1;
      end.hidden = why.shown < rows.length;
      if (proof) proof.hidden = end.hidden;
      open.hidden = true;
      if (!slip.isConnected) {
        desk.lay(slip);
        next.focus({ preventScroll: true });
        desk.layers.overlay.ownerSVGElement.scrollIntoView({ block: "nearest" });
      }
      paint(by > 0 && Boolean(row.step?.endsWith("sss")));
    }

    function shut() {
      desk.lay(null);
      over(null, more);
      why.shown = 0;
      open.hidden = false;
      paint();
    }

    rest = () => why.shown && shut();

    verbs.prepend(open);
    return h("div", {}, list, proof, end);
  }

  /** The handed-on figure over the whole paper, with the marks of a row; null takes it away. */
  function over(row, more) {
    desk.over.hidden = !row;
    if (!row) {
      figure?.destroy();
      figure = null;
      desk.over.replaceChildren();
    } else if (figure) figure.setMarks(row.marks);
    else
      figure = createFigure(desk.over, {
        figure: more.figure,
        marks: row.marks,
        movable: [],
        controls: false,
        size: "seat",
        title: say("construct.why"),
        description: "",
      });
  }

  /** The rows that prove the lines parallel from the congruent angles alone. */
  function proofTable(rows) {
    const head = h(
      "thead",
      {},
      h(
        "tr",
        {},
        ["why_statement", "why_reason"].map((key) => h("th", { scope: "col" }, say(`construct.${key}`))),
      ),
    );
    const body = h(
      "tbody",
      {},
      rows.map((row) => h("tr", {}, h("td", { class: "statement" }, said(row.statement)), h("td", {}, row.name))),
    );
    return h(
      "table",
      { class: "book c-proof", hidden: true },
      h("caption", { class: "label" }, say("construct.why_proof")),
      head,
      body,
    );
  }

  function paint(moving = false) {
    const layer = desk.layers.overlay;
    layer.replaceChildren();
    if (meets) {
      const [x, y] = toScreen(desk.view, meets);
      layer.append(
        svg("circle", { class: "c-meets", cx: n(x), cy: n(y), r: 11 }),
        svg("path", { class: "c-meets", d: `M${n(x - 5)} ${n(y - 5)}l10 10m0-10l-10 10` }),
      );
    }
    if (!why?.shown || !why.triangles.length) return;
    const corners = why.triangles.map((names) => names.map((name) => desk.state.values.get(name)));
    if (corners.flat().some((at) => !at)) return;
    corners.forEach((triangle, i) => layer.append(polygon(triangle, `c-triangle c-triangle-${i}`)));
    for (const triangle of corners) {
      for (const [a, b, count, row] of why.sides)
        if (why.shown >= row) layer.append(ticks(triangle[a], triangle[b], count));
    }
    if (moving) glide(layer, corners);
  }

  /** The first triangle carried onto the second, as SSS says it can be. */
  function glide(layer, [from, to]) {
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return;
    const moving = polygon(from, "c-triangle c-triangle-moving");
    layer.append(moving);
    const began = performance.now();
    const frame = (now) => {
      const k = Math.min(1, (now - began) / 1200);
      const e = k * k * (3 - 2 * k);
      moving.setAttribute("d", path(carried(from, to, e)));
      if (k < 1 && moving.isConnected) requestAnimationFrame(frame);
      else moving.remove();
    };
    requestAnimationFrame(frame);
  }

  function path(points) {
    return `${points.map((at, i) => `${i ? "L" : "M"}${toScreen(desk.view, at).map(n).join(" ")}`).join("")}Z`;
  }

  const polygon = (points, name) => svg("path", { class: name, d: path(points) });

  function ticks(a, b, count) {
    const [p, q] = [toScreen(desk.view, a), toScreen(desk.view, b)];
    const d = far(p, q) || 1;
    const [ux, uy] = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
    const marks = [];
    for (let i = 0; i < count; i += 1) {
      const t = d / 2 + (i - (count - 1) / 2) * 6;
      const [x, y] = [p[0] + ux * t, p[1] + uy * t];
      marks.push(`M${n(x - uy * 7)} ${n(y + ux * 7)}L${n(x + uy * 7)} ${n(y - ux * 7)}`);
    }
    return svg("path", { class: "c-tick", d: marks.join("") });
  }

  return { clear, told, paint, rest: () => rest() };
}
