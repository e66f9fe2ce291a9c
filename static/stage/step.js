// One step of a demonstration, forward or back: what the clicker and the Desk's buttons do. Pure; the stage documents of a
// proof and of a construction say how far they are shown.

/** How many steps the stage has, and how many are shown; null for a stage without steps. */
export function extent(stage) {
  if (stage?.kind === "proof") return { shown: stage.shown ?? 0, all: stage.rows?.length ?? 0 };
  if (stage?.kind === "construction") return { shown: stage.step ?? 0, all: stage.moves?.length ?? 0 };
  return null;
}

/** The stage after one step `by` +1 or -1; null where there is nothing further that way. */
export function step(stage, by) {
  const reach = extent(stage);
  if (!reach) return null;
  const next = reach.shown + by;
  if (next < 0 || next > reach.all) return null;
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
