// The Seat: one task at a time, beside the paper; what the teacher shows instead, when the class follows.
import { load, say } from "../words/say.js";
import { listen } from "../live/listen.js";
import { send } from "../live/send.js";
import { createOutbox } from "../live/outbox.js";
import { createStage } from "../stage/stage.js";
import { byId, write } from "../ui/elements.js";
import { keepFocus, restsQuietly } from "../live/focus.js";
import { createMenus } from "./menus.js";
import { createPath } from "./path.js";
import { createShell } from "./shell.js";

const main = byId("main", HTMLElement);
const { base, role } = main.dataset;
const part = {
  who: byId("who", HTMLElement),
  where: byId("where", HTMLElement),
  net: byId("net", HTMLElement),
  banner: byId("banner", HTMLElement),
  stage: byId("stage", HTMLElement),
  "stage-paper": byId("stage-paper", HTMLElement),
  paper: byId("paper", HTMLElement),
  "card-side": byId("card-side", HTMLElement),
  kept: byId("kept", HTMLElement),
  leave: byId("leave", HTMLElement),
  path: byId("path", HTMLElement),
  back: byId("back", HTMLButtonElement),
  next: byId("next", HTMLButtonElement),
  return: byId("return", HTMLDetailsElement),
};
document.documentElement.classList.add("seat-root"); // the page that scrolls, for its scroll padding
let state = null;
let outbox = null;
let shell = null;
let shownStep = null;
let taken = null; // the title of the task that somebody was at when the class was taken to another

await load("seat", "live", "figure", "angles");
const path = createPath(part.path, (id) => go(id));
const stage = createStage(part["stage-paper"], { size: "seat" });

function tasks() {
  return state.pack.parts.flatMap((one) => one.tasks.map((task) => ({ ...task, part: one })));
}

/** The task to open first: the one in the address, the one the class is on, where I was, the first that isn't done. */
function firstTask() {
  const all = tasks();
  const asked = decodeURIComponent(location.hash.slice(1)) || new URLSearchParams(location.search).get("task");
  const known = (id) => all.some((task) => task.id === id) && id;
  return known(state.step) || known(asked) || known(state.here) || all.find((task) => !task.done)?.id || all[0]?.id;
}

async function go(id, { quiet = false, along = false } = {}) {
  if (!id) return;
  if (!(await shell.open(id))) return;
  // The browser's own Back goes to the task before, where the student chose to go on.
  const hash = `#${encodeURIComponent(id)}`;
  if (quiet || along || location.hash === hash) history.replaceState(null, "", hash);
  else history.pushState(null, "", hash);
  if (!quiet) {
    scrollTo({ top: 0, behavior: "instant" }); // where the page scrolls as one, a task begins with its paper
    const title = document.getElementById("title");
    title.focus({ preventScroll: true });
    title.scrollIntoView({ block: "nearest", behavior: "instant" }); // and no farther than it must be moved for its title
  }
  show();
  if (role !== "preview") send("POST", `${base}/here`, { task: id }).catch(() => {});
}

function begin() {
  const who = `${state.period?.id ?? base}:${state.name}`;
  outbox = createOutbox({
    base,
    key: `eight-angles:${who}`,
    storage: localStorage,
    send,
    onChange: waiting,
    onVerdict: (task, verdict) => {
      if (verdict.done) markDone(task);
      shell.arrived(task, verdict);
    },
  });
  shell = createShell({
    base,
    role,
    outbox,
    purpose: (id) => tasks().find((task) => task.id === id)?.part.purpose,
    onward: () => stepBy(1),
    farther: () => !part.next.disabled,
  });
  go(firstTask(), { quiet: true });
}

/**
 * The teacher takes everybody to one task: the page says where from and where to. A hand that was typing must not go on in a field of
 * the other task, so the focus goes to that task's title.
 */
function takeAlong(id) {
  taken = tasks().find((task) => task.id === shell.task())?.title ?? null;
  const busy = main.contains(document.activeElement);
  go(id, { quiet: !busy, along: true });
}

function markDone(id) {
  for (const one of state.pack.parts) for (const task of one.tasks) if (task.id === id) task.done = true;
  show();
}

function waiting({ replies, works, offline }) {
  write(part.kept, replies + works === 0 ? say("seat.saved") : "");
  // An answer on its way is no news: only one that the network keeps back is, and then that it has gone.
  if (offline)
    write(
      part.net,
      replies ? say(replies === 1 ? "seat.waiting_one" : "seat.waiting", { n: replies }) : say("seat.offline"),
    );
  else if (part.net.textContent) online();
}

