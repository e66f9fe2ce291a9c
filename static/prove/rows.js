// The rows of a proof in the making, as plain data: pure functions, each giving new rows.
// A row: {statement, reason, from, fixed: {statement, reason}}; `from` is row numbers from 1, or null for "found by the checker".

/** The rows to start with: the student's own where they were kept, else the task's, with one empty row to write in. */
export function startRows(task, saved) {
  if (saved?.rows?.length) return saved.rows.map((row) => ({ ...row, from: row.from ?? null }));
  const rows = task.rows.map((row) => ({
    statement: row.statement ?? "",
    reason: row.reason ?? "",
    from: row.from?.length ? [...row.from] : null,
    fixed: { statement: row.statement !== null, reason: row.reason !== null },
  }));
  return task.support === "blank" ? [...rows, empty()] : rows;
}

export const empty = () => ({ statement: "", reason: "", from: null, fixed: { statement: false, reason: false } });

/** Whether a row has something to judge. */
export const written = (row) => Boolean(row.statement.trim() && row.reason.trim());

/** Whether anything stands in a row: one left empty on the way is no mistake. */
export const begun = (row) => Boolean(row.statement.trim() || row.reason.trim());

/** Change one row. */
export function put(rows, at, change) {
  return rows.map((row, i) => (i === at ? { ...row, ...change } : row));
}

/** A new row at place `at`; references to rows from there on move with them. */
export function insert(rows, at, row = empty()) {
  const moved = rows.map((one) => renumber(one, (n) => (n > at ? n + 1 : n)));
  return [...moved.slice(0, at), row, ...moved.slice(at)];
}

/** Take a row out; references to it go with it. */
export function remove(rows, at) {
  return rows
    .filter((_, i) => i !== at)
    .map((row) => renumber(row, (n) => (n === at + 1 ? null : n > at + 1 ? n - 1 : n)));
}

/** Swap a row with the one before (by -1) or after (by +1); references follow. Unchanged at either end. */
export function shift(rows, at, by) {
  const to = at + by;
  if (to < 0 || to >= rows.length) return rows;
  const changed = rows.map((row) => renumber(row, (n) => (n === at + 1 ? to + 1 : n === to + 1 ? at + 1 : n)));
  [changed[at], changed[to]] = [changed[to], changed[at]];
  return changed;
}

function renumber(row, number) {
  if (!row.from) return row;
  const from = row.from.map(number).filter((n) => n !== null);
  return { ...row, from: from.length ? from.sort((a, b) => a - b) : null };
}

/** Row n as a reference of row `at`: put in, or taken out. */
export function toggleFrom(rows, at, n) {
  const now = rows[at].from ?? [];
  const from = now.includes(n) ? now.filter((one) => one !== n) : [...now, n].sort((a, b) => a - b);
  return put(rows, at, { from: from.length ? from : null });
}

/** The rows as the server wants them. Empty ones at the end are left out. */
export function toReply(rows) {
  const last = rows.findLastIndex((row) => row.statement.trim() || (row.reason.trim() && !row.fixed.reason));
  return rows
    .slice(0, last + 1)
    .map(({ statement, reason, from }) => ({ statement, reason, ...(from ? { from } : {}) }));
}

/**
 * What tapping a thing of the figure puts into a statement: [text, caret]. A second angle after a lone first one makes
 * ∠1 ≅ ∠5, a second line l ∥ m; else the name goes in where the caret is.
 */
export function tapped(text, caret, { kind, name }) {
  const bare = text.trim();
  const word = kind === "angle" ? `∠${name}` : name;
  if (kind === "angle" && /^∠[\p{L}\p{N}'′]+$/u.test(bare)) return ends(`${bare} ≅ ${word}`);
  if (kind === "line" && /^[\p{L}][\p{L}\p{N}'′]*$/u.test(bare)) return ends(`${bare} ∥ ${word}`);
  const before = text.slice(0, caret);
  const after = text.slice(caret);
  // After "m∠" or "∠" only the name is missing.
  const piece = kind === "angle" && /∠\s*$/u.test(before) ? name : word;
  const gap = before && !/[\s∠(]$/u.test(before) ? " " : "";
  return [before + gap + piece + after, (before + gap + piece).length];
}

const ends = (text) => [text, text.length];

/** The angles and lines of the figure that a statement names: what to point at while its row is in hand. */
export function named(statement, figure) {
  const found = [];
  for (const [, name] of statement.matchAll(/(?:∠|<|(?:angle|ángulo)\s)\s*([\p{L}\p{N}'′]+)/gu)) {
    if (figure.angles[name]) found.push({ kind: "angle", name });
  }
  const lines = statement.match(
    /^\s*(?:lines?\s)?([\p{L}][\p{L}\p{N}'′]*)\s*(?:∥|\|\||⊥|∦|perp|is |and |bisects|(?:no )?es |y )\s*(?:perpendicular to |parallel to |line |perpendicular a |paralela a |bisectriz de )?([\p{L}][\p{L}\p{N}'′]*)?/u,
  );
  for (const name of lines?.slice(1) ?? []) if (name && figure.lines[name]) found.push({ kind: "line", name });
  return found;
}
