// The room: each place with the student's own small figure, name or number, task, and a word when stuck. As a plan, or as a list to sort.
import { say } from "../words/say.js";
import { h, inStep, set, write } from "../ui/elements.js";
import { twice } from "./door.js";
import { count, label, sorted, tasks } from "./readings.js";
import { draw, stamp } from "./small.js";
import { asked } from "./stages.js";

const COLUMNS = ["place", "task", "done", "stuck"];

export function mount(host, desk) {
  const view = { list: false, column: "place", down: false };
  const started = new Map(); // task id → the figure it starts with, null until that is known
  const numbers = h("p", { class: "room-numbers" });
  const asPlan = h(
    "button",
    { type: "button", class: "plain", "aria-pressed": "true", onclick: () => turn(false) },
    say("desk.as_plan"),
  );
  const asList = h(
    "button",
    { type: "button", class: "plain", "aria-pressed": "false", onclick: () => turn(true) },
    say("desk.as_list"),
  );
  const row = h("input", {
    class: "field room-row",
    id: "room-row",
    inputmode: "numeric",
    maxlength: 2,
    autocomplete: "off",
    value: 7,
    onchange: (event) => inRow(event.target),
  });
  const nods = h("ul", { class: "nods", "aria-label": say("desk.nods") });
  const plan = h("ol", { class: "room", "aria-label": say("desk.room") });
  const body = h("tbody");
  const heads = COLUMNS.map((column) =>
    h(
      "th",
      { scope: "col" },
      h("button", { type: "button", class: "sort", onclick: () => sort(column) }, say(`desk.col_${column}`)),
    ),
  );
  const table = h(
    "table",
    { class: "desk-table room-list", hidden: true },
    h("caption", { class: "words" }, say("desk.room")),
    h("thead", {}, h("tr", {}, heads)),
    body,
  );
  const one = h("section", { class: "seat-lines", "aria-labelledby": "seat-name", hidden: true });
  const rows = h("span", { class: "room-rows" }, h("label", { for: "room-row" }, say("desk.in_row")), " ", row);
  const left = h("span", { role: "status" });
  const again = h(
    "button",
    { type: "button", class: "plain", hidden: true, onclick: () => desk.act("release") },
    say("desk.left_again"),
  );
  const empty = h("p", { class: "room-empty" }, say("desk.room_empty"));
  host.append(
    h("div", { class: "room-head" }, numbers, h("span", { class: "toolbar" }, asPlan, asList), rows),
    nods,
    h("p", { class: "room-left" }, left, " ", again),
    empty,
    plan,
    table,
    one,
  );

  function turn(toList) {
    view.list = toList;
    asPlan.setAttribute("aria-pressed", `${!toList}`);
    asList.setAttribute("aria-pressed", `${toList}`);
    update(desk.state);
  }

  function sort(column) {
    view.down = view.column === column ? !view.down : false;
    view.column = column;
    update(desk.state);
  }

  function inRow(field) {
    const n = Math.min(12, Math.max(2, Number.parseInt(field.value, 10) || 7));
    field.value = `${n}`;
    plan.style.setProperty("--in-row", `${n}`);
  }

  function update(state) {
    const order = new Map(tasks(state.parts ?? []).map((task, i) => [task.id, { i, title: task.title }]));
    const seats = (state.seats ?? [])
      .filter((seat) => !seat.removed)
      .map((seat) => ({ ...seat, order: order.get(seat.here)?.i, title: order.get(seat.here)?.title ?? "" }));
    const room = count(seats);
    write(
      numbers,
      [
        say("desk.n_here", { here: room.here, all: room.all }),
        room.stuck && say("desk.n_stuck", { n: room.stuck }),
        room.pending && say("desk.n_pending", { n: room.pending }),
      ]
        .filter(Boolean)
        .join(" · "),
    );
    empty.hidden = room.all > 0;
    write(empty, say((state.period?.open ?? state.period?.code) ? "desk.room_open" : "desk.room_empty"));
    // Nobody comes back to these by name or number until the teacher says so: after another day, all of them.
    write(left, state.left ? say("desk.left", { n: state.left }) : "");
    again.hidden = !state.left;
    inStep(
      nods,
      seats.filter((seat) => seat.pending),
      (seat) => seat.sid,
      makeNod,
      (line, seat) => write(line.firstElementChild, seat.typed ?? seat.name),
    );
    nods.hidden = !nods.childElementCount;
    plan.hidden = view.list || !room.all;
    table.hidden = !view.list || !room.all;
    rows.hidden = view.list || !room.all;
    if (!view.list) inStep(plan, sorted(seats, "place"), (seat) => seat.sid, makePlace, updatePlace);
    else list(seats);
    lines(seats.find((seat) => seat.sid === desk.seat));
  }

  // A name that waits for a nod is shown here only: nowhere else until then.
  function makeNod(seat) {
    return h(
      "li",
      {},
      h("span", { class: "nod-name" }),
      " ",
      h(
        "button",
        { type: "button", class: "action", onclick: () => desk.act(`seat/${seat.sid}/approve`) },
        say("desk.nod"),
      ),
      " ",
      h(
        "button",
        { type: "button", class: "plain", onclick: () => desk.act(`seat/${seat.sid}/hide`) },
        say("desk.no_nod"),
      ),
    );
  }

  function makePlace(seat) {
    return h(
      "li",
      {},
      h(
        "button",
        { type: "button", class: "place", "aria-pressed": "false", onclick: () => choose(seat.sid) },
        stamp(),
        h("span", { class: "place-name" }),
        h("span", { class: "place-word" }),
      ),
    );
  }

  function updatePlace(item, seat) {
    const button = item.firstElementChild;
    const [svg, name, now] = button.children;
    draw(svg, figureOf(seat));
    write(name, label(seat));
    // One line of words: how it goes where that needs a look, else the task.
    write(now, word(seat) || seat.title);
    now.title = now.textContent; // one line has room for its beginning
    button.classList.toggle("place-away", !seat.online);
    button.classList.toggle("place-waits", Boolean(seat.stuck));
    button.setAttribute("aria-pressed", `${seat.sid === desk.seat}`);
  }

  /** The student's own figure; before anything has been moved, the task's. */
  function figureOf(seat) {
    if (seat.figure || !seat.here) return seat.figure;
    if (!started.has(seat.here)) {
      started.set(seat.here, null);
      desk.detail(seat.here).then(
        (told) => {
          started.set(seat.here, asked(told.public ?? told.task).figure ?? null);
          if (desk.sheet === "room") update(desk.state);
        },
        () => started.delete(seat.here),
      );
    }
    return started.get(seat.here);
  }

  function word(seat) {
    if (seat.stuck) return seat.stuck;
    if (!seat.online) return say("desk.away");
    if (!seat.begun) return say("desk.not_begun");
    return seat.total && seat.done >= seat.total ? say("desk.all_done") : "";
  }

  function list(seats) {
    heads.forEach((head, i) =>
      set(head, { "aria-sort": COLUMNS[i] === view.column ? (view.down ? "descending" : "ascending") : null }),
    );
    inStep(body, sorted(seats, view.column, view.down), (seat) => seat.sid, makeRow, updateRow);
  }

  function makeRow(seat) {
    return h(
      "tr",
      {},
      h(
        "th",
        { scope: "row" },
        stamp(),
        h("button", { type: "button", class: "plain", onclick: () => choose(seat.sid) }),
      ),
      h("td"),
      h("td", { class: "number" }),
      h("td"),
    );
  }

  function updateRow(line, seat) {
    const [place, task, done, stuck] = line.children;
    draw(place.firstElementChild, figureOf(seat));
    write(place.lastElementChild, label(seat));
    write(task, seat.title);
    write(done, say("desk.of", { done: seat.done ?? 0, all: seat.total ?? 0 }));
    write(stuck, word(seat));
    stuck.className = seat.stuck ? "place-stuck" : "";
  }

  function choose(sid) {
    desk.seat = desk.seat === sid ? null : sid;
    update(desk.state);
    if (desk.seat) one.scrollIntoView({ block: "nearest" });
  }

  // The lines about one seat. Made anew only when another seat is chosen, so that the focus stays where it is.
  function lines(seat) {
    one.hidden = !seat;
    if (!seat) {
      delete one.dataset.sid;
      return;
    }
    if (one.dataset.sid !== seat.sid) {
      one.dataset.sid = seat.sid;
      const act = (what) => () => desk.act(`seat/${seat.sid}/${what}`);
      const verb = (key, what) => h("button", { type: "button", class: "plain", onclick: act(what) }, say(key));
      const link = h("output", { class: "seat-link" });
      one.replaceChildren(
        h("h3", { id: "seat-name" }),
        h("p", { class: "seat-now" }),
        h("p", { class: "seat-last statement" }),
        h(
          "p",
          { class: "desk-verbs" },
          verb("desk.seat_hide", "hide"),
          h(
            "button",
            {
              type: "button",
              class: "plain",
              async onclick() {
                const answer = await desk.act(`seat/${seat.sid}/link`, {}, "GET");
                if (answer?.link)
                  link.textContent = say("desk.seat_link_is", { link: new URL(answer.link, location.href).href });
              },
            },
            say("desk.seat_link"),
          ),
          verb("desk.seat_release", "release"),
          h("a", { href: `${desk.base}/seat/${seat.sid}/record` }, say("desk.seat_record")),
          twice("desk.seat_remove", "desk.seat_remove_sure", act("remove")),
        ),
        link,
      );
    }
    const [name, now, last] = /** @type {HTMLElement[]} */ ([...one.children]);
    write(name, label(seat));
    write(
      now,
      [seat.title, say("desk.of_tasks", { done: seat.done ?? 0, all: seat.total ?? 0 }), word(seat)]
        .filter(Boolean)
        .join(" · "),
    );
    write(last, seat.last?.text ?? "");
    last.hidden = !seat.last?.text;
  }

  inRow(row);
  return { update };
}
