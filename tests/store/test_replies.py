"""Replies and work as kept: once, in order, with the standing in step (T-09)."""

from __future__ import annotations

from app.store import keeping, replies
from app.store.store import Store
from tests.store.test_keeping import NOW, VERDICT, fill, teacher

WRONG = {
    "ok": False,
    "done": False,
    "code": "wrong",
    "text": "Not yet.",
    "score": 0.25,
    "misconception": None,
}


def seat_of(store: Store) -> tuple[str, str]:
    return fill(store, teacher(store), "x")


def test_a_reply_is_one_row_however_often_it_comes(store: Store) -> None:
    _, seat = seat_of(store)
    for payload in ({"a": 1}, {"a": 2}):
        kept = store.write(lambda c, p=payload: replies.put_reply(c, seat, "again-0001", "second", 5, p, WRONG, NOW))
        assert (kept.verdict, kept.attempt) == (WRONG, 1)
    assert store.read(keeping.size)["reply"] == 2
    assert store.read(lambda c: replies.history(c, seat, "second")) == [{"reply": {"a": 1}, "verdict": WRONG}]


def test_the_standing_follows_the_replies(store: Store) -> None:
    period, seat = seat_of(store)
    for n, verdict in enumerate([WRONG, WRONG, WRONG, VERDICT, WRONG]):
        store.write(lambda c, n=n, v=verdict: replies.put_reply(c, seat, f"later-{n:04}", "second", 5, {}, v, NOW + n))
        row = store.read(lambda c: replies.stand_of(c, seat, "second"))
        assert row is not None
        assert row["replies"] == n + 1
        assert row["refused"] == [1, 2, 3, 0, 1][n]
        assert bool(row["done"]) == (n >= 3)  # once done, it stays done
        assert row["score"] == [0.25, 0.25, 0.25, 1.0, 1.0][n]
    assert {r["task"] for r in store.read(lambda c: replies.class_standings(c, period))} == {
        "first",
        "second",
    }


def test_one_id_for_two_seats_is_two_replies(store: Store) -> None:
    """The id is the student's own: somebody who copies it gets nothing of the other's."""
    owner = teacher(store)
    seats = [fill(store, owner, name)[1] for name in "ab"]
    for seat in seats:
        assert store.write(
            lambda c, s=seat: replies.put_reply(c, s, "same-id-1", "second", 5, {"s": s}, WRONG, NOW)
        ).new
    assert [store.read(lambda c, s=s: replies.history(c, s, "second"))[0]["reply"] for s in seats] == [
        {"s": s} for s in seats
    ]


def test_the_last_reply_of_each_seat(store: Store) -> None:
    period, seat = seat_of(store)
    for n in range(3):
        store.write(lambda c, n=n: replies.put_reply(c, seat, f"later-{n:04}", "second", 5, {"n": n}, WRONG, NOW + n))
    found = store.read(lambda c: replies.last_replies(c, period, "second"))
    assert [(row["payload"], row["attempt"]) for row in found] == [({"n": 2}, 3)]


def test_the_same_reply_from_eight_threads(store: Store) -> None:
    """Where transactions run side by side, one id is still one row, and attempts count up without a gap."""
    import threading

    _, seat = seat_of(store)
    answers: list[int] = []

    def send(k: int) -> None:
        for reply_id in ("shared-0001", f"own-00000{k}"):
            kept = store.write(lambda c, i=reply_id: replies.put_reply(c, seat, i, "second", 5, {}, WRONG, NOW))
            answers.append(kept.attempt)
        store.write(lambda c: replies.put_work(c, seat, "third", k, {}, None, NOW))

    threads = [threading.Thread(target=send, args=(k,)) for k in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(answers) == 16
    assert sorted(set(answers)) == list(range(1, 10))
    row = store.read(lambda c: replies.stand_of(c, seat, "second"))
    assert row is not None and row["replies"] == 9 == row["refused"]
    kept = store.read(lambda c: replies.work_of(c, seat, "third"))
    assert kept is not None and kept["n"] == 7


def test_text_that_databases_stumble_over(store: Store) -> None:
    """NUL, every plane, and what looks like markup or SQL come back as they were."""
    _, seat = seat_of(store)
    odd = {"t": "\x00 \U0001f600 ∠1 ≅ ∠5 \u2028 '; DROP TABLE reply; -- %s :x \\"}
    store.write(lambda c: replies.put_reply(c, seat, "odd-00001", "second", 5, odd, WRONG, NOW))
    store.write(lambda c: replies.put_work(c, seat, "second", 1, odd, None, NOW))

    assert store.read(lambda c: replies.history(c, seat, "second"))[0]["reply"] == odd
    kept = store.read(lambda c: replies.work_of(c, seat, "second"))
    assert kept is not None and kept["work"] == odd


def test_the_newest_work_is_kept(store: Store) -> None:
    _, seat = seat_of(store)
    for n, kept in ((3, 3), (2, 3), (3, 3), (2**52, 2**52)):
        assert store.write(lambda c, n=n: replies.put_work(c, seat, "second", n, {"n": n}, None, NOW)) == kept
    found = store.read(lambda c: replies.work_of(c, seat, "second"))
    assert found is not None and found["work"] == {"n": 2**52}
