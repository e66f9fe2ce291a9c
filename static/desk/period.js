// One class meeting at the Desk: the door, the plan of the lesson, and four sheets beside it. This module holds the state that the
// stream brings and the few choices made here (which task, which seat, which sheet); the others draw it and ask for changes.
import { keepFocus } from "../live/focus.js";
import { listen } from "../live/listen.js";
import { send } from "../live/send.js";
import { load, say } from "../words/say.js";
import { h, write } from "../ui/elements.js";
import { mountDoor } from "./door.js";
import { mountPlan } from "./plan.js";
import { tasks } from "./readings.js";

const main = document.getElementById("main");
const status = document.getElementById("status");
const SHEETS = ["room", "board", "answers", "own"];

await load("desk", "live", "figure");

/** What every part of the page is handed. */
const desk = {
  base: main.dataset.base,
  pack: main.dataset.pack,
  /** The newest state of the period; see the stream. */
  state: null,
  /** The task whose verbs are open in the plan; the answers sheet follows it. */
  task: null,
  /** The seat whose lines are open under the plan of the room. */
  seat: null,
  sheet: "room",
  act,
  tell,
  open,
  redraw,
  detail,
  stage,
  stamp,
};

let words = ""; // the house's words that the details were told in
const details = new Map(); // task id → promise of what a teacher may see of it
const sheets = {}; // name → its mounted module, once it has been opened
const parts = [mountDoor(desk), mountPlan(document.getElementById("plan"), document.getElementById("seats"), desk)];

/** Say something in the one line that is always in the same place. */
function tell(text, tone = "plain") {
  status.dataset.tone = tone;
  write(status, text);
}

/** Ask for a change; a refusal is told in its own words. Answers what the server answered, or undefined. */
async function act(path, body = {}, method = "POST") {
  try {
    const answer = await send(method, `${desk.base}/${path}`, method === "GET" ? undefined : body);
    if (status.dataset.tone === "mend") tell("");
    return answer ?? {};
  } catch (refusal) {
    tell(refusal.status === 0 ? say("desk.no_answer") : refusal.message, "mend");
    live.refresh();
    return undefined;
  }
}

/** Which Desk a document on the stage comes from, and which of its documents: the echo of an older one of ours is no news. */
const me = crypto.getRandomValues(new Uint32Array(2)).join("");
let sent = 0;

function stamp(doc) {
  return doc && { ...doc, by: me, n: (sent += 1) };
}

/** True for a document that this page sent, and has since replaced. */
function stale(doc) {
  return doc?.by === me && doc.n < sent;
}

/** Put a document on the stage. The state is changed here at once, so that quick presses build on each other. */
async function stage(given) {
  const next = stamp(given);
  desk.state = { ...desk.state, stage: next };
  redraw();
  return act("stage", { stage: next });
}

/** The task as a teacher sees it: {task, key, notes, public}. Asked once. */
function detail(id) {
  if (!details.has(id)) {
    const asked = send("GET", `${desk.base}/task/${id}`);
    asked.catch(() => details.delete(id));
    details.set(id, asked);
  }
  return details.get(id);
}

function redraw() {
  if (!desk.state) return;
  const now = desk.state.period?.pack_now ?? "same";
  const notice = document.getElementById("pack-now");
  notice.hidden = now === "same";
  write(notice, now === "same" ? "" : say(`desk.pack_${now}`));
  for (const part of parts) part.update(desk.state);
  sheets[desk.sheet]?.update(desk.state);
}

// The sheets

const tabs = document.getElementById("tabs");
for (const name of SHEETS) {
  const sheet = document.getElementById(`sheet-${name}`);
  sheet.setAttribute("aria-labelledby", `tab-${name}`);
  tabs.append(
    h(
      "button",
      {
        type: "button",
        role: "tab",
        id: `tab-${name}`,
        "aria-controls": `sheet-${name}`,
        "aria-selected": "false",
        tabindex: "-1",
        onclick: () => open(name),
      },
      say(`desk.sheet_${name}`),
    ),
  );
}

/** Turn to a sheet; its module is fetched when it is first wanted. */
async function open(name) {
  desk.sheet = name;
  for (const other of SHEETS) {
    const tab = document.getElementById(`tab-${other}`);
    tab.setAttribute("aria-selected", `${other === name}`);
    tab.tabIndex = other === name ? 0 : -1;
    document.getElementById(`sheet-${other}`).hidden = other !== name;
  }
  if (!sheets[name]) {
    const module = await import(`./${name}.js`);
    sheets[name] ??= module.mount(document.getElementById(`sheet-${name}`), desk);
  }
  if (desk.state && desk.sheet === name) sheets[name].update(desk.state);
}

tabs.addEventListener("keydown", (event) => {
  const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  const at = SHEETS.indexOf(desk.sheet);
  let next = by ? SHEETS[(at + by + SHEETS.length) % SHEETS.length] : null;
  if (event.key === "Home") next = SHEETS[0];
  if (event.key === "End") next = SHEETS.at(-1);
  if (!next) return;
  event.preventDefault();
  open(next);
  document.getElementById(`tab-${next}`).focus();
});

const live = listen(
  desk.base,
  (next) => {
    const spoken = `${next.period?.house} ${next.period?.profile}`;
    if (spoken !== words) details.clear(); // tasks are told in the words of the class's textbook
    words = spoken;
    desk.state = stale(next.stage) ? { ...next, stage: desk.state?.stage ?? null } : next;
    desk.task ??= next.step ?? tasks(next.parts ?? [])[0]?.id ?? null;
    redraw();
  },
  {
    onStatus(word) {
      if (word === "offline") tell(say("desk.no_answer"), "wait");
      else if (word === "gone") tell(say("desk.gone"), "mend");
      else if (["wait", "mend"].includes(status.dataset.tone)) tell("");
    },
  },
);

keepFocus(main, () => document.getElementById(`tab-${desk.sheet}`));
open("room");
