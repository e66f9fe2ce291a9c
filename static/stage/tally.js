// How a task was answered: strokes in fives as a hand keeps count, with the number beside them. Counts, never names.
import { h, svg } from "../ui/elements.js";
import { say } from "../words/say.js";

/** Path data of `count` strokes in bundles of five (the fifth across the other four); pure. Units: 1 = one gap. */
export function strokes(count) {
  let path = "";
  for (let i = 0; i < count; i += 1) {
    const bundle = Math.floor(i / 5) * 6;
    const place = i % 5;
    if (place < 4) path += `M${bundle + place + 0.5} 0.4L${bundle + place + 0.4} 3.6`;
    else path += `M${bundle - 0.1} 2.9L${bundle + 4.1} 1.1`;
  }
  return path;
}

/** The width that `count` strokes take, in gaps. */
export function width(count) {
  return Math.max(1, Math.floor(count / 5) * 6 + (count % 5));
}

export function render(host, stage) {
  const title = document.createElement("h2");
  title.className = "stage-title";
  const head = document.createElement("p");
  head.className = "stage-ask";
  const sheet = document.createElement("div");
  sheet.className = "tally-parts";
  host.append(title, head, sheet);
  update(stage);

  function update(next) {
    const parts = next.parts ?? [{ head: "", rows: next.rows ?? [] }];
    const replied = next.replied ?? parts[0].rows.reduce((sum, row) => sum + row.count, 0);
    head.textContent = say("live.tally", { done: replied, total: next.total ?? replied });
    title.textContent = next.title ?? next.task?.title ?? "";
    title.hidden = !title.textContent;
    // The more there is to count, the smaller: all of it is on the page, and nothing is cut off.
    const lines = parts.reduce((sum, part) => sum + part.rows.length + (part.head ? 1 : 0), 0);
    const size = lines > 20 ? "smallest" : lines > 14 ? "small" : lines > 7 ? "middle" : "large";
    sheet.dataset.size = size;
    // In three columns the strokes stand closer, so that no count comes near the next column's words.
    const gap = size === "smallest" ? 0.27 : 0.42;
    sheet.replaceChildren(...parts.filter((part) => part.rows.length).map((part) => table(part, gap)));
  }

  return { update, destroy() {} };
}

function table({ head, rows }, gap) {
  const made = document.createElement("table");
  made.className = "tally";
  if (head) {
    const caption = made.createCaption();
    caption.className = "tally-head statement";
    caption.textContent = head;
  }
  made.createTBody().append(...rows.map((row) => line(row, gap)));
  return made;
}

function line({ label, count }, gap) {
  const wide = width(count);
  const looks = {
    viewBox: `-0.5 0 ${wide + 1} 4`,
    width: `${(wide + 1) * gap}em`,
    height: `${4 * gap}em`,
    "aria-hidden": "true",
  };
  return h(
    "tr",
    {},
    h("th", { scope: "row" }, label),
    h("td", { class: "tally-marks" }, svg("svg", looks, svg("path", { d: strokes(count) }))),
    h("td", { class: "tally-count" }, `${count}`),
  );
}
