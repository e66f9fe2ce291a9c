"""From a class's mistakes to groups, and in one click to a ready set and its key (J-10)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from html import unescape
from typing import Any

import pytest

from app import create_app
from app.practice.misconceptions import KNOWN, note
from tests.reading import in_english
from tests.web.conftest import Clock, Room, set_up

note = in_english(note)

PACK = "proving-lines-parallel"
# The names of the five pairs, read off the floor plan by the definitions (Hall and Stevens 1903, parallel lines).
PAIRS = {"3,6": "alternate interior", "2,6": "corresponding", "1,8": "alternate exterior",
         "4,6": "consecutive interior", "2,8": "consecutive exterior"}  # fmt: skip


@pytest.fixture(scope="module")
def shipped(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    app = create_app({"TESTING": True, "DATA_DIR": str(tmp_path_factory.mktemp("data")), "CLOCK": Clock()})
    yield Room(app, app.config["CLOCK"], set_up(app))
    app.extensions["eight_angles"].close()


def hand_in(seat: Any, names: dict[str, str]) -> Any:
    body = {"id": "reply-reteach", "task": "pairs-upright", "reply": {"names": names}}
    answer = seat.post("/seat/reply", body)
    assert answer.status_code == 200, answer.data
    return answer.json["verdict"]


def test_groups_by_mistake_and_a_set_in_one_click(shipped: Room) -> None:
    period = shipped.period(pack=PACK)
    code = shipped.open_door(period)
    swapped = {**PAIRS, "3,6": "corresponding"}
    for number, names in (("1", swapped), ("2", swapped), ("3", PAIRS)):
        assert hand_in(shipped.seat(code, number=number), names)["ok"] == (names == PAIRS)

    page = unescape(shipped.teacher.page(f"/desk/records/{period}").get_data(as_text=True))
    part = page.split('id="reteach"')[1].split("</ul>")[0]
    assert part.count("<li") == 1 and note("wrong-pair-name") in part
    assert "With 1, 2" in part and not re.search(r"With [^<]*3", part)
    # The mistake is told by its sentence in the table too, not by its id.
    assert "wrong pair name" not in page
    links = re.findall(r'href="(/desk/sheets/set/[^"]+)"', part)
    assert links == ["/desk/sheets/set/wrong-pair-name", "/desk/sheets/set/wrong-pair-name?key=1"]
    sheet, key = (shipped.teacher.page(link) for link in links)
    assert sheet.status_code == key.status_code == 200
    assert len(re.findall(r'class="question[ "]', sheet.get_data(as_text=True))) == 5
    assert sheet.data != key.data


def test_a_class_without_mistakes_has_no_groups(shipped: Room) -> None:
    period = shipped.period(pack=PACK)
    code = shipped.open_door(period)
    hand_in(shipped.seat(code, number="1"), PAIRS)
    assert 'id="reteach"' not in shipped.teacher.page(f"/desk/records/{period}").get_data(as_text=True)


@pytest.mark.parametrize("mistake", KNOWN)
def test_every_mistake_has_its_set(shipped: Room, mistake: str) -> None:
    page = shipped.teacher.page(f"/desk/sheets/set/{mistake}")
    assert page.status_code == 200 and note(mistake)[:30] in unescape(page.get_data(as_text=True))


def test_the_desk_leads_to_the_sheets(shipped: Room) -> None:
    assert 'href="/desk/sheets/"' in shipped.teacher.page("/desk/").get_data(as_text=True)


def test_a_class_that_constructs_by_eye_gets_constructions(shipped: Room) -> None:
    """Each mistake of a construction is a group of its own; its set has room to construct, its key the steps."""
    from app.practice.making import MAKING

    period = shipped.period(pack=PACK)
    seat = shipped.seat(shipped.open_door(period), number="4")
    start = seat.page("/seat/task/copy-an-angle").json["task"]["start"]
    # A copy of the angle drawn through a free point: right to the eye, and nothing holds it there.
    p, v, q, a, b = (
        complex(*(float(Fraction(str(c))) for c in start["points"][name])) for name in (*start["angle"], *start["ray"])
    )
    turned = (b - a) * (q - v) / (p - v)
    by_eye = a + turned / abs(turned) * 1.5
    moves = [
        {"op": "point", "name": "X", "at": [round(by_eye.real, 3), round(by_eye.imag, 3)]},
        {"op": "ray", "name": "r", "through": [start["ray"][0], "X"]},
    ]
    answer = seat.post(
        "/seat/reply", {"id": "reply-by-eye", "task": "copy-an-angle", "reply": {"moves": moves, "result": "r"}}
    )
    assert answer.status_code == 200, answer.data
    assert answer.json["verdict"]["misconception"] == "placed-by-eye", answer.json

    page = unescape(shipped.teacher.page(f"/desk/records/{period}").get_data(as_text=True))
    part = page.split('id="reteach"')[1].split("</ul>")[0]
    assert note("placed-by-eye") in part and "With 4" in part and "/desk/sheets/set/placed-by-eye" in part
    for mistake in MAKING:
        sheet = shipped.teacher.page(f"/desk/sheets/set/{mistake}")
        key = shipped.teacher.page(f"/desk/sheets/set/{mistake}?key=1")
        assert sheet.status_code == key.status_code == 200
        assert (
            sheet.get_data(as_text=True).count('class="space"') == 3
            and key.get_data(as_text=True).count('class="strip"') == 3
        )
    assert shipped.teacher.page("/desk/sheets/set/nothing-of-ours").status_code == 404
