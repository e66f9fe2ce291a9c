// What the page's layout does with each of the figures in a file: leaders that cross lines, and texts that could be read as fractions.
//     node tests/figure/labels_of.mjs FIGURES.json
import { readFileSync } from "node:fs";

import { layout } from "../../static/figure/layout.js";
import { readFigure } from "../../static/figure/model.js";
import { viewOf, windowOf } from "../../static/figure/view.js";

const SIZES = { laptop: [760, 500, "seat", false], phone: [390, 265, "seat", false], board: [800, 520, "board", true], measures: [911, 433, "seat", true] };

/** On which side of a line a point of the page lies. */
const side = (p, line) => (p[0] - line.a[0]) * line.d[1] - (p[1] - line.a[1]) * line.d[0];

/** The two ends of a leader. */
const ends = ({ lead, p }) =>
  lead
    .slice(lead.lastIndexOf("M") + 1)
    .split("L")
    .map((end) => end.split(" ").map(Number))
    .map(([x, y]) => [x + p[0], y + p[1]]);

/** How far apart two texts are of which one stands over the other within its width; Infinity where none does. */
function over(p, box, q, other) {
  return Math.abs(p[0] - q[0]) < Math.max(box.w, other.w) ? Math.abs(p[1] - q[1]) - box.h - other.h : Infinity;
}

/** The lines that run between two texts. */
const between = (p, q, lines) => lines.filter((line) => side(p, line) * side(q, line) < 0);

const figures = JSON.parse(readFileSync(process.argv[2], "utf8"));
const told = {};
for (const [name, [width, height, size, values]] of Object.entries(SIZES)) {
  const found = { figures: 0, leaders: 0, crossing: [], twice: [], level: [], rows: [], fractions: [] };
  for (const [where, figure, marks] of figures) {
    const model = readFigure(figure);
    const [arcs, labels] = [{}, {}];
    for (const [angle, mark] of Object.entries(marks.angles ?? {})) {
      arcs[angle] = mark.arcs ?? 0;
      if (mark.label) labels[angle] = mark.label;
    }
    const squares = new Set((marks.right ?? []).map((one) => one.angle));
    const laid = layout(model, viewOf(windowOf(model), width, height), { size, arcs, labels, squares, values, movable: [] });
    const lines = Object.values(laid.lines).filter(Boolean);
    found.figures += 1;
    for (const [n, angle] of Object.entries(laid.angles)) {
      if (!angle) continue;
      for (const [other, two] of Object.entries(laid.angles)) {
        if (other === n || !two?.value) continue;
        const gap = over(angle.label, angle.box, two.value, two.valueBox);
        const dividing = between(angle.label, two.value, lines);
        const text = `${where}: ${n} by the measure of ${other}`;
        // One right under the other, with nothing between them: two rows of one text.
        if (!dividing.length && gap < 0.8 * angle.box.h) found.rows.push(text);
        // With a line between them that lies nearly level (to 15 degrees), and no more air than a fraction has: its bar.
        if (dividing.some((line) => Math.abs(line.d[1]) < 0.26) && gap < 2.5 * angle.box.h) found.fractions.push(text);
      }
      if (!angle.lead) continue;
      found.leaders += 1;
      const [start, end] = ends(angle);
      const crossed = lines.filter((line) => side(start, line) * side(end, line) < 0).length;
      if (crossed) found.crossing.push(`${where}: ${n}`);
      if (crossed > 1) found.twice.push(`${where}: ${n}`);
      if (Math.abs(end[1] - start[1]) < 0.44 * Math.abs(end[0] - start[0])) found.level.push(`${where}: ${n}`);
    }
  }
  told[name] = found;
}
console.log(JSON.stringify(told));
