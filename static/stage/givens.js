// What is given and what is to be proved, under the sentences of a task: a word in front, each statement in one piece.
import { h } from "../ui/elements.js";
import { load, say } from "../words/say.js";
import { said } from "../words/statement.js";

await load("prove", "figure");

/** `<p>`s for `{given, goal}` of a task or a proof; those without anything to say are left out. */
export function givens({ given, goal }) {
  return [
    ["prove.given", given ?? []],
    ["prove.goal", goal ? [goal] : []],
  ]
    .filter(([, all]) => all.length)
    .map(([word, all]) =>
      h(
        "p",
        { class: "stage-given" },
        h("span", { class: "label" }, say(word)),
        " ",
        all.map((one, i) => h("span", { class: "statement" }, i < all.length - 1 ? `${said(one)}, ` : said(one))),
      ),
    );
}
