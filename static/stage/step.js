// One step of a demonstration, forward or back: what the clicker and the Desk's buttons do. Pure; the stage documents of a
// proof and of a construction say how far they are shown.

/**
 * Where each step ends: after which row of a proof, after which move of a construction (its named steps where it has them,
 * since a teacher says "the arc" and not "the point, the opening, the swing"). Null for a stage without steps.
 */
function ends(stage) {
  if (stage?.kind === "proof") return count(stage.rows?.length ?? 0);
  if (stage?.kind !== "construction") return null;
  const named = (stage.steps ?? []).map((one) => one.upto).filter((n) => Number.isInteger(n) && n > 0);
  return named.length ? [...new Set(named)].sort((a, b) => a - b) : count(stage.moves?.length ?? 0);
}

function count(n) {
  return Array.from({ length: n }, (_, i) => i + 1);
}

/** How many steps the stage has, and how many are shown; null for a stage without steps. */
export function extent(stage) {
  const all = ends(stage);
  return all && { shown: all.filter((end) => end <= at(stage)).length, all: all.length };
}

function at(stage) {
  return (stage.kind === "proof" ? stage.shown : stage.step) ?? 0;
}

/** The stage after one step `by` +1 or -1; null where there is nothing further that way. */
export function step(stage, by) {
  const all = ends(stage);
  if (!all) return null;
  const now = at(stage);
  if (by < 0 && now <= 0) return null;
  const next = by > 0 ? all.find((end) => end > now) : (all.filter((end) => end < now).at(-1) ?? 0);
  if (next === undefined) return null;
  return stage.kind === "proof" ? { ...stage, shown: next } : { ...stage, step: next };
}

/** Bare paper in place of the stage, or the stage that was under it again. */
export function blank(stage) {
  if (stage?.kind === "blank" && stage.under) return stage.under;
  return { kind: "blank", under: stage?.kind === "blank" ? null : stage };
}

/** What a clicker's key means: "forward", "back", "blank", or null. Clickers send the keys of a page turn. */
export function meaning(key) {
  if (["PageDown", "ArrowRight", "ArrowDown", " ", "n"].includes(key)) return "forward";
  if (["PageUp", "ArrowLeft", "ArrowUp", "p"].includes(key)) return "back";
  if (["b", "B", "."].includes(key)) return "blank";
  return null;
}
