"""What is in sight: for every task of every pack and every family of exercises, in four states, on three screens.

    python -m tests.in_sight                 all of it, as a table
    python -m tests.in_sight --pack twelve-proofs
    python -m tests.in_sight --only exit-reason --pictures DIR
    python -m tests.in_sight --language es   as a browser set to Spanish shows it: longer words

A state is reached as a student's page reaches it: work that was kept is put back by the page itself, and the page's own main
button hands it in. Right answers come from the judge's own keys. What a task needs is *in sight* when its box lies in the
window, and a pointer at its middle meets it. Where it does not, there must be a *cue*: the fold "More below" at the foot of
the card, which brings it by one press; or, where the page scrolls as one (a phone), the arrow in the bar with the main
button and the verdict, which are always in view: it brings what lies under the bar.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from app.classroom.kinds import kind_module
from app.classroom.kinds.solve import item_of
from app.classroom.verdict import Context
from app.lessons.load import load_pack
from app.practice.families import LEVELS
from app.words.house import house
from app.words.message import Message
from app.words.rendering import reader_of, render
from tests.browser.drawn import drawn

ROOT = Path(__file__).resolve().parents[1]
LAPTOP, SMALL, PHONE = (1366, 633), (1280, 585), (390, 844)
SIZES = {"laptop": LAPTOP, "small laptop": SMALL, "phone": PHONE}
HOUSE, LOCALE = {"en": "us", "es": "es"}, {"en": "en-US", "es": "es-MX"}
STATES = ("start", "half", "wrong", "right")
Task = dict[str, Any]

# Every thing that a task needs now, and where it is: "seen", "cue" (one press or swipe away, and said so), or "lost".
LOOK = r"""(phone) => {
  const shown = e => e.checkVisibility({visibilityProperty: true}) && e.getClientRects().length > 0;
  const read = document.querySelector('.seat-read'), cue = document.getElementById('more');
  const foot = document.querySelector('.seat-foot');
  const meets = e => { const b = e.getBoundingClientRect(); return e.contains(document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2)); };
  const cued = shown(cue) && meets(cue);
  const where = e => {
    const b = e.getBoundingClientRect();
    const x = Math.min(innerWidth - 1, Math.max(0, b.left + Math.min(b.width / 2, 40))), y = b.top + b.height / 2;
    const inside = b.top >= -1 && b.left >= -1 && b.bottom <= innerHeight + 1 && b.right <= innerWidth + 1;
    const hit = inside ? document.elementFromPoint(x, y) : null;
    if (hit && (e.contains(hit) || hit.contains(e) || e.labels?.[0]?.contains(hit))) return 'seen';
    if (read.contains(e) && !phone) return cued && b.bottom > read.getBoundingClientRect().bottom - 2 || read.scrollTop > 0 ? 'cue' : 'lost';
    // A page that scrolls as one: what lies under the bar comes by a swipe, or by the arrow in the bar, which says so.
    if (phone && !foot.contains(e) && cued) return b.top >= 0 || scrollY > 0 ? 'cue' : 'lost';
    return 'lost';
  };
  const all = (css, root = document) => [...root.querySelectorAll(css)].filter(shown);
  const open = e => !e.closest('details:not([open])') && !e.closest('.seat-menu') && !e.disabled;
  const found = [];
  const put = (name, list) => { for (const e of list) found.push([name, where(e)]); };
  const sheet = all('#paper .figure-sheet, #paper .c-sheet')[0];
  if (sheet) {
    const b = sheet.getBoundingClientRect();
    const high = Math.min(b.bottom, innerHeight) - Math.max(b.top, 0);
    found.push(['figure', b.width > 200 && b.height > (phone ? 190 : 210) && high >= b.height * 0.97 ? 'seen' : phone && scrollY > 0 ? 'cue' : 'lost']);
  }
  put('question', all('#title, #ask, #given').filter(e => e.textContent.trim()));
  put('question', all('#card .exercise-ask, #card .exercise-prompt, #card .justify-sentence'));
  put('field', all('#card input:not([type=hidden]), #card select, #card textarea, #card .pair').filter(open));
  put('tool', all('.c-instrument, .c-now, .figure-strip button').filter(open));
  put('main button', all('#hand .action').filter(open));
  const said = document.getElementById('verdict');
  if (said.textContent.trim()) put('verdict', [said]);
  put('why', all('.c-after .c-why, .c-after p, #paper .beside-caption').slice(0, 1));
  const beside = all('#paper .beside .figure-sheet')[0];
  if (beside) {
    const b = beside.getBoundingClientRect();
    found.push(['counterexample', b.width >= (phone ? 300 : 420) && b.height >= 160 && b.bottom <= innerHeight + 1 && beside.querySelector('[data-tone=fails]') ? 'seen' : phone && cued ? 'cue' : 'lost']);
  }
  return found;
}"""


@dataclass
class Row:
    """What was found for one task, state and screen."""

    pack: str
    task: str
    state: str
    size: str
    found: list[tuple[str, str]] = field(default_factory=list)

    @property
    def lost(self) -> list[str]:
        return sorted({name for name, where in self.found if where == "lost"})

    @property
    def by_cue(self) -> list[str]:
        return sorted({name for name, where in self.found if where == "cue"})


def write_families(folder: Path) -> str:
    """A pack with one task for each family and level, so that each can be opened by itself."""
    lines = [
        "format = 1",
        "[pack]",
        'title = "Every family"',
        'summary = "One item of each family and level."',
        "minutes = 90",
    ]
    for name, top in LEVELS.items():
        lines += [
            "[[parts]]",
            f'id = "{name}"',
            f'title = "{name}"',
            f"minutes = {2 * top}",
            'purpose = "practice"',
            "optional = true",
        ]
        for level in range(1, top + 1):
            kind = "connect" if name == "connect" else "solve"
            lines += ["[[parts.tasks]]", f'id = "{name}-{level}"', f'kind = "{kind}"', f'title = "{name} {level}"',
                      'ask = "One item of this family."', f'family = "{name}"', f"level = {level}"]  # fmt: skip
    (folder / "every-family").mkdir(parents=True)
    (folder / "every-family" / "pack.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return "every-family"


def tasks_of(folder: Path, pack: str, language: str = "en") -> list[Task]:
    read = load_pack(folder / pack, house=HOUSE[language], language=language)
    return [task.data for task in read.tasks()]


def works(task: Task, ctx: Context) -> dict[str, Any]:
    """state → the work that the page would have kept in it; None where a kind has no such state."""
    return {name: work for name, work in _MAKE[task["kind"]](task, ctx).items() if work is not None}


def _explore(task: Task, ctx: Context) -> dict[str, Any]:
    from app.figure.model import figure_from_json, figure_to_json
    from tests.browser.lesson.walk import reaching, turned_line

    figure = figure_to_json(figure_from_json(task["figure"]))
    there = figure
    if task["reach"]:
        line, to, _ = reaching(task)
        now = round(float(figure["lines"][line]["direction"]))
        there = figure_to_json(turned_line(figure, line, now + (to - now + 90) % 180 - 90))
    question = task.get("question")
    right = {"figure": there, **({"answer": question["answer"]} if question else {})}
    wrong = {"figure": figure, **({"answer": (question["answer"] + 1) % len(question["choices"])} if question else {})}
    return {"half": {"figure": there, "picked": sorted(figure["angles"])[:2]}, "wrong": wrong, "right": right}


def _classify(task: Task, ctx: Context) -> dict[str, Any]:
    key = kind_module("classify").key(task, ctx)["pairs"]
    if task["find"]:
        pairs = [row["angles"] for row in key][: task["count"]]
        names = sorted(task["figure"]["angles"]) if "angles" in task["figure"] else [n for pair in pairs for n in pair]
        wrong = [[a, b] for a in names for b in names if a < b and [a, b] not in pairs][: task["count"]]
        return {"half": {"found": pairs[:1]}, "wrong": {"found": wrong} if wrong else None, "right": {"found": pairs}}
    names = {",".join(row["angles"]): row["pair"] for row in key}
    lines = {",".join(row["angles"]): row["transversal"] for row in key}
    more = {"transversals": lines} if task["transversal"] else {}
    other = {pair: "none" if name != "none" else "vertical" for pair, name in names.items()}
    half = dict(list(names.items())[: max(1, len(names) // 2)])
    return {"half": {"names": half}, "wrong": {"names": other, **more}, "right": {"names": names, **more}}


def _justify(task: Task, ctx: Context) -> dict[str, Any]:
    key = kind_module("justify").key(task, ctx)
    figure = kind_module("justify").public(task, ctx)["figure"]
    a, b = sorted(figure["angles"])[:2]
    lines = sorted(figure["lines"])
    guess = {"a": a, "b": b, "pair": "vertical", "transversal": lines[-1], "relation": "congruent", "l": lines[0], "m": lines[1],
             "theorem": "vertical-angles"}  # fmt: skip
    if key["none"]:
        return {"half": {"values": {"a": a}}, "wrong": {"values": guess}, "right": None}
    one = key["accepted"][0]
    right = {"a": one["angles"][0], "b": one["angles"][1], "pair": one["pair"], "transversal": one["transversal"],
             "relation": one["relation"], "l": one["lines"][0], "m": one["lines"][1], "theorem": one["theorem"]}  # fmt: skip
    wrong = {**right, "theorem": right["theorem"].removesuffix("-converse")}
    return {
        "half": {"values": {k: right[k] for k in ("a", "b", "pair")}},
        "wrong": {"values": wrong},
        "right": {"values": right},
    }


def _prove(task: Task, ctx: Context) -> dict[str, Any]:
    rows = kind_module("prove").key(task, ctx)["rows"]
    if task["support"] == "worked" or rows is None:
        return {"half": None, "wrong": None, "right": None}
    support = task["support"]
    shown = [{"statement": row["statement"], "reason": row["reason"],
              "fixed": {"statement": row["reason"] == "given" or support == "reasons", "reason": row["reason"] == "given" or support == "statements"}}
             for row in rows]  # fmt: skip
    if support == "order":
        return {"half": None, "wrong": {}, "right": None}
    wrong = [dict(row) for row in shown]
    for row in wrong:
        if row["reason"] != "given":
            row["reason"] = "reflexive"
    half = [dict(row) for row in shown]
    half[-1] = {**half[-1], "reason": ""} if support == "reasons" else {**half[-1], "statement": "", "reason": ""}
    return {"half": {"rows": half}, "wrong": {"rows": wrong}, "right": {"rows": shown}}


def _construct(task: Task, ctx: Context) -> dict[str, Any]:
    key = kind_module("construct").key(task, ctx)
    moves = key["moves"]
    whole = {"moves": moves, "result": key["result"], "opening": None, "compass": key["compass"]}
    points = list(key["start"]["points"])
    eye = [{"op": "point", "name": "E", "at": [0.4, 1.9]}, {"op": "line", "name": "r", "through": [points[-1], "E"]}]
    if task["construction"] in ("copy an angle", "bisect an angle"):
        eye[1]["op"] = "ray"
    if task["construction"] == "copy a segment":
        eye = []
    wrong = {"moves": eye, "result": "r", "opening": None, "compass": key["compass"]} if eye else None
    return {"half": {**whole, "moves": moves[: len(moves) // 2], "result": None}, "wrong": wrong, "right": whole}


def _item(task: Task, ctx: Context) -> dict[str, Any]:
    made = item_of({**task, "family": task.get("family") or ("connect" if task["kind"] == "connect" else None)}, ctx)
    key = kind_module(task["kind"]).key(task, ctx)["key"]
    right, wrong, half = {}, {}, {}
    reader = reader_of(ctx.house.key)
    for f in made.fields:
        value = render(key[f.name], reader) if isinstance(key[f.name], Message) else key[f.name]
        if f.needless and key[f.needless[0]] == f.needless[1]:
            continue  # not asked where the other field says so
        right[f.name] = value
        if f.kind == "choice":
            at = [c.value for c in f.choices].index(value)
            other = f.choices[(at + 1) % len(f.choices)].value
            if f.sealed:
                value, other = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[at], "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[(at + 1) % len(f.choices)]
            right[f.name], wrong[f.name] = value, other
        elif f.kind == "number":
            right[f.name], wrong[f.name] = str(value), "1"
        elif f.kind == "order":
            wrong[f.name] = [row["label"] for row in made.rows]
        elif f.kind == "sentence":
            wrong[f.name] = str(value).replace(" not", "") + " not"
        else:
            return {"half": None, "wrong": None, "right": None}
        if not half:
            half = {f.name: right[f.name]}
    return {"half": {"answer": half}, "wrong": {"answer": wrong}, "right": {"answer": right}}


def _practice(task: Task, ctx: Context) -> dict[str, Any]:
    return {"half": None, "wrong": None, "right": None}


_MAKE = {
    "explore": _explore, "classify": _classify, "justify": _justify, "prove": _prove, "construct": _construct,
    "solve": _item, "connect": _item, "practice": _practice,
}  # fmt: skip


class Looker:
    """A page of somebody who works alone, brought from task to task and state to state."""

    def __init__(
        self,
        lesson: Any,
        pack: str,
        folder: Path,
        pictures: Path | None = None,
        size: tuple[int, int] = LAPTOP,
        language: str = "en",
        **more: Any,
    ) -> None:
        self.lesson, self.pack, self.pictures, self.language = lesson, pack, pictures, language
        self.page = lesson.page(size, locale=LOCALE[language], **more)
        self.page.goto(f"/alone/{pack}/")
        self.page.locator(".path-task").first.wait_for()
        self.n = 1_000
        self.ctx = self._context
        self.closed = False  # whether the task on show takes no more answers

    def _somebody_else(self) -> None:
        self.page.context.clear_cookies()
        self.page.goto(f"/alone/{self.pack}/")
        self.page.locator(".path-task").first.wait_for()

    def _context(self, task: Task) -> Context:
        """As the server makes it for this browser."""
        from app.store.ids import hashed
        from app.web.secret import Secret, load_secret

        token = next(c["value"] for c in self.page.context.cookies() if c["name"] == "ea-alone")
        seat = hashed(f"alone {self.pack} {token}")[:24]
        seed = Secret(load_secret(self.lesson.data)).seed("seed", seat, task["id"])
        return Context(
            seed=seed, house=house(HOUSE[self.language]), profile=str(task.get("profile") or "postulate"), history=[]
        )

    def rows(self, task: Task) -> Iterator[Row]:
        page = self.page
        kept = works(task, self.ctx(task))
        for state in STATES:
            if state == "right" and self.closed:
                # An exit task takes one answer: somebody else gives the right one.
                self._somebody_else()
                kept = works(task, self.ctx(task))
            if state != "start":
                if state not in kept:
                    continue
                self.n += 1_000
                body = {"n": self.n, "work": kept[state]}
                self.lesson.call(page, "PUT", f"/alone/{self.pack}/work/{task['id']}", body)
            page.set_viewport_size({"width": LAPTOP[0], "height": LAPTOP[1]})
            self._open(task)
            if state in ("wrong", "right"):
                self._hand_in(state)
            for name, (width, height) in SIZES.items():
                page.set_viewport_size({"width": width, "height": height})
                page.evaluate("() => { scrollTo(0, 0); document.querySelector('.seat-read').scrollTop = 0; }")
                page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
                if self.pictures:
                    page.screenshot(path=self.pictures / f"{task['id']}-{state}-{name.replace(' ', '-')}.png")
                found = [(str(a), str(b)) for a, b in page.evaluate(LOOK, name == "phone")]
                yield Row(self.pack, task["id"], state, name, found)

    def _open(self, task: Task) -> None:
        page = self.page
        page.goto("about:blank")
        page.goto(f"/alone/{self.pack}/#{task['id']}")
        expect(page.locator("#title")).to_have_text(task["title"])
        page.locator("#card > *").first.wait_for()
        expect(page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
        self.closed = False

    def _hand_in(self, state: str) -> None:
        page = self.page
        button = page.locator("#hand .action:not(.seat-onward):visible, #card .action:visible").first
        button.click()
        # What is handed in for good is told in plain ink.
        expect(
            page.locator(".seat:is([data-closed], :has(#verdict:is([data-tone=good], [data-tone=mend])))")
        ).to_have_count(1)
        expect(page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
        drawn(page)  # a counterexample comes in beside the figure
        self.closed = page.locator(".seat").get_attribute("data-frozen") == "true"


def look(
    lesson: Any, folder: Path, packs: list[str], only: str = "", pictures: Path | None = None, language: str = "en"
) -> Iterator[Row]:
    for pack in packs:
        looker = Looker(lesson, pack, folder, pictures, language=language)
        for task in tasks_of(folder, pack, language):
            if not only or task["id"] == only:
                yield from looker.rows(task)
        looker.page.context.close()


def folder_of_all(at: Path) -> tuple[Path, list[str]]:
    """A folder with the shipped packs and the one of families, and the packs' names."""
    for path in sorted((ROOT / "lesson_packs").iterdir()):
        if (path / "pack.toml").is_file():
            (at / path.name).symlink_to(path, target_is_directory=True)
    names = sorted(path.name for path in at.iterdir())
    return at, [*names, write_families(at)]


