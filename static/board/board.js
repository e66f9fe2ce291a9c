// The projected page: it shows the stage and the period code, and takes the clicker when the teacher opened it.
import { listen } from "../live/listen.js";
import { send } from "../live/send.js";
import { createStage } from "../stage/stage.js";
import { blank, meaning, step } from "../stage/step.js";
import { createPlate } from "./plate.js";
import { byId, find, oneStop, pressed } from "../ui/elements.js";
import { load, say } from "../words/say.js";

const main = document.getElementById("main");
const note = document.getElementById("note");
const corner = document.getElementById("corner");
const controls = find(document, ".board-controls", HTMLElement);
const desk = main.dataset.desk ?? null;
const THEME = "board-theme"; // kept in the browser: how this projector looks best
const LETTERS = "board-letters"; // and whether single letters do something here (WCAG 2.2 SC 2.1.4)

let state = null;
let resting = 0; // the clock that hides the controls again

await load("board", "live", "figure");
const stage = createStage(document.getElementById("stage"), { size: "board" });
const live = listen(main.dataset.base, show, { onStatus: tell });

function show(next) {
  state = next;
  document.getElementById("code").textContent = next.code ? `${next.code.slice(0, 3)} ${next.code.slice(3)}` : "";
  document.getElementById("short").textContent = next.short ?? "";
  const open = Boolean(next.open && next.code);
  const arriving = open && (!next.stage || (next.stage.kind === "blank" && !next.stage.under));
  corner.hidden = !open || arriving;
  document.body.classList.toggle("board-coded", !corner.hidden);
  arrive(arriving ? next : null);
  stage.show(next.stage);
}

let plate = null;
/** While nothing is put up and the door is open: how to come in, large enough for the last row. */
function arrive(next) {
  const at = (id) => document.getElementById(`plate${id}`);
  at("").hidden = !next;
  if (!next) {
    plate?.stop();
    plate = null;
    return;
  }
  at("-address").textContent = next.short ?? "";
  at("-address").dataset.long = `${(next.short ?? "").length > 18}`;
  at("-code").textContent = `${next.code.slice(0, 3)} ${next.code.slice(3)}`;
  const [qr, source] = [byId("plate-qr", HTMLImageElement), `${main.dataset.base}/qr.svg?code=${next.code}`];
  if (qr.getAttribute("src") !== source) qr.src = source;
  qr.hidden = false;
  plate ??= createPlate(at("-figure"), matchMedia("(prefers-reduced-motion: reduce)").matches);
}

function tell(status) {
  note.textContent = status === "offline" ? say("board.offline") : "";
  if (status === "gone") {
    closed();
    corner.hidden = true;
    arrive(null);
    document.body.classList.remove("board-coded");
    stage.show(null);
  }
}

/** Nothing more comes by this link: the period is over, or the teacher has made a new one. The server is asked which. */
async function closed() {
  const [what, then] = document.getElementById("ended").children;
  what.textContent = say("board.gone");
  try {
    await send("GET", `${main.dataset.base}/state`);
  } catch (refused) {
    if (refused.where !== "period") return;
    what.textContent = say("board.ended");
    then.textContent = say("board.gone");
  }
}

/** Send the stage on by one step (teacher only); the stream brings it back to every screen. */
async function click(way) {
  if (!desk || !state) return;
  const next = way === "blank" ? blank(state.stage) : step(state.stage, way === "forward" ? 1 : -1);
  if (!next) return;
  state = { ...state, stage: next };
  stage.show(next); // at once here; the same document comes back by the stream
  try {
    await send("POST", `${desk}/stage`, { stage: next });
    note.textContent = "";
  } catch {
    note.textContent = say("board.busy");
    live.refresh();
  }
}

function contrast(on) {
  document.documentElement.dataset.theme = on ? "night" : "board";
  controls.querySelector('[data-do="contrast"]').setAttribute("aria-pressed", `${on}`);
}

function kept(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null; // storage is switched off here
  }
}

function keep(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // It will have to be pressed again next time.
  }
}

let letters = kept(LETTERS) !== "off";
function lettered(on) {
  letters = on;
  controls.querySelector('[data-do="letters"]')?.setAttribute("aria-pressed", `${on}`);
}

const ACTS = {
  forward: () => click("forward"),
  back: () => click("back"),
  blank: () => click("blank"),
  contrast() {
    const on = document.documentElement.dataset.theme !== "night";
    contrast(on);
    keep(THEME, on ? "night" : "board");
  },
  letters() {
    lettered(!letters);
    keep(LETTERS, letters ? "on" : "off");
  },
  full() {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen?.();
  },
};

controls.addEventListener("click", (event) => {
  const button = pressed(event, "button[data-do]");
  if (button) ACTS[button.dataset.do]();
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  // Space and Enter belong to a button that has the focus.
  if (pressed(event, "button, a, input, select, textarea") && [" ", "Enter"].includes(event.key)) return;
  const way = meaning(event.key);
  if (!way || !desk || (event.key.length === 1 && event.key !== " " && !letters)) return;
  event.preventDefault();
  click(way);
});

// "Nothing else unless called": a moved pointer or the Tab key calls the controls for a few seconds. Browsers also tell of a move where
// the page moved under a pointer that lies still: only one that is elsewhere than before calls.
let lies = null;
document.addEventListener("pointermove", ({ screenX, screenY }) => {
  const before = lies;
  lies = { screenX, screenY };
  if (!before || (before.screenX === screenX && before.screenY === screenY)) return;
  document.body.classList.add("board-called");
  clearTimeout(resting);
  resting = setTimeout(() => document.body.classList.remove("board-called"), 3000);
});

oneStop(controls);
lettered(letters);
contrast(kept(THEME) === "night");
