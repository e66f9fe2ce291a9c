"""What a page brings in few requests: its sheets and its catalogues as one file each, its scripts without comments and named at once."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from app.web import static
from tests.need import need
from tests.web.conftest import Room

ROOT = Path(__file__).resolve().parents[2]
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


def test_every_script_that_a_page_needs_is_named_in_its_head(room: Room) -> None:
    """Against the imports as a browser follows them: by the specifier of each (ECMA-262, HTML's module map)."""
    page = room.seat(room.open_door(room.period())).page("/seat/").get_data(as_text=True)
    named = [re.sub(r"^/static/-\w+/", "", one) for one in re.findall(r'rel="modulepreload" href="([^"]+)"', page)]
    todo, needed = ["seat/seat.js"], set()
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
