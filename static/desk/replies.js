// A reply in words, by the kind of its task: what a teacher reads in the answers, and what the Board shows of an unnamed one.
import { say } from "../words/say.js";
import { said as stated } from "../words/statement.js";

const OURS = new Set(["none", "not_enough", "not_forced", "moves", "answer"]);

/**
 * The sentences of a reply: [string]. `words` says an id in the house's words; `task` is what was asked. Unknown shapes give
 * their plain values, so that nothing a student wrote is lost.
 */
export function lines(kind, reply, words = (id) => id, task = null) {
  const make = BY_KIND[kind] ?? plain;
  return (make(reply ?? {}, words, task) ?? []).filter(Boolean);
}

/** Says an id that an answer holds: by the names that its task gives, in our own words, or as it is. */
export function worded(names) {
  return (id, fields) => names[id] ?? (OURS.has(id) ? say(`desk.reply_${id}`, fields) : plainly(id));
}

/** An id that no list names, as words: "consecutive-interior-angles-converse" is nothing for a class to read. */
function plainly(id) {
  if (!/^[a-z]+(-[a-z]+)+$/.test(id)) return id;
  const said = id.replaceAll("-", " ");
  return said[0].toUpperCase() + said.slice(1);
}

/** The names that a task's own choices give to ids: {id: name}. */
export function named(task) {
  const lists = Array.isArray(task?.choices) ? [task.choices] : Object.values(task?.choices ?? {});
  lists.push(task?.reasons ?? []);
  const fields = (task?.item?.fields ?? []).flatMap((field) => field.choices ?? []);
  return Object.fromEntries([
    ...lists
      .flat()
      .filter((one) => one?.id && one?.name)
      .map((one) => [one.id, one.name]),
    ...fields.filter((one) => one?.text).map((one) => [one.value, one.text]),
    ...(task?.item?.fields ?? []).filter((field) => field.none).map((field) => ["none", field.none]),
  ]);
}

const BY_KIND = {
  explore: (reply, words, task) => [
    figureLine(reply.figure),
    answerLine(task?.question?.choices?.[reply.answer] ?? reply.answer, words),
  ],

  classify(reply, words) {
    if (reply.found) return reply.found.map(([a, b]) => `∠${a}, ∠${b}`);
    return Object.entries(reply.names ?? {}).map(([pair, name]) => {
      const [a, b] = pair.split(",");
      const across = reply.transversals?.[pair];
      return `∠${a}, ∠${b}: ${words(name)}${across ? ` (${across})` : ""}`;
    });
  },

  justify(reply, words) {
    if (reply.none) return [words("not_enough")];
    const [a, b] = reply.angles ?? ["?", "?"];
    const [l, m] = reply.lines ?? ["?", "?"];
    return [
      `∠${a}, ∠${b}: ${words(reply.pair)} (${reply.transversal})`,
      reply.relation === "congruent" ? `∠${a} ≅ ∠${b}` : stated(`∠${a} and ∠${b} are ${reply.relation}`),
      `${l} ∥ ${m}: ${words(reply.theorem)}`,
    ];
  },

  prove: (reply, words) =>
    reply.not_forced
      ? [words("not_forced")]
      : (reply.rows ?? []).map((row, i) => `${i + 1}. ${stated(row.statement ?? "")}: ${words(row.reason ?? "")}`),
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
  return [
    ...(reply.working ?? []),
    ...(typeof answer === "object" ? Object.values(answer) : [answer]).map((one) => words(valueOf(one))),
  ];
}

function figureLine(figure) {
  if (!figure?.lines) return "";
  return Object.entries(figure.lines)
    .map(([name, line]) => `${name} ${line.direction}°`)
    .join(", ");
}

function answerLine(answer, words) {
  return answer === undefined || answer === null ? "" : words("answer", { answer: valueOf(answer) });
}