let quiet = 0;
/** Say once that the network is back, and take the sentence away when it has been read. */
function online() {
  if (part.net.textContent === say("seat.online")) return;
  write(part.net, say("seat.online"));
  clearTimeout(quiet);
  quiet = setTimeout(() => part.net.textContent === say("seat.online") && write(part.net, ""), 8000);
}

/** Bring the page to the state: the row, the banner, the stage, what may be pressed. */
function show() {
  const here = shell?.task() ?? null;
  const all = tasks();
  const at = all.findIndex((task) => task.id === here);
  const locked = Boolean(state.step);
  path.update(state.pack, here, locked);
  part.back.disabled = locked || at <= 0;
  part.next.disabled = locked || at < 0 || at >= all.length - 1;
  if (at >= 0) {
    const inside = all[at].part.tasks;
    const parts = state.pack.parts;
    const place = {
      part: all[at].part.title,
      part_n: parts.indexOf(parts.find((one) => one.id === all[at].part.id)) + 1,
      parts: parts.length,
    };
    write(
      part.where,
      say("seat.where", { ...place, n: inside.findIndex((t) => t.id === here) + 1, of: inside.length }),
    );
  }
  if (state.name) write(part.who, state.pending ? say("seat.pending", { name: state.name }) : state.name);
  const following = Boolean(state.follow && state.stage);
  part.stage.hidden = !following;
  for (const side of [part.paper, part["card-side"]]) side.hidden = following;
  main.dataset.following = `${following}`;
  if (following) stage.show(state.stage);
  banner(following);
  shell?.setFrozen(Boolean(state.frozen || state.closed));
  shell?.look();
}

function banner(following) {
  let text = "";
  if (role === "preview") text = say("seat.preview");
  if (!state.step) taken = null;
  if (state.step) {
    const title = tasks().find((task) => task.id === state.step)?.title ?? "";
    text = taken ? say("seat.together_from", { title, from: taken }) : say("seat.together", { title });
  }
  if (following) text = say("seat.following");
  if (state.frozen) text = say("seat.frozen");
  if (state.closed) text = say("seat.closed");
  // Shown first, then filled: a live region that is hidden says nothing.
  part.banner.hidden = !text;
  write(part.banner, text);
}

listen(
  base,
  (next) => {
    const first = !state;
    // A verdict that has just come may be newer than a state already on its way.
    state = next;
    if (first) begin();
    else if (state.step && state.step !== shownStep && shell.task() !== state.step) takeAlong(state.step);
    shownStep = state.step;
    show();
  },
  {
    onStatus: (word) => {
      main.dataset.net = word;
      if (word === "offline") write(part.net, say("seat.offline"));
      else if (word === "gone") {
        write(part.banner, say("seat.gone"));
        part.banner.hidden = false;
        shell?.setFrozen(true);
      } else if (part.net.textContent && !outbox?.waiting()) online();
      if (word === "live" || word === "polling") outbox?.flush();
    },
  },
);

function stepBy(n) {
  const all = tasks();
  go(all[all.findIndex((task) => task.id === shell.task()) + n]?.id);
}
part.back.addEventListener("click", () => stepBy(-1));
part.next.addEventListener("click", () => stepBy(1));
window.addEventListener("hashchange", () => {
  const id = decodeURIComponent(location.hash.slice(1));
  if (state && shell && id !== shell.task() && tasks().some((task) => task.id === id)) go(id);
});
part.leave.addEventListener("submit", (event) => {
  const sure = role === "preview" || confirm(say(outbox?.waiting() ? "seat.leave_waiting" : "seat.leave_sure"));
  if (!sure) event.preventDefault();
  else {
    outbox?.clear();
    sessionStorage.clear();
  }
});
createMenus([...document.querySelectorAll(".seat-menu")], () => [
  ...main.querySelectorAll("#stage, #paper, #card, .seat-foot, .seat-steps"),
]);
part.return.addEventListener("toggle", async () => {
  const field = part.return.querySelector("input.seat-link"); // only a seat has a way back
  if (!part.return.open || !(field instanceof HTMLInputElement) || field.value) return;
  const { link } = await send("GET", `${base}/return`);
  field.value = link;
  field.select();
});

addEventListener("pagehide", () => shell?.flush());
restsQuietly(main);
keepFocus(main, () => document.getElementById("title"));
