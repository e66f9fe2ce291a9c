// Mounts one task's module beside the paper, and stands between it and the server.
import { load, say } from "../words/say.js";
import { send } from "../live/send.js";
import { h, set, write } from "../ui/elements.js";
import { footer } from "../tasks/handing.js";
import { said } from "../words/statement.js";
import { style } from "../ui/style.js";

// What each kind of task brings along: its words and its style sheet.
const BRINGS = {
  explore: [["figure", "angles"], null],
  classify: [["figure", "angles"], null],
  justify: [["figure", "angles"], null],
  prove: [["figure", "prove"], "prove"],
  construct: [["figure", "construct"], "construct"],
  solve: [["figure", "practice"], "practice"],
  practice: [["figure", "practice"], "practice"],
  connect: [["figure", "practice"], "practice"],
};
const AGAIN = 1500; // ms until a task that could not be opened is asked for again
// Where the card's foot stays at the thumb (css/seat.css has the same measure).
const IN_HAND = "(max-width: 50rem) and (min-height: 34rem)";

/** What a construction hands on to a later task; lives as long as the tab. */
const carry = {
  get(key) {
    try {
      return JSON.parse(sessionStorage.getItem(`carry:${key}`) ?? "null");
    } catch {
      return null;
    }
  },
  set(key, value) {
    try {
      sessionStorage.setItem(`carry:${key}`, JSON.stringify(value));
    } catch {
      // No storage: the figure is simply not carried over.
    }
  },
};

/**
 * `purpose(task)` is what its part is for; `onward()` goes on to the next task, `farther()` says whether there is one.
 */
