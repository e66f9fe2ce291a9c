// The catalogues: fields are filled in, and a key that is missing is shown and reported instead of breaking the page.
import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { test } from "node:test";

import { load, say } from "../../static/words/say.js";

test("fields are filled in by name", async () => {
  await load("live");
  assert.equal(say("live.tally", { done: 3, total: 31 }), "3 of 31 have answered");
});

test("a missing key is shown as itself and reported", async () => {
  const told = [];
  const old = console.error;
  console.error = (text) => told.push(text);
  assert.equal(say("live.no_such_words"), "live.no_such_words");
  console.error = old;
  assert.equal(told.length, 1);
});

test("every catalogue is a plain object of sentences", async () => {
  const folder = new URL("../../static/words/en/", import.meta.url);
  for (const name of readdirSync(folder)) {
    const words = (await import(new URL(name, folder))).default;
    for (const [key, sentence] of Object.entries(words)) assert.equal(typeof sentence, "string", `${name}: ${key}`);
    assert.ok(Object.keys(words).length > 0, name);
  }
});
