// A construction on the Board or on a Seat that follows: the clicker changes how many moves are shown, the instruments do them.
import { load } from "../words/say.js";
import { createPlayer } from "../construct/player.js";
import { style } from "../ui/style.js";

await load("construct");
style("construct");

export function render(host, stage, ctx) {
  return createPlayer(host, stage, { size: ctx.size, reducedMotion: ctx.reducedMotion, change: ctx.change });
}

/** What a construction task starts from, with nothing done yet. */
export function given(host, { construction, start, title }, ctx) {
  return createPlayer(
    host,
    { construction, start, title, moves: [], steps: [] },
    { size: ctx.size, reducedMotion: true, bare: true },
  );
}
