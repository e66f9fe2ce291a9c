"""README shows the program: its pictures are there, small, made by one command, and told in words (WCAG 2.2 SC 1.1.1)."""

from __future__ import annotations

import re

from PIL import Image

from tests.pictures import FOLDER, MOST, PICTURES, ROOT

SHOWN = re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", (ROOT / "README.md").read_text(encoding="utf-8"))


def test_every_picture_is_shown_once_and_no_other() -> None:
    assert sorted(path for _, path in SHOWN) == sorted(f"static/pictures/{name}.png" for name in PICTURES)
    assert sorted(path.stem for path in FOLDER.iterdir()) == sorted(PICTURES)


def test_each_is_told_in_words() -> None:
    assert len(SHOWN) == 6
    for words, path in SHOWN:
        assert (
            len(words.split()) >= 15
            and words.endswith(".")
            and not re.match(r"(?i)(an? )?(image|picture|screenshot)", words)
        ), path
    assert len({words for words, _ in SHOWN}) == len(SHOWN)


def test_they_are_small_and_not_blank() -> None:
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) <= MOST
    for path in FOLDER.iterdir():
        with Image.open(path) as image:
            assert image.format == "PNG" and image.width == 1000, path.name
            assert len(image.convert("RGB").getcolors(1 << 20)) > 8, path.name
