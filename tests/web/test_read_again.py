"""A reply is kept as what was said, not as how: it is read again in another language, and in other names. What was kept
as finished sentences, before there were messages, is shown as it was kept.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy import text

from app import create_app
from app.store import replies
from tests.web.conftest import Clock, Room, set_up

PACK = "proving-lines-parallel"
TASK = "pairs-upright"
SWAPPED = {"3,6": "corresponding", "2,6": "corresponding", "1,8": "alternate exterior", "4,6": "consecutive interior",
           "2,8": "consecutive exterior"}  # fmt: skip
# As the program of 2026-11-27 kept it.
OLD = json.loads(
    """{"ok":false,"done":false,"code":"misnamed","text":"4 of 5 pairs are named right. \\u22203 and \\u22206 share transversal t,
 both are inside, on opposite sides. For corresponding angles they would have to be one inside and one outside, on the
 same side.","parts":[{"field":"3,6","ok":false,"text":"\\u22203 and \\u22206 share transversal t, both are inside."}],
 "score":0.8,"skills":{"name-pairs":false},"misconception":"wrong-pair-name","figure":null,"marks":null,"more":{}}""".replace(
        "\n", ""
    )
)


@pytest.fixture(scope="module")
def shipped(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    app = create_app({"TESTING": True, "DATA_DIR": str(tmp_path_factory.mktemp("data")), "CLOCK": Clock()})
    yield Room(app, app.config["CLOCK"], set_up(app))
    app.extensions["eight_angles"].close()


def hand_in(seat: Any) -> Any:
    answer = seat.post("/seat/reply", {"id": "reply-read-again", "task": TASK, "reply": {"names": SWAPPED}})
    assert answer.status_code == 200, answer.data
    return answer.json["verdict"]


def last(seat: Any) -> Any:
    return seat.get(f"/seat/task/{TASK}").json["last"]


def test_a_reply_is_read_again_in_another_language(shipped: Room) -> None:
    period = shipped.period(pack=PACK)
    seat = shipped.seat(shipped.open_door(period), number="1")
    english = hand_in(seat)
    assert english["text"].startswith("4 of 5 pairs are named right.")
    assert last(seat) == english

    seat.form("/language", language="es", back="/seat/")
    spanish = last(seat)
    assert {name: spanish[name] for name in ("ok", "code", "score", "misconception")} == {
        name: english[name] for name in ("ok", "code", "score", "misconception")
    }
    assert "ángulos correspondientes" in spanish["text"]
    assert "alternate" not in json.dumps(spanish) and "corresponding angles" not in json.dumps(spanish)
    # The Desk reads the same reply in its own language.
    shown = shipped.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["last"]["text"]
    assert shown == english["text"]


def test_a_reply_is_read_again_in_the_names_of_another_book(shipped: Room) -> None:
    period = shipped.period(pack=PACK)
    seat = shipped.seat(shipped.open_door(period), number="2")
    hand_in(seat)
    shipped.teacher.post(f"/desk/period/{period}/words", {"house": "us-same-side"})
    assert "same-side interior angles" in json.dumps(last(seat)["parts"])


def test_what_was_kept_as_sentences_is_shown_as_it_was_kept(shipped: Room) -> None:
    period = shipped.period(pack=PACK)
    seat = shipped.seat(shipped.open_door(period), number="3")
    hand_in(seat)
    # Put back into the rows what the earlier program wrote there.
    shipped.server.store.write(
        lambda c: c.execute(
            text(
                "UPDATE reply SET verdict = :v WHERE id = 'reply-read-again' AND seat_id IN (SELECT id FROM seat WHERE period_id = :p)"
            ),
            {"v": replies.pack_json(OLD), "p": period},
        )
    )
    shipped.server.store.write(
        lambda c: c.execute(
            text("UPDATE standing SET text = :t WHERE seat_id IN (SELECT id FROM seat WHERE period_id = :p)"),
            {"t": OLD["text"], "p": period},
        )
    )
    assert last(seat) == OLD
    seat.form("/language", language="es", back="/seat/")
    assert last(seat) == OLD
    assert shipped.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["last"]["text"] == OLD["text"]