export function createShell({ base, role, outbox, purpose, onward, farther }) {
  const at = (id) => document.getElementById(id);
  const [main, paper, card, confirmBox] = [at("main"), at("paper"), at("card"), at("confirm")];
  let here = null;
  let mounted = null;
  let turn = 0;
  let frozen = false;
  let open = true;
  let done = false; // whether there is nothing more to do here, and the way on is the main button
  const way = h(
    "button",
    { type: "button", class: "action seat-onward", hidden: true, onclick: () => onward() },
    say("seat.onward"),
  );
  const [read, cue, inHand] = [card.parentElement, at("more"), matchMedia(IN_HAND)];
  const foot = footer({ hand: at("hand"), way, verdict: at("verdict"), cue, read }, inHand);
  const newest = new Map(); // task → its last verdict that came to this page, perhaps while the task was being opened

  function verdict(text, tone = "plain") {
    const line = at("verdict");
    line.dataset.tone = tone;
    // The same sentence again is news too: a live region only speaks when its text changes.
    if (line.textContent === text && text) line.textContent = "";
    line.textContent = text;
    // Where the card is longer than the page, what was said comes into view by itself.
    const box = line.getBoundingClientRect();
    if (text && (tone === "good" || tone === "mend") && (box.bottom > innerHeight || box.top < 0))
      line.scrollIntoView({ block: "nearest" });
  }

  function take(told) {
    // What is handed in for good asks for nothing more: no "not yet" above buttons that rest.
    const closed = !open && told.code !== "refused";
    verdict(
      closed ? say(told.ok ? "seat.exit_right" : "seat.exit_wrong", { text: told.text }) : told.text,
      told.ok ? "good" : "mend",
    );
    finished(!open || told.done || (told.ok && main.dataset.kind !== "practice"));
    return told;
  }

  /** After success the way on is the main button, and what handed the answer in steps back. */
  function finished(on) {
    done = on;
    way.hidden = !on || !farther();
    main.toggleAttribute("data-done", !way.hidden);
  }

  /** Put on the page what a stored verdict says, when it arrives for the task on show after a reload. */
  function arrived(task, told) {
    newest.set(task, told);
    if (task !== here) return;
    if (told.code !== "refused" && purpose(task) === "exit") {
      open = false;
      settle();
    }
    take(told);
  }

  async function submit(task, reply) {
    if (purpose(task) === "exit" && role === "seat" && !(await sure())) {
      verdict(say("seat.hand_in_kept"), "plain");
      return { ok: false, done: false, code: "kept", text: say("seat.hand_in_kept"), parts: [] };
    }
    verdict(say("seat.judging"), "wait");
    const slow = setTimeout(() => verdict(say("seat.sending"), "wait"), 2500);
    try {
      return await outbox.reply(task, reply);
    } finally {
      clearTimeout(slow);
    }
  }

  /** Review and confirm before an exit task is handed in (WCAG 2.2 SC 3.3.4). */
  function sure() {
    return new Promise((resolve) => {
      const asked = document.activeElement;
      const answer = (yes) => () => {
        closeSure();
        if (asked instanceof HTMLElement) asked.focus();
        resolve(yes);
      };
      main.dataset.sure = "";
      const question = h("p", { class: "seat-confirm-ask", tabindex: "-1" }, say("seat.hand_in"));
      confirmBox.replaceChildren(
        question,
        h("p", {}, say("seat.hand_in_why")),
        h("button", { type: "button", class: "action", onclick: answer(true) }, say("seat.hand_in_yes")),
        h("button", { type: "button", class: "plain", onclick: answer(false) }, say("seat.hand_in_no")),
      );
      confirmBox.hidden = false;
      question.focus({ preventScroll: true });
      confirmBox.scrollIntoView({ block: "nearest" });
    });
  }

  function closeSure() {
    delete main.dataset.sure;
    confirmBox.hidden = true;
    confirmBox.replaceChildren();
  }

  let parked = null; // what had the focus when everything was put to rest

  /** The focus waits at the title while nothing can be pressed, instead of going to whatever is next. */
  function park() {
    const held = document.activeElement;
    parked = [paper, card, at("hand").parentElement].some((side) => side.contains(held)) ? held : null;
    if (parked) at("title").focus({ preventScroll: true });
  }

  /** Back to where the hand was, unless it has gone elsewhere meanwhile. */
  function resume() {
    const held = parked;
    parked = null;
    if (!held) return;
    // Some controls wake with the next drawing.
    requestAnimationFrame(() =>
      requestAnimationFrame(() => {
        if (document.activeElement === at("title") && held.isConnected) held.focus({ preventScroll: true });
      }),
    );
  }

  function settle() {
    mounted?.setFrozen?.(frozen || !open);
    main.dataset.frozen = `${frozen || !open}`;
    main.toggleAttribute("data-closed", !open);
    // With every control at rest, the card must still be scrolled by keys.
    set(card.parentElement, { tabindex: frozen || !open ? "0" : null });
    finished(done || !open);
  }

  /** The task and its module. While nothing answers, the page says so and asks again until it is somewhere else. */
  async function fetched(id, mine) {
    for (let again = 0; mine === turn; again += 1) {
      try {
        const found = await send("GET", `${base}/task/${encodeURIComponent(id)}`);
        const [areas, sheet] = BRINGS[found.task.kind];
        // A module that could not be fetched is remembered as missing: under another address it is asked for anew.
        const [module] = await Promise.all([
          import(`../tasks/${found.task.kind}.js${again ? `?again=${again}` : ""}`),
          load(...areas),
          style(sheet),
        ]);
        return { found, module };
      } catch (error) {
        if (mine !== turn) return null;
        const passing = error.passing ?? error instanceof TypeError; // an import that fails says no more than that
        verdict(passing ? say("seat.opens_later") : say("seat.missing", { message: error.message }), "mend");
        if (!passing) return null;
        await new Promise((resolve) => {
          setTimeout(resolve, AGAIN);
        });
      }
    }
    return null;
  }

  async function openTask(id) {
    const mine = (turn += 1);
    verdict(say("seat.loading"), "wait");
    // Work that is on its way may be neither in this answer of the server's nor in the outbox any more when that comes.
    const waiting = outbox.works()[id];
    const come = await fetched(id, mine);
    if (!come || mine !== turn) return false;
    const { found, module } = come;
    mounted?.destroy();
    paper.replaceChildren();
    card.replaceChildren();
    foot.clear();
    closeSure();
    here = id;
    open = found.open;
    frame(found.task);
    verdict("", "plain");
    const kept = [outbox.works()[id], waiting, found.saved]
      .filter(Boolean)
      .reduce((a, b) => (b.n > a.n ? b : a), { n: 0, work: null });
    let { n } = kept;
    mounted = module.mount(
      { paper, card },
      {
        task: found.task,
        saved: kept.work,
        save: (work, figure) => outbox.work(id, (n += 1), work, figure),
        submit: (reply) => submit(id, reply),
        ask: (what, body) => send("POST", `${base}/task/${encodeURIComponent(id)}/ask/${what}`, body ?? {}),
        verdict: (text, tone) => id === here && verdict(text, tone),
        carry,
        exit: purpose(id) === "exit",
        role: role === "preview" ? "preview" : "seat",
      },
    );
    // What hands the answer in stands below the part of the card that scrolls, always in reach.
    foot.take(card);
    done = false;
    settle();
    const last = newest.get(id) ?? found.last;
    if (!open) verdict(say("seat.handed_in"), "plain");
    else if (last) take(last);
    more();
    tall();
    return true;
  }

  function frame(task) {
    main.dataset.kind = task.kind;
    write(at("title"), task.title);
    document.title = say("seat.page", { task: task.title, pack: main.dataset.pack });
    write(at("ask"), task.ask ?? "");
    // Justify and prove tasks set out their givens themselves, where the student works with them.
    const given = ["prove", "solve", "practice", "connect"].includes(task.kind) ? [] : (task.given ?? []);
    at("given").hidden = given.length === 0;
    write(at("given"), given.length ? say("seat.given", { list: given.map(said).join(", ") }) : "");
    write(at("help"), say(`seat.help_${task.kind}`));
  }

  // A cue where the card is longer than its place: what it holds below is one press away. In the hand the page scrolls as one, and
  // the foot lies over what follows.
  const bar = confirmBox.parentElement;
  const hidden = () =>
    inHand.matches
      ? read.getBoundingClientRect().bottom - bar.getBoundingClientRect().top
      : read.scrollHeight - read.scrollTop - read.clientHeight;
  function more() {
    cue.hidden = hidden() < 12;
  }
  cue.addEventListener("click", () => {
    const seen = inHand.matches
      ? bar.getBoundingClientRect().top - Math.max(0, paper.getBoundingClientRect().bottom)
      : read.clientHeight;
    (inHand.matches ? window : read).scrollBy({ top: Math.max(60, seen - 40) });
  });
  for (const moves of [read, window]) moves.addEventListener("scroll", more, { passive: true });
  // The cue takes room of the card's own: asked for in the next frame, so that no observer is called by what it did.
  const later = new ResizeObserver(() => requestAnimationFrame(more));
  for (const one of [read, card, bar, document.documentElement]) later.observe(one);
  // What stays at the foot of a phone's window has the height of what it says: nothing that has the focus goes under it.
  const tall = () => document.documentElement.style.setProperty("--foot", `${bar.offsetHeight}px`);
  new ResizeObserver(tall).observe(bar);

  return {
    open: openTask,
    /** Keep what was typed a moment ago: the page may be gone in the next. */
    flush: () => mounted?.flush?.(),
    /** Whether there is a next task may have changed. */
    look: () => finished(done || !open),
    arrived,
    task: () => here,
    setFrozen(on) {
      const changed = on !== frozen;
      frozen = on;
      if (changed && on) park();
      settle();
      if (changed && !on) resume();
    },
  };
}
