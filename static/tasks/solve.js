// Solve: lines of working one under the other, then the answer. Also the body of connect tasks, which have no lines.

import { createItem, gently } from "../practice/item.js";

export function mount(host, ctx) {
  const save = gently((work) => ctx.save(work));
  const item = createItem(host, ctx.task.item, {
    saved: ctx.saved,
    ask: ctx.ask,
    submit: (reply) => {
      save.now();
      return ctx.submit(reply);
    },
    verdict: ctx.verdict,
    changed: save,
    exit: ctx.exit,
    own: ctx.task.item.family === "own",
  });
  return {
    destroy() {
      save.now();
      item.destroy();
    },
    flush: () => save.now(),
    setFrozen: item.setFrozen,
  };
}
