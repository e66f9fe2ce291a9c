// The projected page: it shows the stage and the period code, and takes the clicker when the teacher opened it.
import { listen } from "../live/listen.js";
import { send } from "../live/send.js";
import { createStage } from "../stage/stage.js";
import { blank, meaning, step } from "../stage/step.js";
import { load, say } from "../words/say.js";

const main = document.getElementById("main");
const note = document.getElementById("note");
const corner = document.getElementById("corner");
const controls = document.querySelector(".board-controls");
const desk = main.dataset.desk ?? null;
const THEME = "board-theme"; // the one thing kept in the browser: how this projector looks best

let state = null;
let resting = 0; // the clock that hides the controls again

await load("board", "live", "figure");
const stage = createStage(document.getElementById("stage"), { size: "board" });
const live = listen(main.dataset.base, show, { onStatus: tell });

function show(next) {
  state = next;
  document.getElementById("code").textContent = next.code ? `${next.code.slice(0, 3)} ${next.code.slice(3)}` : "";
  document.getElementById("short").textContent = next.short ?? "";
  corner.hidden = !(next.open && next.code);
  document.body.classList.toggle("board-coded", !corner.hidden);
  stage.show(next.stage);
}

function tell(status) {
  note.textContent = status === "offline" ? say("board.offline") : status === "gone" ? say("board.gone") : "";
  if (status === "gone") {
    corner.hidden = true;
    document.body.classList.remove("board-coded");
    stage.show(null);
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

function kept() {
  try {
    return localStorage.getItem(THEME) === "night";
  } catch {
    return false; // storage is switched off here
  }
}

const ACTS = {
  forward: () => click("forward"),
  back: () => click("back"),
  blank: () => click("blank"),
  contrast() {
    const on = document.documentElement.dataset.theme !== "night";
    contrast(on);
    try {
      localStorage.setItem(THEME, on ? "night" : "board");
    } catch {
      // It will have to be pressed again next time.
    }
  },
  full() {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen?.();
  },
};

controls.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-do]");
  if (button) ACTS[button.dataset.do]();
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  // Space and Enter belong to a button that has the focus.
  if (event.target.closest?.("button, a, input, select, textarea") && [" ", "Enter"].includes(event.key)) return;
  const way = meaning(event.key);
  if (!way || !desk) return;
  event.preventDefault();
  click(way);
});

// "Nothing else unless called": a moved pointer or the Tab key calls the controls for a few seconds.
document.addEventListener("pointermove", () => {
  document.body.classList.add("board-called");
  clearTimeout(resting);
  resting = setTimeout(() => document.body.classList.remove("board-called"), 3000);
});

contrast(kept());