function valueOf(value) {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(valueOf).join(", ");
  if (typeof value === "object")
    return Object.entries(value)
      .map(([key, inner]) => `${key} = ${valueOf(inner)}`)
      .join(", ");
  return `${value}`;
}

function plain(reply) {
  return Object.entries(reply)
    .filter(([key]) => key !== "figure" && key !== "marks")
    .map(([key, value]) => `${key}: ${valueOf(value)}`);
}

/**
 * Replies of one wording told once, the commonest first: [{lines, asked, count, first (a reply), ok, text}]. Where each Seat has a
 * question of its own (`asked` of a reply), its ids are said by that one's names, and only answers to one question are one answer.
 */
export function grouped(kind, replies, words, task = null) {
  const groups = new Map();
  for (const reply of replies) {
    const own = reply.asked ? { ...task, item: reply.asked } : task;
    const said = lines(kind, reply.reply, reply.asked ? worded(named(own)) : words, own);
    const asked = reply.asked ? [reply.asked.prompt, reply.asked.ask].filter(Boolean).join(" ") : "";
    const key = [asked, ...said, `${reply.verdict?.ok}`].join("\n");
    const group = groups.get(key) ?? {
      lines: said,
      asked,
      count: 0,
      first: reply,
      ok: reply.verdict?.ok ?? null,
      text: reply.verdict?.text ?? "",
    };
    group.count += 1;
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.count - a.count);
}

const MOST = 3; // different answers of one part that are told by themselves; the rest are counted together

/**
 * The rows of a tally for the Board: [{head, rows: [{label, count}]}]. A task of several parts is counted part by part, and every
 * reply counts once in each. `asked` is the task; what students wrote themselves is counted by its verdict only: no free text goes
 * up unread.
 */
export function tallied(kind, replies, words, asked = null) {
  const parts = PARTS[kind]?.(asked, words);
  if (!parts?.length) {
    const good = replies.filter((reply) => reply.verdict?.ok).length;
    return [
      {
        head: "",
        rows: [
          { label: say("desk.tally_good"), count: good },
          { label: say("desk.tally_mend"), count: replies.length - good },
        ],
      },
    ];
  }
  return parts.map(({ head, of }) => ({
    head,
    rows: counted(replies.map((reply) => of(reply.reply ?? {}) || say("desk.tally_blank"))),
  }));
}

/** Words that were said, the commonest first; beyond the first few, "other answers" with their count. */
function counted(said) {
  const times = new Map();
  for (const one of said) times.set(one, (times.get(one) ?? 0) + 1);
  const rows = [...times].map(([label, count]) => ({ label, count })).sort((a, b) => b.count - a.count);
  if (rows.length <= MOST + 1) return rows;
  const rest = rows.slice(MOST).reduce((sum, row) => sum + row.count, 0);
  return [...rows.slice(0, MOST), { label: say("desk.tally_other"), count: rest }];
}

// The parts of a task whose answers are chosen, and what a reply says to each.
const PARTS = {
  explore: (task) => (task?.question ? [{ head: "", of: (reply) => task.question.choices[reply.answer] }] : null),
  classify(task, words) {
    if (task?.find || !task?.pairs) return null;
    return task.pairs.map(([a, b]) => ({
      head: task.pairs.length > 1 ? `∠${a}, ∠${b}` : "",
      of: ({ names = {}, transversals = {} }) => {
        const name = names[`${a},${b}`] && words(names[`${a},${b}`]);
        const across = transversals[`${a},${b}`];
        return name && across ? `${name} (${across})` : name;
      },
    }));
  },
  justify: (_task, words) => [
    {
      head: say("desk.tally_pair"),
      of: (reply) =>
        reply.none ? words("not_enough") : reply.angles && `∠${reply.angles.join(", ∠")}: ${words(reply.pair)}`,
    },
    {
      head: say("desk.tally_theorem"),
      of: (reply) => (reply.none ? words("not_enough") : reply.theorem && words(reply.theorem)),
    },
  ],
};
