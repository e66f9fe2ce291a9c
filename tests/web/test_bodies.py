"""Bodies are read by their classes: what can't be used is one sentence that names the field, in the reader's language.

What each field refuses is held against the kinds of value that JSON has (RFC 8259, section 3), not against our classes.
"""

from __future__ import annotations

from dataclasses import MISSING, fields, is_dataclass
from typing import Any, get_type_hints

import pytest

from app.classroom.kinds import KINDS, kind_module
from app.web import bodies
from app.web.body import read_body, said_of
from app.web.errors import Refused
from app.words import Reader, reading

SHAPES = [
    one
    for one in vars(bodies).values()
    if isinstance(one, type) and is_dataclass(one) and one.__module__ == bodies.__name__
]
# One value of each kind that JSON has; a whole number and a fraction are two to us.
VALUES: dict[str, object] = {"text": "x", "flag": True, "whole": 1, "number": 1.5, "list": [], "object": {}}
FITS = {
    "n": "whole",
    "places": "whole",
    "on": "flag",
    "open": "flag",
    "given": "list",
    "order": "list",
    "parts": "list",
    "reply": "object",
}
OPEN = {
    ("Work", "work"),
    ("Work", "figure"),
    ("Staged", "stage"),
    ("Staged", "to"),
    ("Own", "figure"),
    ("Own", "title"),
}


def good(shape: type, **other: object) -> dict[str, object]:
    """A body of that shape with nothing left out that has to be there, but for `other`."""
    needed = [one.name for one in fields(shape) if one.default is MISSING and one.default_factory is MISSING]
    return {name: VALUES[FITS.get(name, "text")] for name in needed} | other


@pytest.mark.parametrize("shape", SHAPES, ids=lambda one: one.__name__)
def test_a_field_takes_its_own_kind_of_value_and_no_other(shape: type) -> None:
    assert fields(shape)
    for one in fields(shape):
        if (shape.__name__, one.name) in OPEN:
            continue
        for kind, value in VALUES.items():
            sent = good(shape, **{one.name: value})
            if kind == FITS.get(one.name, "text"):
                assert getattr(read_body(shape, sent), one.name) == value
                continue
            with pytest.raises(Refused) as refused:
                read_body(shape, sent)
            assert (refused.value.status, refused.value.where) == (422, one.name), (sent, refused.value.where)
            said = said_of(shape, one.name)
            texts = []
            for language in ("en", "es"):
                with reading(Reader(language, "us")):
                    texts.append(refused.value.sentence())
            assert refused.value.code == said.code
            assert texts[0] != texts[1]
            assert "pydantic" not in texts[0].casefold()


@pytest.mark.parametrize("shape", SHAPES, ids=lambda one: one.__name__)
def test_a_missing_field_is_named_and_null_is_a_missing_one(shape: type) -> None:
    for name in good(shape):
        for sent in ({k: v for k, v in good(shape).items() if k != name}, good(shape, **{name: None})):
            with pytest.raises(Refused) as refused:
                read_body(shape, sent)
            assert refused.value.where == name


@pytest.mark.parametrize(("shape", "name", "inside", "outside"), [
    (bodies.Sent, "id", ["x", "x" * 64], ["", "x" * 65]),
    (bodies.Here, "task", ["x", "x" * 60], ["", "x" * 61]),
    (bodies.Work, "n", [0, 2**53 - 1], [-1, 2**53, 10**400]),
    (bodies.Places, "places", [1], [0, -1, 10**6]),
    (bodies.Words, "house", ["x", "x" * 20], ["", "x" * 21]),
    (bodies.Own, "given", [[], ["l ∥ m"] * 16], [["l ∥ m"] * 17, [1], [[]], [None]]),
    (bodies.Arranged, "order", [[], ["a"]], [[1], [None], [{}]]),
    (bodies.Arranged, "parts", [[{}], [{"id": "a"}]], [[1], ["a"], [[]]]),
])  # fmt: skip
def test_bounds(shape: type, name: str, inside: list[object], outside: list[object]) -> None:
    for value in inside:
        assert getattr(read_body(shape, good(shape, **{name: value})), name) == value
    for value in outside:
        with pytest.raises(Refused) as refused:
            read_body(shape, good(shape, **{name: value}))
        assert refused.value.where == name


def test_no_field_is_untyped() -> None:
    for shape in SHAPES:
        for name, hint in get_type_hints(shape, include_extras=True).items():
            assert hint is not Any, (shape, name)
            assert (hint is object) == ((shape.__name__, name) in OPEN), (shape, name)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_says_what_may_be_asked(kind: str) -> None:
    module = kind_module(kind)
    assert hasattr(module, "ask") or not module.ASKS
