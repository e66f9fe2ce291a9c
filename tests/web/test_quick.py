"""The calculators' short way says the same as the long way through Flask, byte for byte and header for header."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from app.web.arrived import Arrived
from app.web.quick import PLACES, Quick
from app.web.security import Stamped

FIGURE = {
    "lines": {
        "l": {"direction": 10, "through": [0, 3]},
        "m": {"direction": 12, "through": [0, -3]},
        "t": {"direction": 70, "through": [0, 0]},
    },
    "number": "standard",
    "transversal": "t",
}
START = {
    "points": {"A": [0, 0], "B": [4, 0]},
    "objects": {},
    "segment": ["A", "B"],
}
GOOD: list[tuple[str, dict[str, Any]]] = [
    ("/api/figure/pairs", {"figure": FIGURE, "angles": ["3", "6"]}),
    ("/api/figure/words", {"figure": FIGURE, "given": ["∠3 ≅ ∠6"]}),
    ("/api/figure/read", {"figure": FIGURE}),
    ("/api/figure/picture", {"figure": FIGURE, "theme": "board"}),
    ("/api/reasoning/follows", {"figure": FIGURE, "given": ["∠3 ≅ ∠6"], "claim": "l ∥ m"}),
    ("/api/reasoning/prove", {"figure": FIGURE, "given": ["∠3 ≅ ∠6"], "goal": "∠1 ≅ ∠5"}),
    (
        "/api/reasoning/check",
        {
            "figure": FIGURE,
            "given": ["∠3 ≅ ∠6"],
            "goal": "l ∥ m",
            "rows": [{"statement": "∠3 ≅ ∠6", "reason": "given"}, {"statement": "l ∥ m", "reason": "vertical-angles"}],
        },
    ),
]
ODD: list[tuple[str, bytes]] = [
    ("/api/figure/pairs", b""),
    ("/api/figure/pairs", b"[]"),
    ("/api/figure/pairs", b'{"figure": NaN}'),
    ("/api/figure/pairs", b"{" * 900),
    ("/api/figure/pairs", b'{"a": "\\ud800"}'),
    ("/api/figure/pairs", b'{"a":' * 60 + b"1" + b"}" * 60),
    ("/api/figure/pairs", b" " * 70_000),
    ("/api/figure/pairs", json.dumps({"figure": FIGURE, "angles": ["3", "9"]}).encode()),
    ("/api/reasoning/check", json.dumps({"figure": FIGURE, "goal": "x =", "rows": []}).encode()),
    ("/api/construction/check", json.dumps({"task": "copy an angle", "start": START, "moves": []}).encode()),
]


@pytest.fixture
def both(make_app: Callable[..., Flask]) -> tuple[FlaskClient, FlaskClient]:
    """(with the short way, without it)."""
    quick, plain = make_app(), make_app()
    assert isinstance(quick.wsgi_app, Stamped) and isinstance(quick.wsgi_app.inner.inner.inner, Arrived)
    assert isinstance(quick.wsgi_app.inner.inner.inner.inner, Quick)
    plain.wsgi_app = Stamped(plain.wsgi_app.inner.inner.inner.inner.inner, hosted=False)  # type: ignore[method-assign,union-attr]
    return quick.test_client(), plain.test_client()


def told(client: FlaskClient, path: str, data: bytes, **more: Any) -> tuple[int, list[tuple[str, str]], bytes]:
    answer = client.post(path, data=data, content_type="application/json", **more)
    return answer.status_code, sorted(answer.headers), answer.get_data()


@pytest.mark.parametrize("taken", ["", "gzip", "br, gzip"])
@pytest.mark.parametrize("path,body", GOOD, ids=[path for path, _ in GOOD])
def test_answers_are_those_of_the_long_way(
    both: tuple[FlaskClient, FlaskClient], path: str, body: dict[str, Any], taken: str
) -> None:
    data = json.dumps(body).encode()
    headers = {"Accept-Encoding": taken} if taken else {}
    for _ in range(2):  # the second time from among the answers given lately
        one, other = (told(client, path, data, headers=headers) for client in both)
        assert one == other
        assert one[0] == 200


@pytest.mark.parametrize("path,data", ODD, ids=[str(n) for n in range(len(ODD))])
def test_what_is_no_answer_takes_the_long_way(both: tuple[FlaskClient, FlaskClient], path: str, data: bytes) -> None:
    one, other = (told(client, path, data) for client in both)
    assert one == other
    assert one[0] in (413, 422)
    assert json.loads(one[2])["error"]["message"]


def test_every_place_of_the_short_way_is_a_route(make_app: Callable[..., Flask]) -> None:
    app = make_app()
    adapter = app.url_map.bind("localhost")
    for path in PLACES:
        assert adapter.match(path, method="POST")


def test_a_mistake_of_ours_is_told_once_and_plainly(
    make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    import app.web.quick as quick
    from app.web import api

    def broken(_body: dict[str, Any]) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(quick, "core", lambda layer, name: broken)
    monkeypatch.setattr(api, "core", lambda layer, name: broken)
    client = make_app(TESTING=False).test_client()
    answer = client.post("/api/figure/pairs", json={})
    assert answer.status_code == 500
    assert answer.get_json()["error"]["message"]
    assert caplog.text.count("mistake in POST") == 1
