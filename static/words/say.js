// The words of the pages: `say("desk.open")`, `say("live.tally", {done: 3, total: 31})`.
//
// A catalogue is a module in words/<language>/<area>.js that exports a plain object. A page's main module loads the areas it
// needs once, before anything is mounted; a page in another language falls back to English for what is not translated.

const BOOKS = {};

/** Load the catalogues of these areas; resolves when all are there. One that does not arrive is reported, and the page goes on. */
export async function load(...areas) {
  const language = globalThis.document?.documentElement.lang || "en";
  await Promise.all(
    areas.map(async (area) => {
      if (BOOKS[area]) return;
      const english = await import(`./en/${area}.js`).then((module) => module.default, (fault) => {
        console.error(`no catalogue ${area}: ${fault.message}`);
        return {};
      });
      let own = {};
      if (language !== "en") {
        own = await import(`./${language}/${area}.js`).then((module) => module.default, () => ({}));
      }
      BOOKS[area] = { ...english, ...own };
    }),
  );
}

/** The sentence for "area.key" with its {fields} filled in. A missing key shows as the key itself, and is reported. */
export function say(key, fields = {}) {
  const dot = key.indexOf(".");
  const sentence = BOOKS[key.slice(0, dot)]?.[key.slice(dot + 1)];
  if (sentence === undefined) {
    console.error(`no words for ${key}`);
    return key;
  }
  return sentence.replace(/\{(\w+)\}/g, (whole, name) => (name in fields ? `${fields[name]}` : whole));
}
