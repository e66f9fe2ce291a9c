// The ruled book: a real table of statement, reason and from; one tbody a row, with its note and its tools under it.
import { h, set, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { createReason } from "./combobox.js";
import { said } from "../words/statement.js";

const SYMBOLS = [
  ["∠", "angle"],
  ["m∠", "measure"],
  [" ≅ ", "congruent"],
  [" = ", "equals"],
  [" + ", "plus"],
  [" - ", "minus"],
  [" ∥ ", "parallel"],
  [" ∦ ", "not_parallel"],
  [" ⊥ ", "perpendicular"],
  [" and ", "and"],
  [" are supplementary", "supplementary"],
];

/** What a key of the strip writes: its sign, or its words in the page's language. */
function worded(text, name) {
  if (name === "and") return ` ${say("prove.symbol_and")} `;
  return name === "supplementary" ? ` ${say("prove.supplementary")}` : text;
}

/**
 * options: reasons, support, apart, onchange(at, {statement|reason}), onfrom(at, n), onfocus(at), onadd(at), ontool(at, name), onother(at).
 * → {element, paint(rows, notes), focus(at, field), caret(), insert(text), active()}
 */
export function createBook(options) {
  // ∦ is wanted seldom: where the task speaks of it.
  const symbols = SYMBOLS.filter(([, name]) => name !== "not_parallel" || options.apart);
  const head = h(
    "thead",
    {},
    h(
      "tr",
      {},
      h("th", { scope: "col", class: "book-n" }, h("span", { class: "words" }, say("prove.row"))),
      h("th", { scope: "col" }, say("prove.statement")),
      h("th", { scope: "col" }, say("prove.reason")),
      options.support === "order"
        ? h("th", { scope: "col", class: "book-from" }, h("span", { class: "words" }, say("prove.tools")))
        : h("th", { scope: "col", class: "book-from" }, say("prove.from")),
    ),
  );
  const table = h(
    "table",
    { class: "book prove-book", "data-support": options.support },
    h("caption", { class: "words" }, say("prove.caption")),
    head,
  );
  const bodies = [];
  let rows = [];
  let active = -1;
  let frozen = false;
  let made = 0;

  const wide = 4;

  function makeBody(at) {
    const number = h("th", { scope: "row", class: "book-n" });
    const statement = h("input", {
      class: "statement-field",
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      autocapitalize: "none",
      maxlength: 200,
      placeholder: say("prove.blank"),
    });
    const fixedStatement = h("span", { class: "statement-fixed" });
    const fixedReason = h("span", { class: "reason-fixed" });
    const body = h("tbody", {});
    const one = { body, number, statement, fixedStatement, fixedReason, at, last: 0 };
    one.reason = createReason({
      reasons: options.reasons,
      value: "",
      label: "",
      onchange: (value) => options.onchange(one.at, { reason: value }),
      onfocus: () => activate(one.at),
    });
    statement.addEventListener("input", () => options.onchange(one.at, { statement: statement.value }, true));
    statement.addEventListener("change", () => options.onchange(one.at, { statement: statement.value }));
    statement.addEventListener("focus", () => activate(one.at));
    for (const kind of ["select", "keyup", "click", "input"])
      statement.addEventListener(kind, () => (one.caret = statement.selectionStart));
    statement.addEventListener("keydown", (event) => {
      if (event.key === "Enter") {
        event.preventDefault();
        one.reason.input.focus();
      }
    });
    one.from = h("button", {
      type: "button",
      class: "from-button",
      "aria-expanded": "false",
      onclick: () => openFrom(one),
    });
    one.fromList = h("div", { class: "from-list", role: "group", hidden: true });
    one.moves = h(
      "span",
      { class: "move-buttons" },
      h("button", { type: "button", class: "plain move", onclick: () => options.ontool(one.at, "up") }, "↑"),
      h("button", { type: "button", class: "plain move", onclick: () => options.ontool(one.at, "down") }, "↓"),
    );
    one.cells = [
      h("td", { class: "book-statement" }),
      h("td", { class: "book-reason" }),
      h("td", { class: "book-from" }),
    ];
    one.told = h("div", { id: `row-note-${(made += 1)}`, class: "note-told" });
    one.note = h("tr", { class: "book-note", hidden: true }, h("td", {}), h("td", { colspan: wide - 1 }, one.told));
    one.tools = h("tr", { class: "book-tools", hidden: true }, h("td", {}), h("td", { colspan: wide - 1 }));
    // The note stands right under its row, before the keys: what is read comes before what is pressed.
    body.append(h("tr", {}, number, ...one.cells), one.note, one.tools);
    return one;
  }

  function activate(at) {
    if (active === at || frozen) return;
    active = at;
    bodies.forEach((one, i) => {
      set(one.body, { "data-active": i === at ? "true" : null });
      one.tools.hidden = !(i === at && toolsFor(i));
      if (i !== at) closeFrom(one);
    });
    if (bodies[at] && toolsFor(at)) fillTools(bodies[at]);
    options.onfocus(at);
  }

  const toolsFor = (at) => rows[at] && !rows[at].fixed.statement && options.support !== "order";

  function fillTools(one) {
    const cell = one.tools.children[1];
    if (cell.childElementCount) return;
    const strip = h(
      "div",
      { class: "symbol-strip", role: "toolbar", "aria-label": say("prove.symbols") },
      ...symbols.map(([text, name], i) =>
        h(
          "button",
          {
            type: "button",
            class: "symbol statement",
            "aria-label": say(`prove.symbol_${name}`),
            tabindex: i ? -1 : 0,
            onpointerdown: (event) => event.preventDefault(),
            onclick: () => insert(worded(text, name)),
          },
          worded(text, name).trim(),
        ),
      ),
    );
    roving(strip);
    const tools =
      options.support === "blank"
        ? h(
            "span",
            { class: "row-tools" },
            ...["insert", "up", "down", "remove"].map((name) =>
              h(
                "button",
                { type: "button", class: "plain", onclick: () => options.ontool(one.at, name) },
                say(`prove.${name}`),
              ),
            ),
          )
        : null;
    cell.append(...[strip, tools].filter(Boolean));
  }

  /** One Tab stop for the strip, arrows inside (APG toolbar). */
  function roving(bar) {
    bar.addEventListener("keydown", (event) => {
      const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      const items = [...bar.children];
      const to =
        event.key === "Home"
          ? 0
          : event.key === "End"
            ? items.length - 1
            : step
              ? (items.indexOf(document.activeElement) + step + items.length) % items.length
              : -1;
      if (to < 0) return;
      event.preventDefault();
      items.forEach((item, i) => (item.tabIndex = i === to ? 0 : -1));
      items[to].focus();
    });
  }

  /** Text goes in at the caret of the row in hand. */
  function insert(text) {
    const one = bodies[active];
    if (!one || rows[active].fixed.statement || frozen) return;
    const field = one.statement;
    const caret = one.caret ?? field.value.length;
    const before = field.value.slice(0, caret);
    const put = /\s$/.test(before) || !before ? text.trimStart() : text;
    write2(one, before + put + field.value.slice(caret), (before + put).length);
  }

  function write2(one, text, caret) {
    one.statement.value = text;
    one.caret = caret;
    one.statement.focus();
    one.statement.setSelectionRange(caret, caret);
    options.onchange(one.at, { statement: text });
  }

  function openFrom(one) {
    activate(one.at);
    const open = one.fromList.hidden;
    set(one.from, { "aria-expanded": `${open}` });
    one.fromList.hidden = !open;
    paintFrom(one);
    if (open) one.fromList.querySelector("button")?.focus();
  }

  function closeFrom(one) {
    one.fromList.hidden = true;
    set(one.from, { "aria-expanded": "false" });
  }

  function paintFrom(one) {
    const row = rows[one.at];
    const list = row.from?.join(", ") ?? "";
    write(one.from, list || "–");
    set(one.from, {
      "aria-label": say("prove.row_from", { row: one.at + 1, rows: list || say("prove.row_from_none") }),
      disabled: frozen || one.at === 0,
    });
    if (one.fromList.hidden) return;
    const buttons = new Map([...one.fromList.children].map((button) => [Number(button.dataset.n), button]));
    for (let n = 1; n <= one.at; n += 1) {
      let button = buttons.get(n);
      if (!button) {
        button = h(
          "button",
          {
            type: "button",
            class: "from-pick",
            "data-n": n,
            "aria-label": say("prove.from_pick", { n }),
            onclick: () => options.onfrom(one.at, n),
          },
          `${n}`,
        );
        one.fromList.append(button);
      }
      buttons.delete(n);
      set(button, { "aria-pressed": `${Boolean(row.from?.includes(n))}` });
    }
    for (const gone of buttons.values()) gone.remove();
  }

  function paintRow(one, row, note) {
    const n = one.at + 1;
    write(one.number, `${n}`);
    const [statement, reason, from] = one.cells;
    place(statement, row.fixed.statement ? one.fixedStatement : one.statement);
    place(reason, row.fixed.reason ? one.fixedReason : one.reason.element);
    if (row.fixed.statement) write(one.fixedStatement, said(row.statement));
    else if (one.statement.value !== row.statement) one.statement.value = row.statement;
    if (row.fixed.reason) write(one.fixedReason, options.reasons.find((r) => r.id === row.reason)?.name ?? row.reason);
    else if (document.activeElement !== one.reason.input) one.reason.set(row.reason);
    set(one.statement, { "aria-label": say("prove.row_statement", { row: n }), disabled: frozen });
    set(one.reason.input, { "aria-label": say("prove.row_reason", { row: n }) });
    one.reason.disable(frozen);
    if (options.support === "order") {
      place(from, one.moves);
      const [up, down] = one.moves.children;
      // At the end of its way an arrow rests but can hold the focus: who moves a row twice stays on it.
      set(up, {
        "aria-label": say("prove.up_row", { row: n }),
        disabled: frozen,
        "aria-disabled": n === 1 ? "true" : null,
      });
      set(down, {
        "aria-label": say("prove.down_row", { row: n }),
        disabled: frozen,
        "aria-disabled": n === rows.length ? "true" : null,
      });
    } else if (options.support === "worked" || (row.fixed.statement && row.fixed.reason && row.reason === "given")) {
      from.replaceChildren(row.from?.join(", ") ?? "");
    } else {
      if (one.from.parentElement !== from) from.replaceChildren(one.from, one.fromList);
      paintFrom(one);
    }
    paintNote(one, note);
  }

  function place(cell, element) {
    if (cell.firstChild !== element || cell.childNodes.length > 1) cell.replaceChildren(element);
  }

  function paintNote(one, note) {
    const shown = note && note.verdict && !(note.verdict === "follows" && note.quiet);
    one.note.hidden = !shown;
    set(one.body, { "data-verdict": shown ? note.verdict : null });
    const wrong = shown && note.verdict !== "follows";
    const cell = one.told;
    const blame = wrong ? blamed(rows[one.at], note) : [];
    // Each field of the row says that it is amiss, and where that is told; the note is a stop of its own as long as it asks for something.
    set(one.statement, {
      "aria-invalid": blame.includes("statement") ? "true" : null,
      "aria-describedby": shown ? cell.id : null,
    });
    set(one.reason.input, {
      "aria-invalid": blame.includes("reason") ? "true" : null,
      "aria-describedby": shown ? cell.id : null,
    });
    set(one.from, { "aria-describedby": shown ? cell.id : null });
    set(cell, { tabindex: wrong ? "0" : null, role: wrong ? "note" : null, "aria-labelledby": wrong ? cell.id : null });
    if (!shown) return cell.replaceChildren();
    const good = note.verdict === "follows";
    const parts = [
      h("span", { class: "note-mark", "aria-hidden": "true" }, good ? "✓" : "✗"),
      h("strong", {}, say(`prove.verdict_${note.verdict}`)),
      ` ${note.note ?? ""}`,
    ];
    // What was said already stays as it is: made anew, it would lose the focus.
    const key = JSON.stringify([note.verdict, note.note, Boolean(note.counterexample?.figure)]);
    if (cell.firstChild && one.said === key) return undefined;
    one.said = key;
    if (note.counterexample?.figure)
      parts.push(
        " ",
        h(
          "button",
          { type: "button", class: "plain note-other", onclick: () => options.onother(one.at) },
          say("prove.other_open"),
        ),
      );
    return cell.replaceChildren(...parts);
  }

  /** Which fields of a row its note speaks of: what can't be read, the reason where another would do, else both. */
  function blamed(row, note) {
    const free = ["statement", "reason"].filter((name) => !row.fixed[name]);
    const unread = note.verdict === "unreadable" && !note.undecided;
    const meant = unread
      ? note.statement === undefined
        ? "statement"
        : "reason"
      : ["other reason", "wrong way round"].includes(note.verdict)
        ? "reason"
        : null;
    return free.includes(meant) ? [meant] : free;
  }

  return {
    element: table,
    /** Bring the table up to these rows and notes (by place). */
    paint(now, notes, shown = now.length) {
      rows = now;
      while (bodies.length < now.length) {
        const one = makeBody(bodies.length);
        bodies.push(one);
        table.append(one.body);
      }
      while (bodies.length > now.length) bodies.pop().body.remove();
      bodies.forEach((one, i) => {
        one.at = i;
        one.body.hidden = i >= shown;
        paintRow(one, rows[i], notes[i]);
      });
      if (active >= rows.length) active = -1;
    },
    focus(at, field = "statement") {
      const one = bodies[at];
      if (!one) return;
      if (field === "up" || field === "down") one.moves.children[field === "up" ? 0 : 1].focus();
      else if (field === "reason" && !rows[at].fixed.reason) one.reason.input.focus();
      else if (!rows[at].fixed.statement) one.statement.focus();
      else if (!rows[at].fixed.reason) one.reason.input.focus();
    },
    /** The row in hand: {at, text, caret}, or null where its statement can't be written in. */
    hand() {
      const at =
        active >= 0 && !rows[active]?.fixed.statement
          ? active
          : rows.findIndex((row) => !row.fixed.statement && !row.statement);
      if (at < 0) return null;
      const one = bodies[at];
      return { at, text: one.statement.value, caret: one.caret ?? one.statement.value.length };
    },
    write(at, text, caret) {
      activate(at);
      write2(bodies[at], text, caret);
    },
    /** Bring a row and its note into view, moving as little as may be. */
    show(at) {
      const one = bodies[at];
      if (!one) return;
      const seen = one.note.hidden ? one.body.rows[0] : one.note;
      seen.scrollIntoView({ block: "nearest" });
      one.body.rows[0].scrollIntoView({ block: "nearest" });
    },
    setFrozen(on) {
      frozen = on;
      this.paint(
        rows,
        bodies.map(() => null),
      );
    },
    again: () => active,
  };
}
