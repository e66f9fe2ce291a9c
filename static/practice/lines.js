// Lines of working, one under the other. The first line that does not follow from the one above is underlined, with the reason.

import { h, write } from "../ui/elements.js";
import { say } from "../words/say.js";
import { AnswerFault, readLine } from "./answers.js";

const MOST = 12;

/** {element, value() → [text], set([text]), mark(rows), setFrozen(on)}; `check` judges what stands there now. */
export function createLines({ changed, check, checks = true }) {
  const list = h("ol", { class: "working-lines" });
  const test = h(
    "button",
    { type: "button", class: "plain", hidden: !checks, onclick: () => check() },
    say("practice.check_lines"),
  );
  const more = h(
    "button",
    {
      type: "button",
      class: "plain",
      onclick: () => {
        add().input.focus();
        changed();
      },
    },
    say("practice.add_line"),
  );
  const element = h(
    "section",
    { class: "working" },
    h("h2", { class: "label" }, say("practice.working")),
    list,
    h("div", { class: "toolbar" }, more, test),
  );
  let rows = [];
  let frozen = false;

  function add(text = "") {
    const n = rows.length + 1;
    const note = h("p", { class: "working-note", id: `line-note-${n}-${Math.floor(performance.now())}` });
    const input = h("input", {
      class: "field statement working-input",
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      autocapitalize: "off",
      maxlength: 64,
      "aria-label": say("practice.line_n", { n }),
      "aria-describedby": note.id,
      oninput: () => {
        clear(row);
        changed();
      },
      onkeydown: (event) => onKey(event, row),
      onblur: () => read(row),
    });
    input.value = text;
    const row = {
      input,
      note,
      item: h("li", { class: "working-line" }, h("div", { class: "working-row" }, input), note),
    };
    rows.push(row);
    list.append(row.item);
    more.hidden = rows.length >= MOST;
    return row;
  }

  function onKey(event, row) {
    const at = rows.indexOf(row);
    if (event.key === "Enter") {
      event.preventDefault();
      const next = rows[at + 1] ?? (rows.length < MOST ? add() : null);
      next?.input.focus();
      changed();
    } else if (event.key === "Backspace" && !row.input.value && rows.length > 1 && at === rows.length - 1) {
      event.preventDefault();
      drop(row);
      rows.at(-1).input.focus();
      changed();
    }
  }

  function drop(row) {
    row.item.remove();
    rows = rows.filter((other) => other !== row);
    more.hidden = false;
  }

  function clear(row) {
    delete row.item.dataset.ok;
    row.input.setAttribute("aria-invalid", "false");
    write(row.note, "");
  }

  /** What can't be read is said when the line is left; whether it follows only when asked. */
  function read(row) {
    if (!row.input.value.trim() || row.item.dataset.ok) return;
    try {
      readLine(row.input.value);
      write(row.note, "");
    } catch (error) {
      if (!(error instanceof AnswerFault)) throw error;
      row.input.setAttribute("aria-invalid", "true");
      write(row.note, say(`practice.${error.code}`, error.fields));
    }
  }

  const filled = () => rows.filter((row) => row.input.value.trim());

  function mark(judged) {
    let named = false;
    filled().forEach((row, i) => {
      const said = judged?.[i];
      clear(row);
      if (!said || named) return;
      if (said.ok === null) {
        // Not judged: said beside it, and neither right nor wrong.
        read(row);
        write(row.note, said.text);
        return;
      }
      row.item.dataset.ok = said.ok;
      write(row.note, `${said.ok ? "✓" : "✗"} ${said.text}`);
      row.input.setAttribute("aria-invalid", said.ok ? "false" : "true");
      // One slip is enough to look at: the lines under it are left alone.
      named = !said.ok;
    });
  }

  for (let i = 0; i < 2; i += 1) add();
  return {
    element,
    value: () => filled().map((row) => row.input.value.trim()),
    set(texts) {
      for (const row of [...rows]) drop(row);
      for (const text of texts) add(text);
      while (rows.length < 2) add();
    },
    mark,
    setFrozen(on) {
      frozen = on;
      for (const row of rows) row.input.disabled = frozen;
      test.disabled = more.disabled = frozen;
    },
  };
}
