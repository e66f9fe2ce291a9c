"""Sessions end when they should (V-02): idle, at most, on leaving, at the end of the class."""

from __future__ import annotations

from app.store import people, periods, seats
from app.store.people import HOUR, MINUTE
from app.store.store import Store
from tests.store.test_keeping import NOW, fill, teacher


def test_a_desk_rests_an_hour_and_lasts_twelve(store: Store) -> None:
    owner = teacher(store)
    token = store.write(lambda c: people.open_desk(c, owner, NOW))

    def there(at: int) -> bool:
        return store.read(lambda c: people.find_session(c, "desk", token, at)) is not None

    assert there(NOW + 59 * MINUTE) and not there(NOW + 61 * MINUTE)
    for step in range(1, 13):  # used every 59 minutes
        at = NOW + step * 59 * MINUTE
        found = store.read(lambda c, at=at: people.find_session(c, "desk", token, at))
        assert found is not None
        store.write(lambda c, at=at, found=found: people.touch(c, found["token_hash"], at))
    assert not there(NOW + 12 * HOUR + 1)


def test_a_seat_token_opens_no_desk(store: Store) -> None:
    _, seat = fill(store, teacher(store), "x")
    token = store.write(lambda c: people.open_seat(c, seat, NOW))

    assert store.read(lambda c: people.find_session(c, "seat", token, NOW)) is not None
    assert store.read(lambda c: people.find_session(c, "desk", token, NOW)) is None


def test_the_end_of_the_class_ends_every_seat(store: Store) -> None:
    period, seat = fill(store, teacher(store), "x")
    token = store.write(lambda c: people.open_seat(c, seat, NOW))
    store.write(lambda c: periods.end(c, period, NOW))

    assert store.read(lambda c: people.find_seat(c, token, NOW)) is None
    store.write(lambda c: periods.change(c, period, ended=None))  # taken up again: the browser has its seat
    assert store.read(lambda c: people.find_seat(c, token, NOW)) is not None
    assert store.read(lambda c: seats.find(c, seat)) is not None  # the work is kept


def test_a_new_passphrase_ends_the_old_sessions(store: Store) -> None:
    owner = teacher(store)
    token = store.write(lambda c: people.open_desk(c, owner, NOW))
    link = store.write(lambda c: people.put_invite(c, "teacher", NOW))
    assert store.write(lambda c: people.use_invite(c, link, "other", NOW)) == owner

    assert store.read(lambda c: people.find_session(c, "desk", token, NOW)) is None
    assert store.write(lambda c: people.use_invite(c, link, "again", NOW)) is None  # good once


def test_a_code_is_one_periods_and_twelve_hours_old_at_most(store: Store) -> None:
    owner = teacher(store)
    one, _ = fill(store, owner, "a")
    two, _ = fill(store, owner, "b")
    assert store.write(lambda c: periods.open_door(c, one, ["ABCDEF"], NOW)) == "ABCDEF"
    assert store.write(lambda c: periods.open_door(c, two, ["ABCDEF", "GHJKMN"], NOW)) == "GHJKMN"
    assert store.write(lambda c: periods.open_door(c, two, ["ABCDEF"], NOW)) is None

    def found(at: int) -> str | None:
        row = store.read(lambda c: periods.by_code(c, "ABCDEF", at))
        return row and row["id"]

    assert found(NOW + 12 * HOUR - 1) == one
    assert found(NOW + 12 * HOUR + 1) is None
    # A code that has run out is free for another door.
    assert store.write(lambda c: periods.open_door(c, two, ["ABCDEF"], NOW + 13 * HOUR)) == "ABCDEF"


def test_a_server_started_twice_before_its_set_up_keeps_both_links_until_one_is_used(store: Store) -> None:
    first, second = (store.write(lambda c: people.put_invite(c, "teacher", NOW, beside=True)) for _ in range(2))
    assert store.read(lambda c: people.find_invite(c, first, NOW)) and store.read(
        lambda c: people.find_invite(c, second, NOW)
    )
    assert store.write(lambda c: people.use_invite(c, first, "hash", NOW))
    assert store.read(lambda c: people.find_invite(c, second, NOW)) is None
    # A link that a teacher asks for by the command replaces the one before.
    third, fourth = (store.write(lambda c: people.put_invite(c, "teacher", NOW)) for _ in range(2))
    assert store.read(lambda c: people.find_invite(c, third, NOW)) is None
    assert store.read(lambda c: people.find_invite(c, fourth, NOW))
