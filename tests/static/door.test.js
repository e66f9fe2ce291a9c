// The lines of the front door: where they leave the paper, where they cross, and that a stroke is straight.
import assert from "node:assert/strict";
import { test } from "node:test";

import { across, crossing, stroke } from "../../static/door/strokes.js";

test("a line leaves the paper on its edges, in its own direction", () => {
  let seed = 11;
  const next = () => (seed = (seed * 48271) % 2147483647) / 2147483647; // Park and Miller (1988)
  for (let i = 0; i < 500; i += 1) {
    const p = [next() * 400, next() * 300];
    const direction = next() * 180;
    const ends = across(p, direction, 400, 300);
    for (const [x, y] of ends) {
      assert.ok(Math.min(Math.abs(x), Math.abs(400 - x), Math.abs(y), Math.abs(300 - y)) < 1e-6, `${x} ${y}`);
      assert.ok(x >= -1e-6 && x <= 400 + 1e-6 && y >= -1e-6 && y <= 300 + 1e-6);
    }
    const [a, b] = ends;
    const drawn = ((Math.atan2(a[1] - b[1], b[0] - a[0]) * 180) / Math.PI + 360) % 180;
    const off = Math.abs(drawn - direction);
    assert.ok(Math.min(off, 180 - off) < 1e-6, `${drawn} for ${direction}`);
  }
});

test("a line beside the paper is not drawn", () => {
  assert.equal(across([-10, 50], 90, 400, 300), null);
  assert.equal(across([50, -10], 0, 400, 300), null);
});

test("the crossing lies on both lines, and parallels have none", () => {
  const [x, y] = crossing([0, 100], 0, [50, 0], 45);
  assert.ok(Math.abs(y - 100) < 1e-9 && Math.abs(x + 50) < 1e-9, `${x} ${y}`);
  assert.equal(crossing([0, 0], 30, [0, 100], 30), null);
  assert.equal(crossing([0, 0], 30, [0, 100], 210), null);
});

test("a stroke is straight, from end to end", () => {
  assert.equal(stroke([0, 0], [600, 12.345]), "M0.00 0.00L600.00 12.35");
});
