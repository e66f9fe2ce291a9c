// Each language of the pages says all that English says, with the same fields, and leaves nothing in English.
import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { test } from "node:test";

const WORDS = new URL("../../static/words/", import.meta.url);
const LANGUAGES = readdirSync(WORDS, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map((entry) => entry.name);
const OTHERS = LANGUAGES.filter((language) => language !== "en");
const AREAS = readdirSync(new URL("en/", WORDS)).map((name) => name.replace(".js", ""));

const book = async (language, area) => (await import(new URL(`${language}/${area}.js`, WORDS))).default;
const fields = (text) =>
  [...new Set([...text.matchAll(/\{(\w+)(?::[^{}]*)?\}|\[(\w+)\]/g)].map((found) => found[1] ?? found[2]))].sort();

// Common English words that are no Spanish ones.
const ENGLISH = new Set(
  `the of and to is it in you that was for on are with they at be this have from or by not but what all were we when your
  can said there an each which do how their if will up other about out many then them these so some would make like into has look two more write
  go see number could my than first been who its now find down day did get made may over new take only work know place back give most after things
  our just name good think great where help through before line right too old any same show also form three set put end does another well big
  such turn here why ask need different us move try kind hand again change off away point answer found still angle angles lines statement
  reason row rows given proof prove theorem hint step check choose figure board seat desk pack task period sheet key code open close next undo
  measures compass nothing none yes wrong correct save saved remove student class question answers both meet cross left high low below above
  inside outside sides draw drawn straightedge opening swing freeze keep take`.split(/\s+/),
);
const english = (text) =>
  (
    text
      .replace(/\{[^{}|]*\}|\[\w+\]/g, " ")
      .toLowerCase()
      .match(/\p{L}+/gu) ?? []
  ).filter((word) => ENGLISH.has(word));

test("there is Spanish", () => assert.ok(OTHERS.includes("es")));

for (const language of OTHERS) {
  test(`${language} has every area, every sentence and every field of the English`, async () => {
    assert.deepEqual(readdirSync(new URL(`${language}/`, WORDS)).sort(), readdirSync(new URL("en/", WORDS)).sort());
    for (const area of AREAS) {
      const [own, first] = [await book(language, area), await book("en", area)];
      assert.deepEqual(Object.keys(own).sort(), Object.keys(first).sort(), area);
      for (const key of Object.keys(first)) {
        assert.deepEqual(fields(own[key]), fields(first[key]), `${area}.${key}`);
        assert.equal(!own[key].trim(), !first[key].trim(), `${area}.${key}`);
      }
    }
  });

  test(`${language} leaves nothing in English`, async () => {
    for (const area of AREAS) {
      const left = Object.entries(await book(language, area))
        .filter(([, text]) => english(text).length)
        .map(([key, text]) => `${key}: ${english(text)}`);
      assert.deepEqual(left, [], area);
    }
  });
}

test("the list of English words finds English", async () => {
  const long = (await Promise.all(AREAS.map((area) => book("en", area))))
    .flatMap((words) => Object.values(words))
    .filter((text) => text.split(" ").length > 4);
  assert.ok(long.length > 150);
  assert.ok(long.filter((text) => english(text).length).length > 0.97 * long.length);
});

test("Spanish questions and exclamations are opened and closed, and so are quotes", async () => {
  for (const area of AREAS) {
    for (const [key, text] of Object.entries(await book("es", area))) {
      const count = (sign) => text.split(sign).length;
      assert.equal(count("¿"), count("?"), `${area}.${key}`);
      assert.equal(count("¡"), count("!"), `${area}.${key}`);
      assert.equal(count("“"), count("”"), `${area}.${key}`);
    }
  }
});

test("a page in Spanish loads the Spanish catalogue, and fills it in", async () => {
  globalThis.document = { documentElement: { lang: "es-MX" } };
  try {
    const { load, say } = await import("../../static/words/say.js?spanish");
    await load("live", "desk", "figure");
    assert.equal(say("live.tally", { done: 3, total: 31 }), "Han respondido 3 de 31");
    assert.equal(say("desk.reply_moves", { n: 1 }), "Una construcción de 1 paso");
    assert.equal(say("desk.reply_moves", { n: 4 }), "Una construcción de 4 pasos");
    assert.equal(say("figure.slide_value", { n: 1, way: say("figure.way_up") }), "1 unidad por encima de donde estaba");
  } finally {
    delete globalThis.document;
  }
});
