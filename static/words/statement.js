// Statements as the page shows them. The notation that is kept and sent has a few English words ("∠3 and ∠5 are supplementary");
// in another language they stand in its own, which the server reads as well. Whatever has only signs stays as it is.
import { say } from "./say.js";

const SHAPES = [
  [/^(\S+) and (\S+) are supplementary$/, "supplementary"],
  [/^(\S+) and (\S+) are complementary$/, "complementary"],
  [/^(\S+) and (\S+) are a linear pair$/, "linear_pair"],
  [/^(\S+) and (\S+) are vertical angles$/, "vertical"],
  [/^(\S+)() is a right angle$/, "right"],
  [/^(\S+) bisects (\S+)$/, "bisects"],
];

/** The statement in the page's words. The catalogue "figure" has to be there. */
export function said(statement) {
  for (const [shape, key] of SHAPES) {
    const found = statement?.match?.(shape);
    if (found) return say(`figure.statement_${key}`, { a: found[1], b: found[2] });
  }
  return statement;
}
