// Shows one stage document after another: on the Board, on a Seat that follows, in the Desk's preview.
// Each kind of document has a module of its name beside this one: render(host, stage, ctx) → {update, destroy}.

const KINDS = new Set(["figure", "task", "tally", "reply", "blank", "proof", "construction"]);
const RETRY = 3000;

/**
 * A place for stages in `host`. `show(stage)` may be called as often as the stage changes; null shows bare paper.
 * `ctx`: size "board" or "seat"; anything else in it is handed to the modules.
 */
export function createStage(host, ctx = {}) {
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let kind = null; // of the module that is on show
  let view = null;
  let wanted = null; // the newest stage asked for
  let retry = 0; // the clock of a module that did not arrive
  let turn = 0; // which of several loading modules is still wanted

  async function show(stage) {
    wanted = stage ?? { kind: "blank" };
    if (!KINDS.has(wanted.kind)) wanted = { kind: "blank" };
    if (view && wanted.kind === kind) return view.update(wanted);
    const mine = (turn += 1);
    clearTimeout(retry);
    let module;
    try {
      module = await import(`./${wanted.kind}.js`);
    } catch {
      // The network went while the module was on its way: what is shown stays, and it is asked for again.
      if (mine === turn) retry = setTimeout(() => show(wanted), RETRY);
      return undefined;
    }
    if (mine !== turn) return undefined;
    view?.destroy();
    view = null; // should this document fail to be drawn, the next one is drawn from the start
    host.replaceChildren();
    kind = wanted.kind;
    host.dataset.kind = kind;
    view = module.render(host, wanted, { size: "board", ...ctx, reducedMotion: still.matches });
    return undefined;
  }

  function destroy() {
    turn += 1;
    clearTimeout(retry);
    view?.destroy();
    view = null;
    kind = null;
    host.replaceChildren();
  }

  return { show, destroy, kind: () => kind };
}
