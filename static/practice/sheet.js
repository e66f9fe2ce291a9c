// A sheet on the screen: print it, or save one of its figures for slides, as SVG or as PNG.

import { byId, find } from "../ui/elements.js";

const WIDE = 1600; // pixels of a PNG: sharp on a projector

function chosen() {
  const number = byId("figure", HTMLSelectElement).value;
  const question = [...document.querySelectorAll(".question")].find(
    (li) => li.querySelector(".q-number")?.textContent === number && li.querySelector(".q-figure svg"),
  );
  return { number, svg: find(question ?? document, ".q-figure svg", SVGSVGElement) };
}

/** @param {SVGSVGElement} svg */
function text(svg) {
  return new XMLSerializer().serializeToString(svg);
}

/** @param {string} name @param {string} href */
function save(name, href) {
  const link = document.createElement("a");
  link.href = href;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
}

/** @param {string} name @param {Blob | null} blob */
function saveBlob(name, blob) {
  if (!blob) return;
  const href = URL.createObjectURL(blob);
  save(name, href);
  setTimeout(() => URL.revokeObjectURL(href), 10_000);
}

/** @type {Record<string, () => void>} */
const acts = {
  print: () => window.print(),
  svg() {
    const { number, svg } = chosen();
    saveBlob(`figure-${number}.svg`, new Blob([text(svg)], { type: "image/svg+xml" }));
  },
  async png() {
    const { number, svg } = chosen();
    const { width, height } = svg.viewBox.baseVal;
    const image = new Image();
    // A data address: the content policy lets no other foreign image in, and it taints no canvas.
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text(svg))}`;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = WIDE;
    canvas.height = Math.round((WIDE * height) / width);
    const ink = canvas.getContext("2d");
    if (!ink) return;
    ink.fillStyle = "#fff";
    ink.fillRect(0, 0, canvas.width, canvas.height);
    ink.drawImage(image, 0, 0, canvas.width, canvas.height);
    canvas.toBlob((blob) => saveBlob(`figure-${number}.png`, blob), "image/png");
  },
};

for (const button of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-do]"))) {
  button.addEventListener("click", () => acts[button.dataset.do ?? ""]());
}
