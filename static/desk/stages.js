// Stage documents made at the Desk from what it knows of a task. Only what a Seat may see goes into a task stage.
import { send } from "../live/send.js";
import { say } from "../words/say.js";

const SHOWN = [
  "id",
  "kind",
  "title",
  "ask",
  "figure",
  "not_to_scale",
  "given",
  "goal",
  "marks",
  "words",
  "printed",
  "construction",
  "start",
];

/**
 * The task with what it asks at its top: an exercise keeps its sentences, figure, marks and printed proof in an item of its own (each
 * Seat has other numbers; this one is the Desk's). Any other task is itself.
 */
export function asked(task) {
  const item = task?.item;
  if (!item) return task;
  const lines = [task.ask, item.prompt, item.ask].filter(Boolean);
  return {
    ...task,
    ask: [...new Set(lines)].join("\n"),
    figure: task.figure ?? item.figure ?? null,
    marks: item.marks ?? task.marks ?? null,
    not_to_scale: item.not_to_scale ?? task.not_to_scale ?? null,
    printed: item.rows ?? null,
  };
}

/** The task as it is asked, for the Board: never its key, seed or answer. */
export function taskStage(task) {
  const whole = asked(task);
  const shown = {};
  for (const name of SHOWN) if (whole[name] !== undefined && whole[name] !== null) shown[name] = whole[name];
  if (typeof shown.words === "object") shown.words = shown.words.text;
  return { kind: "task", task: shown };
}

/** The stage that demonstrates a prove or construct task from its first step; throws with a sentence when there is none. */
export async function demonstration({ task, key, public: open }) {
  if (task.kind === "construct") return construction({ ...task, ...open }, key);
  return proof({ ...task, ...open }, key);
}

async function proof(task, key) {
  let rows = key?.rows ?? key?.proof?.rows ?? key?.proof ?? task.proof ?? null;
  if (!Array.isArray(rows) || !rows.length) {
    const found = await send("POST", "/api/reasoning/prove", {
      figure: task.figure,
      given: task.given,
      goal: task.goal,
    });
    rows = found.rows;
  }
  if (!rows?.length) throw new Error(say("desk.no_proof"));
  return {
    kind: "proof",
    task: task.id,
    title: task.title,
    figure: task.figure,
    given: task.given,
    goal: task.goal,
    rows,
    shown: 0,
    reasons: true,
  };
}

function construction(task, key) {
  const moves = key?.moves ?? null;
  if (!moves?.length) throw new Error(say("desk.no_moves"));
  return {
    kind: "construction",
    task: task.id,
    title: task.title,
    construction: task.construction,
    start: task.start,
    moves,
    result: key.result,
    steps: key.steps,
    step: 0,
    speed: 1,
  };
}