def main(words: list[str]) -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.in_sight", description=(__doc__ or "").split("\n")[0])
    asked.add_argument("--pack", default="")
    asked.add_argument("--only", default="", help="one task's id")
    asked.add_argument("--pictures", type=Path, help="folder for a picture of each")
    asked.add_argument("--language", choices=sorted(LOCALE), default="en")
    given = asked.parse_args(words)
    from playwright.sync_api import sync_playwright

    from tests.browser.conftest import browser_path, start

    if given.pictures:
        given.pictures.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as driver:
        at = Path(name)
        (at / "packs").mkdir()
        (at / "data").mkdir()
        folder, packs = folder_of_all(at / "packs")
        browser = driver.chromium.launch(executable_path=browser_path(), args=["--no-sandbox"])
        lesson = start(at / "data", browser, packs=folder)
        rows = []
        for row in look(
            lesson, folder, [given.pack] if given.pack else packs, given.only, given.pictures, given.language
        ):
            rows.append(row)
            tell(row)
        lesson.stop()
        browser.close()
    return report(rows)


def tell(row: Row) -> None:
    """Print what is not simply in sight."""
    if row.lost or row.by_cue:
        print(f"{row.pack:24} {row.task:28} {row.state:6} {row.size:13} "
              + (f"LOST {', '.join(row.lost)}  " if row.lost else "") + (f"by a cue: {', '.join(row.by_cue)}" if row.by_cue else ""), flush=True)  # fmt: skip


def report(rows: list[Row]) -> int:
    """Print the sums; 1 where something is lost."""
    for size in SIZES:
        mine = [row for row in rows if row.size == size]
        print(f"{size}: {len(mine)} states of {len({(r.pack, r.task) for r in mine})} tasks; all in sight in "
              f"{sum(not r.lost and not r.by_cue for r in mine)}, by a cue in {sum(bool(r.by_cue) and not r.lost for r in mine)}, "
              f"lost in {sum(bool(r.lost) for r in mine)}")  # fmt: skip
    return 1 if any(row.lost for row in rows) else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
