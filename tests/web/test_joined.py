"""What a page brings in few requests: its sheets and its catalogues as one file each, its scripts without comments and named at once."""

from __future__ import annotations

import gzip
import json
import re
import shutil
import subprocess
from pathlib import Path

import brotli
import pytest

from app.web import gathered, static
from tests.need import need
from tests.web.conftest import Room

ROOT = Path(__file__).resolve().parents[2]
FIRST_KIND = "explore"  # of the pack `small`
SCRIPTS = sorted((ROOT / "static").rglob("*.js"))


@pytest.mark.parametrize("name", sorted(static.SHEETS.values()))
def test_joined_sheets_are_the_sheets_one_after_the_other(room: Room, name: str) -> None:
    told = room.browser().get(f"/static/{name}")
    whole = [(ROOT / "static/css" / f"{one}.css").read_text("utf-8") for one in Path(name).stem.split("+")]
    assert told.status_code == 200
    assert told.get_data(as_text=True).split() == "\n".join(whole).split()


@pytest.mark.parametrize(
    "name", ["css/base+tokens.css", "css/tokens+base+nothing.css", "css/base+../../pyproject.css", "seat/path+menus.js"]
)
def test_nothing_else_is_joined(room: Room, name: str) -> None:
    """Each joined file is packed and kept: strangers choose none."""
    assert room.browser().get(f"/static/{name}").status_code == 404


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("page", sorted(static.WORDS))
def test_joined_catalogues_have_every_word(room: Room, tmp_path: Path, page: str, language: str) -> None:
    """Read by Node, as a browser would."""
    node = need(shutil.which("node"), "Node")
    told = room.browser().get(f"/static/{static.words_of(page, language)}").get_data(as_text=True)
    (tmp_path / "joined.mjs").write_text(told, "utf-8")
    areas = static.WORDS[page].split("+")
    alone = ", ".join(
        f"(await import({json.dumps(str(ROOT / 'static/words' / language / f'{area}.js'))})).default" for area in areas
    )
    (tmp_path / "look.mjs").write_text(
        'import joined from "./joined.mjs";\nimport { isDeepStrictEqual } from "node:util";\n'
        f"const alone = [{alone}];\n"
        + (
            f"const found = Object.values(joined);\nconst names = {json.dumps(areas)};\n"
            if len(areas) > 1
            else "const found = [joined], names = null;\n"
        )
        + "if (names && !isDeepStrictEqual(Object.keys(joined), names)) throw new Error('other areas');\n"
        "if (!isDeepStrictEqual(found, alone)) throw new Error('other words');\n",
        "utf-8",
    )
    said = subprocess.run([node, "look.mjs"], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert said.returncode == 0, said.stderr


def test_scripts_lose_their_comments_and_nothing_else() -> None:
    """Both texts as tokens of JavaScript, by the parser that the linter brings (ECMA-262's grammar)."""
    folder = ROOT / "tests/static/node_modules"
    need((folder / "acorn").is_dir() or None, "the packages of tests/static")
    node = need(shutil.which("node"), "Node")
    pairs = [
        [str(path.relative_to(ROOT)), path.read_text("utf-8"), static.bare(path.read_text("utf-8"))] for path in SCRIPTS
    ]
    look = """
      import { tokenizer } from "acorn";
      import { readFileSync } from "node:fs";
      const read = (text) => [...tokenizer(text, { ecmaVersion: "latest", sourceType: "module", locations: true })].map(
        (token) => `${token.loc.start.line} ${token.type.label} ${text.slice(token.start, token.end)}`);
      for (const [name, whole, bare] of JSON.parse(readFileSync(0, "utf-8"))) {
        if (read(whole).join("\\n") !== read(bare).join("\\n")) throw new Error(name);
      }
    """
    said = subprocess.run(
        [node, "--input-type=module", "-e", look],
        input=json.dumps(pairs),
        cwd=ROOT / "tests/static",
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert said.returncode == 0, said.stderr
    assert sum(len(bare) for _, _, bare in pairs) < 0.95 * sum(len(whole) for _, whole, _ in pairs)


def test_every_file_comes_as_its_head_says_that_it_is_packed(room: Room) -> None:
    """Also a script that is short without its comments. Unpacked by brotli and zlib themselves (RFC 7932, RFC 1952)."""
    browser = room.browser()
    names = [path.relative_to(ROOT / "static").as_posix() for path in SCRIPTS]
    assert any(len(static.bare((ROOT / "static" / name).read_text("utf-8"))) < static.SMALL for name in names)
    for name in [*names, *static.SHEETS.values(), "gathered/seat.js"]:
        plain = browser.get(f"/static/{name}").get_data()
        for accepted, unpack in (("br", brotli.decompress), ("gzip", gzip.decompress)):
            told = browser.get(f"/static/{name}", **{"Accept-Encoding": accepted})
            packed = told.headers.get("Content-Encoding")
            assert packed in (accepted, None), name
            assert (unpack(told.get_data()) if packed else told.get_data()) == plain, name


@pytest.mark.parametrize(
    "name", ["css/base.css", "words/en/seat+live+figure+angles.js", "gathered/seat/tasks/prove.js", "gathered/seat.js"]
)
def test_other_spellings_of_a_name_are_not_kept_beside_it(
    room: Room, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Each file that is kept costs memory and the time to pack it: nobody may make more of them by asking in other words."""
    kept: dict[tuple[str, str], bytes] = {}
    monkeypatch.setattr(static, "_kept", kept)
    browser, (folder, _, last) = room.browser(), name.rpartition("/")
    assert browser.get(f"/static/{name}", **{"Accept-Encoding": "br"}).status_code == 200
    for n in range(1, 20):
        browser.get(f"/static/{folder}/{'./' * n}{last}", **{"Accept-Encoding": "br"})
        browser.get(f"/static/{'./' * n}{name}", **{"Accept-Encoding": "br"})
        browser.get(f"/static/-{n}/{name}", **{"Accept-Encoding": "br"})
    assert len(kept) == 1, list(kept)


def heads(room: Room) -> tuple[list[str], list[str]]:
    """(the scripts of the Seat's page, what it has fetched beside them)."""
    page = room.seat(room.open_door(room.period())).page("/seat/").get_data(as_text=True)
    plain = re.sub(r"/static/-\w+/", "", page)
    return re.findall(r'<script type="module" src="([^"]+)"', plain), re.findall(
        r'rel="modulepreload" href="([^"]+)"', plain
    )


def test_a_page_of_the_lesson_has_one_script_and_fetches_its_task_with_it(room: Room) -> None:
    scripts, beside = heads(room)
    assert scripts == ["gathered/seat.js"]
    assert beside == ["words/en/seat+live+figure+angles.js", f"gathered/seat/tasks/{FIRST_KIND}.js"]


def test_with_debug_every_script_stays_a_file_and_is_named_in_the_head(room: Room) -> None:
    """Against the imports as a browser follows them: by the specifier of each (ECMA-262, HTML's module map)."""
    room.app.config["SCRIPTS_APART"] = True
    scripts, named = heads(room)
    assert scripts == ["seat/seat.js"]
    todo, needed = ["seat/seat.js"], set[str]()
    while todo:
        name = todo.pop()
        if name in needed:
            continue
        needed.add(name)
        folder = (ROOT / "static" / name).parent
        for line in (ROOT / "static" / name).read_text("utf-8").split(";"):
            if found := re.search(r'\bfrom\s+"(\.[^"]+)"$', line.strip()):
                todo.append((folder / found[1]).resolve().relative_to(ROOT / "static").as_posix())
    assert len(needed) > 10
    assert needed <= set(named), needed - set(named)
    assert len(named) == len(set(named))


# ── scripts gathered ──
MADE = {
    "a/main.js": """
import { add as sum, Box, late, limits } from "../b/parts.js";
import { LATER } from "./again.js";
import "./aside.js";

const kept = "a name of its own";
const text = `import("nothing") ${kept}`;
await null;
export const total = sum(1, 2);
export function box() {
  return new Box(total).held + limits.most;
}
export async function later(kind) {
  return (await import(`../b/${kind}.js`)).answer + (await late());
}
globalThis.said = [text.length > 3, total, box(), await later("other"), LATER, globalThis.aside, new URL("x", import.meta.url).pathname.endsWith("/a/x")];
""",
    "a/again.js": 'export { answer as LATER } from "../b/other.js";\n',
    "a/aside.js": "globalThis.aside = (globalThis.aside ?? 0) + 1;\n",
    "b/parts.js": """
const limits = { most: 5 };
export { limits };
export function add(a, b) {
  return a + b;
}
export class Box {
  constructor(held) {
    this.held = held;
  }
}
export async function late() {
  return 0.5;
}
""",
    "b/other.js": "globalThis.times = (globalThis.times ?? 0) + 1;\nexport const answer = 40 + globalThis.times;\n",
}


def test_gathered_modules_do_what_they_do_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same modules in Node, as files and gathered: the same values, and each has run once."""
    node = need(shutil.which("node"), "Node")
    monkeypatch.setattr(gathered, "PAGES", {"page": (("a/main.js",), ("b",))})
    for name in ["gathered/page.js", "gathered/page/b/other.js"]:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(gathered.text(name, MADE.__getitem__), "utf-8")
    for name, text in MADE.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "package.json").write_text('{"type": "module"}', "utf-8")
    said = []
    for name in ("a/main.js", "gathered/page.js"):
        look = f'await import("./{name}"); console.log(JSON.stringify([globalThis.said, globalThis.times, globalThis.aside]))'
        (tmp_path / "look.js").write_text(look, "utf-8")
        ran = subprocess.run([node, "look.js"], cwd=tmp_path, capture_output=True, text=True, timeout=60)
        assert ran.returncode == 0, ran.stderr
        said.append(json.loads(ran.stdout))
    assert said[0] == [[True, 3, 8, 41.5, 41, 1, True], 1, 1]
    assert said[1] == said[0]


def test_a_module_in_two_files_that_come_at_once_runs_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A student who goes on twice while a task is still being fetched."""
    node = need(shutil.which("node"), "Node")
    monkeypatch.setattr(gathered, "PAGES", {"page": (("a/main.js",), ("b",))})
    made = {
        "a/main.js": "export const begun = true;\n",
        "c/shared.js": "await new Promise((done) => setTimeout(done, 20));\nglobalThis.times = (globalThis.times ?? 0) + 1;\nexport const held = {};\n",
        "b/one.js": 'import { held } from "../c/shared.js";\nexport const mine = held;\n',
        "b/two.js": 'import { held } from "../c/shared.js";\nexport const mine = held;\n',
    }
    for name in ["gathered/page.js", "gathered/page/b/one.js", "gathered/page/b/two.js"]:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(gathered.text(name, made.__getitem__), "utf-8")
    (tmp_path / "package.json").write_text('{"type": "module"}', "utf-8")
    (tmp_path / "look.js").write_text(
        'await import("./gathered/page.js");\n'
        'await Promise.all([import("./gathered/page/b/one.js"), import("./gathered/page/b/two.js")]);\n'
        "const { eightAnglesModules: kept, times } = globalThis;\n"
        'console.log(times, kept["b/one.js"].mine === kept["b/two.js"].mine);\n',
        "utf-8",
    )
    ran = subprocess.run([node, "look.js"], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert (ran.stdout, ran.stderr) == ("1 true\n", "")


def test_all_is_packed_before_a_class_comes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Also where nothing is left of what would come later, because the page has it already."""
    kept: dict[tuple[str, str], bytes] = {}
    monkeypatch.setattr(static, "_kept", kept)
    static.warm()
    packed = {name for name, _ in kept}
    assert {"gathered/seat.js", "gathered/seat/tasks/prove.js", str(static.FOLDER / "door/front.js")} <= packed
    assert {" ".join(map(str, static.parts(name))) for name in static.SHEETS.values()} <= packed
    assert str(static.FOLDER / "seat/seat.js") not in packed, "no page but that of --debug asks for it"
    assert all(kept.values())


def test_what_comes_later_leaves_out_what_is_there() -> None:
    names = gathered.names("gathered/seat/tasks/prove.js", static._script)
    begun = gathered.names("gathered/seat.js", static._script)
    assert names[-1] == "tasks/prove.js" and len(names) > 3
    assert not set(names) & set(begun)
    assert len(begun) == len(set(begun)) > 30


@pytest.mark.parametrize("name", gathered.entries(static.FOLDER))
def test_every_gathered_file_has_each_module_once_and_after_what_it_names(name: str) -> None:
    page = name.split("/")[1].removesuffix(".js")
    there = [] if name.count("/") == 1 else gathered.names(f"gathered/{page}.js", static._script)
    for one in gathered.names(name, static._script):
        for other in gathered.imports((static.FOLDER / one).read_text("utf-8")):
            assert gathered.resolved(one, other) in there, (one, other)
        assert one not in there
        there.append(one)
    assert 'import "' not in (text := gathered.text(name, static._script)) and " from " + '"' not in text


@pytest.mark.parametrize(
    "name",
    [
        "gathered/seat/words/say.js",
        "gathered/seat/tasks/../seat/seat.js",
        "gathered/nobody.js",
        "gathered/seat/.js",
        "gathered/seat/tasks/none.js",
        "gathered/seat",
    ],
)
def test_only_what_a_page_may_ask_for_is_gathered(room: Room, name: str) -> None:
    assert room.browser().get(f"/static/{name}").status_code == 404


def test_scripts_use_only_the_forms_that_are_read() -> None:
    """Every import and export of ours, found by its first word, is one that `gathered.py` knows; and nothing exports what changes."""
    for path in SCRIPTS:
        if path.parent.parent.name == "words":
            continue  # a catalogue is one object
        text = static.bare(path.read_text("utf-8"))
        known = (
            len(gathered.IMPORT.findall(text)) + len(gathered.AGAIN.findall(text)) + len(gathered.EXPORT.findall(text))
        )
        assert known == len(re.findall(r"^(?:import|export)\b", text, re.MULTILINE)), path
        assert not re.search(r"\$(kept|begun|bring|root)\b", text), path
        assert len(re.findall(r"\bimport\(", text)) == len(
            re.findall(r"await import\(|^ +import\(", text, re.MULTILINE)
        ), path
