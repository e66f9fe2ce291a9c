// Moves and objects in words, the same sentences as the server's (tests/vectors/construction.json holds both to it).
import { say } from "../words/say.js";
import { givens } from "./replay.js";

/** What a reader calls an object: "ray VP", "line t", "the arc about V", "B". */
export function objectWords(name, start, moves) {
  const move = moves.find((one) => one.name === name);
  if (move?.op === "arc") {
    const about = moves.filter((one) => one.op === "arc" && one.center === move.center);
    if (about.length === 1) return say("construct.arc", { center: move.center });
    return say("construct.arc_opening", { center: move.center, a: move.opening[0], b: move.opening[1] });
  }
  if (move && "line ray segment".includes(move.op)) return say(`construct.${move.op}`, { name });
  const given = givens(start)[name];
  return given && !move ? say(`construct.${given[0]}`, { name: given[1] + given[2] }) : name;
}

/** The name of a spot, for ears and for the pick list; `moves` are those that are shown. */
export function spotWords(spot, start, moves) {
  if (spot.kind === "point") return say("construct.spot_point", { name: spot.name });
  if (spot.kind === "on") return say("construct.spot_on", { of: objectWords(spot.of, start, moves) });
  if (spot.kind === "free") return say("construct.spot_free");
  const [one, two] = spot.of.map((name) => objectWords(name, start, moves));
  return say(spot.which ? `construct.spot_crossing_${spot.which}` : "construct.spot_crossing", { one, two });
}

/** One move as a sentence. */
export function sentence(index, start, moves) {
  const move = moves[index];
  if (move.op === "arc") return arcSentence(index, move, moves);
  if (move.op === "meet") {
    const [one, two] = move.of.map((name) => objectWords(name, start, moves));
    return say("construct.move_meet", { name: move.name, one, two });
  }
  if (move.op === "on") return say("construct.move_on", { name: move.name, of: objectWords(move.of, start, moves) });
  const [a, b] = move.through ?? [];
  return say(`construct.move_${move.op}`, { name: move.name, a, b });
}

function arcSentence(index, move, moves) {
  const [a, b] = move.opening;
  const before = moves
    .slice(0, index)
    .filter((one) => one.op === "arc")
    .at(-1);
  if (before?.opening.join(" ") === `${a} ${b}`) {
    return say("construct.move_arc_kept", { center: move.center, a, b });
  }
  if (move.center === a || move.center === b) {
    return say("construct.move_arc_there", { center: move.center, b: move.center === b ? a : b });
  }
  return say("construct.move_arc", { center: move.center, a, b });
}
