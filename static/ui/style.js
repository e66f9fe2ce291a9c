// Style sheets that a page hasn't brought and that come with what is shown on it.

/** @type {Map<string, Promise<void>>} */
const asked = new Map();

/**
 * Whether the page has this sheet, by itself or joined with others (`css/figure+stage.css`).
 * @param {string} name
 */
function here(name) {
  return [...document.styleSheets].some((sheet) => {
    const file = sheet.href?.split("/").at(-1) ?? "";
    return file
      .replace(/\.css$/, "")
      .split("+")
      .includes(name);
  });
}

/**
 * Bring `css/<name>.css`, once; resolves when it is there, and also when it can't be had.
 * @param {string | null} name
 */
export function style(name) {
  if (!name || here(name)) return Promise.resolve();
  if (!asked.has(name)) {
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = new URL(`../css/${name}.css`, import.meta.url).href;
    asked.set(
      name,
      new Promise((resolve) => {
        link.addEventListener("load", () => resolve());
        link.addEventListener("error", () => resolve());
      }),
    );
    document.head.append(link);
  }
  return asked.get(name);
}
