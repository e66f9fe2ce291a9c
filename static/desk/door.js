// The door of the period: open or closed, the code large enough to be read out, the way in for a camera, and the rarer verbs.
import { say } from "../words/say.js";
import { byId, h, write } from "../ui/elements.js";

export function mountDoor(desk) {
  const at = (id) => document.getElementById(id);
  const door = at("door");
  let shownCode = null;

  door.addEventListener("click", () => desk.act("door", { open: !desk.state?.period?.open }));
  disclose(at("wall"), at("wall-sheet"));
  disclose(at("more"), at("more-sheet"));
  const chosen = more(at("more-sheet"), desk);
  const makeRoom = at("full-more");
  let wanted = 0;
  makeRoom.addEventListener("click", () => desk.act("places", { places: wanted }));

  /** Somebody found no place: said here, with the one press that makes some. */
  function tellFull(full) {
    if (full) wanted = full.at + full.more;
    write(at("full"), full ? say(full.more ? "desk.full" : "desk.full_most", full) : "");
    write(makeRoom, full?.more ? say("desk.full_more", full) : "");
    makeRoom.hidden = !full?.more;
  }

  function update({ period, guesses, trouble, full }) {
    tellFull(full);
    const open = Boolean(period.open);
    write(door, open ? door.dataset.close : door.dataset.open);
    door.classList.toggle("action", !open);
    door.classList.toggle("plain", open);
    at("code-line").hidden = !open;
    at("wall").hidden = !open;
    if (!open) at("wall-sheet").hidden = true;
    chosen(period);
    write(
      at("guesses"),
      trouble === "disk"
        ? say("desk.disk_full")
        : guesses && open
          ? say("desk.guesses", { n: guesses })
          : period.ended
            ? say("desk.ended_line", { until: day(period.kept_until) })
            : "",
    );
    write(at("period-title"), period.title);
    write(at("code"), spaced(period.code));
    write(at("wall-code"), spaced(period.code));
    write(at("short"), period.short ?? "");
    write(at("wall-short"), period.short ?? "");
    // By its path: opened beside this page, the Board knows its teacher, and the clicker works there.
    if (period.board) byId("board-link", HTMLAnchorElement).href = new URL(period.board, location.href).pathname;
    if (open && period.code !== shownCode) {
      shownCode = period.code;
      byId("qr", HTMLImageElement).src = `${desk.base}/qr.svg?code=${encodeURIComponent(period.code)}`;
    }
  }

  return { update };
}

function day(ms) {
  return new Date(ms).toLocaleDateString(document.documentElement.lang || "en-US", {
    year: "numeric",
    month: "long",
    day: "numeric",
  });
}

/** Three and three are read out and copied with fewer slips than six in a row. */
function spaced(code) {
  return code ? `${code.slice(0, 3)} ${code.slice(3)}` : "";
}

function disclose(button, sheet) {
  button.addEventListener("click", () => {
    sheet.hidden = !sheet.hidden;
    button.setAttribute("aria-expanded", `${!sheet.hidden}`);
  });
}

/** The rarer verbs; answers what brings its choices up to date. */
function more(host, desk) {
  const title = h("input", {
    class: "field",
    id: "rename",
    maxlength: 60,
    autocomplete: "off",
    value: document.getElementById("period-title").textContent,
  });
  const choice = (id, options) =>
    h("select", { class: "field", id, onchange: (event) => desk.act("words", { [id]: event.target.value }) }, options);
  const house = choice("house", byId("houses", HTMLTemplateElement).content);
  const profile = choice(
    "profile",
    ["postulate", "theorem"].map((value) => h("option", { value }, say(`desk.profile_${value}`))),
  );
  const places = h("input", {
    class: "field room-row",
    id: "places",
    inputmode: "numeric",
    maxlength: 2,
    autocomplete: "off",
  });
  let shownPlaces = null; // what was typed and isn't kept yet stays, whatever the stream brings
  host.append(
    h(
      "form",
      {
        class: "desk-inline",
        onsubmit(event) {
          event.preventDefault();
          desk.act("rename", { title: title.value });
        },
      },
      h("label", { class: "label", for: "rename" }, say("desk.rename")),
      title,
      h("button", { class: "plain" }, say("desk.keep")),
    ),
    h(
      "form",
      {
        class: "desk-inline",
        onsubmit(event) {
          event.preventDefault();
          shownPlaces = null;
          desk.act("places", { places: Number(places.value.trim() || Number.NaN) });
        },
      },
      h("label", { class: "label", for: "places" }, say("desk.places")),
      places,
      h("button", { class: "plain" }, say("desk.keep")),
    ),
    h(
      "p",
      { class: "desk-inline" },
      h("label", { class: "label", for: "house" }, say("desk.house")),
      house,
      h("label", { class: "label", for: "profile" }, say("desk.profile")),
      profile,
    ),
    h(
      "p",
      { class: "desk-verbs" },
      verb("desk.code_new", () => desk.act("code")),
      verb("desk.board_revoke", () => desk.act("board/revoke")),
      h("a", { href: `/desk/records/${desk.base.split("/").at(-1)}` }, say("desk.records_this")),
      twice("desk.end", "desk.end_sure", () => desk.act("end")),
    ),
  );
  return (period) => {
    if (period.house) house.value = period.house;
    if (period.profile) profile.value = period.profile;
    if (period.places && period.places !== shownPlaces) places.value = shownPlaces = period.places;
  };
}

function verb(key, act) {
  return h("button", { type: "button", class: "plain", onclick: act }, say(key));
}

/** A verb that can't be taken back asks once more, in its own place, before it acts. */
export function twice(key, sure, act) {
  let clock = 0;
  const button = h(
    "button",
    {
      type: "button",
      class: "plain",
      onclick() {
        if (button.dataset.sure) {
          clearTimeout(clock);
          delete button.dataset.sure;
          write(button, say(key));
          act();
          return;
        }
        button.dataset.sure = "1";
        write(button, say(sure));
        clock = setTimeout(() => {
          delete button.dataset.sure;
          write(button, say(key));
        }, 6000);
      },
    },
    say(key),
  );
  return button;
}
