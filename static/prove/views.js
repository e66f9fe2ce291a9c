// The same proof as a flow of boxes and arrows, and as a paragraph. Both come from the one graph that the checker found.
import { h, set, svg } from "../ui/elements.js";
import { say } from "../words/say.js";
import { said } from "../words/statement.js";

/** Boxes by level, from what is given down to the goal; arrows say which rows each rests on. */
export function drawFlow(host, boxes) {
  host.replaceChildren();
  if (!boxes.length) return host.append(h("p", {}, say("prove.flow_empty")));
  const levels = [];
  for (const box of boxes) (levels[box.level] ??= []).push(box);
  const made = new Map();
  const list = h("ol", { class: "flow" });
  for (const level of levels) {
    const items = level.map((box) => {
      const bad = box.verdict && box.verdict !== "follows";
      const element = h(
        "li",
        { class: "flow-box", "data-bad": bad ? "true" : null },
        h("span", { class: "flow-n" }, `${box.row}`),
        h("span", { class: "statement" }, said(box.statement)),
        h("span", { class: "flow-reason" }, box.reason),
        box.from.length ? h("span", { class: "words" }, say("prove.flow_from", { rows: box.from.join(", ") })) : null,
      );
      made.set(box.row, element);
      return element;
    });
    list.append(h("li", { class: "flow-level" }, h("ul", {}, items)));
  }
  const arrows = svg("svg", { class: "flow-arrows", "aria-hidden": "true" });
  const ground = h("div", { class: "flow-ground" }, arrows, list);
  host.append(ground);
  const draw = () => place(ground, arrows, boxes, made);
  const watch = new ResizeObserver(draw);
  watch.observe(ground);
  draw();
  return { destroy: () => watch.disconnect() };
}

function place(ground, arrows, boxes, made) {
  const frame = ground.getBoundingClientRect();
  set(arrows, { viewBox: `0 0 ${frame.width} ${frame.height}`, width: frame.width, height: frame.height });
  arrows.replaceChildren();
  for (const box of boxes) {
    const to = made.get(box.row).getBoundingClientRect();
    box.from.forEach((n, i) => {
      const from = made.get(n)?.getBoundingClientRect();
      if (!from) return;
      const x1 = from.left + from.width / 2 - frame.left;
      const y1 = from.bottom - frame.top;
      const x2 = to.left - frame.left + (to.width * (i + 1)) / (box.from.length + 1);
      const y2 = to.top - frame.top - 1;
      const middle = (y1 + y2) / 2;
      arrows.append(
        svg("path", { d: `M${x1} ${y1} C${x1} ${middle} ${x2} ${middle} ${x2} ${y2 - 6}` }),
        svg("path", { d: `M${x2 - 5} ${y2 - 8} L${x2} ${y2} L${x2 + 5} ${y2 - 8}` }),
      );
    });
  }
}
