// The hand-drawn lines of the front door: where they leave the paper, where they cross, and that a stroke is the same each time.
import assert from "node:assert/strict";
import { test } from "node:test";

import { across, chance, crossing, stroke } from "../../static/door/strokes.js";

test("a line leaves the paper on its edges, in its own direction", () => {
  const next = chance(11);
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

test("a stroke is the same each time, starts and ends where it should, and wavers no more than it may", () => {
  const path = stroke([0, 0], [600, 0], { seed: 3, by: 0.7 });
  assert.equal(path, stroke([0, 0], [600, 0], { seed: 3, by: 0.7 }));
  assert.notEqual(path, stroke([0, 0], [600, 0], { seed: 4, by: 0.7 }));
  const numbers = path.match(/-?\d+\.\d/g).map(Number);
  assert.deepEqual(numbers.slice(0, 2), [0, 0]);
  assert.deepEqual(numbers.slice(-2), [600, 0]);
  for (let i = 1; i < numbers.length; i += 2) assert.ok(Math.abs(numbers[i]) <= 0.75, `${numbers[i]}`);
});
