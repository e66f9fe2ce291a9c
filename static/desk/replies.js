// A reply in words, by the kind of its task: what a teacher reads in the answers, and what the Board shows of an unnamed one.
import { say } from "../words/say.js";

const OURS = new Set(["none", "not_forced", "moves", "answer"]);
const SIGNS = { congruent: "≅", supplementary: "supplementary" };

/**
 * The sentences of a reply: [string]. `words` says an id in the house's words; `task` is what was asked. Unknown shapes give
 * their plain values, so that nothing a student wrote is lost.
 */
export function lines(kind, reply, words = (id) => id, task = null) {
  const make = BY_KIND[kind] ?? plain;
  return (make(reply ?? {}, words, task) ?? []).filter(Boolean);
}

/** Says an id that an answer holds: in our own words, by the names that its task gives, or as it is. */
export function worded(names) {
  return (id, fields) => (OURS.has(id) ? say(`desk.reply_${id}`, fields) : (names[id] ?? id));
}

/** The names that a task's own choices give to ids: {id: name}. */
export function named(task) {
  const lists = Array.isArray(task?.choices) ? [task.choices] : Object.values(task?.choices ?? {});
  lists.push(task?.reasons ?? []);
  const fields = (task?.item?.fields ?? []).flatMap((field) => field.choices ?? []);
  return Object.fromEntries([
    ...lists.flat().filter((one) => one?.id && one?.name).map((one) => [one.id, one.name]),
    ...fields.filter((one) => one?.text).map((one) => [one.value, one.text]),
  ]);
}

const BY_KIND = {
  explore: (reply, words, task) => [figureLine(reply.figure), answerLine(task?.question?.choices?.[reply.answer] ?? reply.answer, words)],

  classify(reply, words) {
    if (reply.found) return reply.found.map(([a, b]) => `∠${a}, ∠${b}`);
    return Object.entries(reply.names ?? {}).map(([pair, name]) => {
      const [a, b] = pair.split(",");
      const across = reply.transversals?.[pair];
      return `∠${a} and ∠${b}: ${words(name)}${across ? ` (${across})` : ""}`;
    });
  },

  justify(reply, words) {
    if (reply.none) return [words("none")];
    const [a, b] = reply.angles ?? ["?", "?"];
    const [l, m] = reply.lines ?? ["?", "?"];
    const related = reply.relation === "congruent" ? `∠${a} ${SIGNS.congruent} ∠${b}` : `∠${a} and ∠${b} are ${reply.relation}`;
    return [`∠${a} and ∠${b}: ${words(reply.pair)}, ${reply.transversal}`, related, `${l} ∥ ${m}: ${words(reply.theorem)}`];
  },

  prove: (reply, words) => (reply.not_forced ? [words("not_forced")] : (reply.rows ?? []).map((row, i) => `${i + 1}. ${row.statement ?? ""}: ${words(row.reason ?? "")}`)),
  solve: exercise,
  construct: (reply, words) => [words("moves", { n: reply.moves?.length ?? 0 })],
  connect: exercise,
  practice: exercise,
};

function exercise(reply, words) {
  const answer = reply.answer ?? "";
  // A counterexample: how its lines lie, and the angles that were chosen.
  const made = answer.figure?.lines ? answer : answer.lines ? { figure: answer } : null;
  if (made) return [figureLine(made.figure), (made.angles ?? []).map((name) => `∠${name}`).join(", ")];
  return [...(reply.working ?? []), ...(typeof answer === "object" ? Object.values(answer) : [answer]).map((one) => words(valueOf(one)))];
}

function figureLine(figure) {
  if (!figure?.lines) return "";
  return Object.entries(figure.lines).map(([name, line]) => `${name} ${line.direction}°`).join(", ");
}

function answerLine(answer, words) {
  return answer === undefined || answer === null ? "" : words("answer", { answer: valueOf(answer) });
}

function valueOf(value) {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(valueOf).join(", ");
  if (typeof value === "object") return Object.entries(value).map(([key, inner]) => `${key} = ${valueOf(inner)}`).join(", ");
  return `${value}`;
}

function plain(reply) {
  return Object.entries(reply).filter(([key]) => key !== "figure" && key !== "marks").map(([key, value]) => `${key}: ${valueOf(value)}`);
}

/** Replies of one wording told once, the commonest first: [{lines, count, first (a reply), ok}]. */
export function grouped(kind, replies, words, task = null) {
  const groups = new Map();
  for (const reply of replies) {
    const said = lines(kind, reply.reply, words, task);
    const key = said.join("\n");
    const group = groups.get(key) ?? { lines: said, count: 0, first: reply, ok: reply.verdict?.ok ?? null, text: reply.verdict?.text ?? "" };
    group.count += 1;
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.count - a.count);
}
