// The words of the pages: `say("desk.open")`, `say("live.tally", {done: 3, total: 31})`.
//
// A catalogue is a module in words/<language>/<area>.js that exports a plain object; the language is the page's own, <html lang>.
// A page's main module loads the areas it needs once, before anything is mounted. The page's head has begun to fetch them already,
// all in one (`modulepreload` in the template, `data-words`), so they cost no round trip of their own. A test holds every language
// to the keys of the English.
//
// As in app/words/rendering.py a sentence may ask something of its fields: {n:row|rows} is the word for one or for another number,
// {name:low} and {name:cap} the field with a small or a capital letter first.

const BOOKS = {};

/** The page's language, by its first part: "es" for es-MX. */
export function language() {
  return (globalThis.document?.documentElement?.lang || "en").split("-")[0].toLowerCase();
}

/** Load the catalogues of these areas; resolves when all are there. One that does not arrive is reported, and the page goes on. */
export async function load(...areas) {
  await Promise.all(
    areas.map(async (area) => {
      BOOKS[area] ??= await book(area, language());
    }),
  );
}

/** The areas that the page's head has asked for, all in one module. */
function together() {
  const href = globalThis.document?.querySelector?.("link[data-words]")?.getAttribute("href") ?? "";
  return href.split("/").at(-1).replace(".js", "").split("+");
}

async function book(area, tongue) {
  const all = tongue === language() ? together() : [];
  try {
    if (all.length > 1 && all.includes(area)) return (await import(`./${tongue}/${all.join("+")}.js`)).default[area];
    return (await import(`./${tongue}/${area}.js`)).default;
  } catch (fault) {
    if (tongue !== "en") return book(area, "en");
    console.error(`no catalogue ${area}: ${fault.message}`);
    return {};
  }
}

/** The sentence for "area.key" with its {fields} filled in. A missing key shows as the key itself, and is reported. */
export function say(key, fields = {}) {
  const dot = key.indexOf(".");
  const sentence = BOOKS[key.slice(0, dot)]?.[key.slice(dot + 1)];
  if (sentence === undefined) {
    console.error(`no words for ${key}`);
    return key;
  }
  return sentence.replace(/\{(\w+)(?::([^{}]*))?\}/g, (whole, name, asked) =>
    name in fields ? inside(`${fields[name]}`, asked) : whole,
  );
}

function inside(text, asked) {
  if (!asked) return text;
  if (asked.includes("|")) return asked.split("|")[text === "1" ? 0 : 1];
  if (asked === "cap") return text.slice(0, 1).toUpperCase() + text.slice(1);
  // A name with a second capital or a sign after its first letter is no word: AB, x².
  return asked === "low" && /^.\p{Ll}/u.test(text) ? text.slice(0, 1).toLowerCase() + text.slice(1) : text;
}
