// Rows of a proof as a ruled table: one that a student wrote, or one that a question prints.
import { h } from "../ui/elements.js";
import { load, say } from "../words/say.js";
import { said } from "../words/statement.js";

await load("prove", "figure");

/** @typedef {{statement: string, reason?: string, label?: string}} Row */

/**
 * `rows` of {statement, reason, label?} under `heads`; a row is named by its label, else by its number, and where its reason is left
 * out stands `lost`. Row number `row` is the one that is spoken of.
 * @param {{rows: Row[], row?: number, heads?: string[], lost?: string}} what
 */
export function book({ rows, row: spoken = 0, heads = [], lost = "" }) {
  const table = document.createElement("table");
  table.className = "book";
  if (heads.length) {
    const head = table.createTHead().insertRow();
    const number = h("span", { class: "words" }, say("prove.row"));
    for (const text of [number, ...heads]) head.append(h("th", { scope: "col" }, text));
  }
  const body = table.createTBody();
  rows.forEach((entry, i) => {
    const line = body.insertRow();
    line.classList.toggle("book-spoken", spoken === i + 1);
    const number = document.createElement("th");
    number.scope = "row";
    number.textContent = entry.label ?? `${i + 1}`;
    line.append(number);
    for (const text of [said(entry.statement), entry.reason || lost]) {
      const cell = line.insertCell();
      cell.className = "statement";
      cell.textContent = text ?? "";
    }
  });
  return table;
}

/**
 * The proof that a question prints: rows with their reasons but one, or in a wrong order.
 * @param {Row[]} rows
 */
export function printed(rows) {
  return book({ rows, heads: [say("prove.statement"), say("prove.reason")], lost: say("prove.hidden") });
}
