"""Passphrases: argon2id, a length, how soon they would be guessed, and no other rule (V-09).

How many guesses one would take is estimated by zxcvbn (Wheeler 2016, USENIX Security: words, names, keyboard runs,
dates, repetitions and what people do to them). Guesses are paced as well, so what matters is not to be among the
first.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import BoundedSemaphore

from app import hashes
from app.beside import Beside, Late
from app.hashes import normal
from app.web.errors import Refused
from app.web.limits import InFlight

LEAST, MOST = 8, 128
LEAST_GUESSES = 7.5  # power of ten
LOOKED_AT = 32  # characters: the estimate takes longer the longer the text, and says nothing new beyond
# What anybody would try first at a school, beside the words of its own lists.
NEAR_BY = [
    "math", "maths", "class", "classroom", "teacher", "student", "school", "geometry", "algebra", "triangle",
    "parallel", "transversal", "angle", "angles", "eight", "eightangles", "period", "hour", "room", "board", "desk",
    "seat", "lesson",
]  # fmt: skip

# Each hashing takes 64 MB and a core for a moment. Those who are known, and the machine itself, have a room of their
# own: however many strangers guess, nobody waits behind them who has signed in here before.
_room, _own_room = BoundedSemaphore(1), BoundedSemaphore(1)
_waiting = InFlight(3)  # strangers of one address
_all_waiting = InFlight(12)


def check_new(passphrase: str, again: str) -> None:
    """Refuse a passphrase that is too short, too long, soon guessed, or typed differently twice."""
    if len(normal(passphrase)) < LEAST:
        raise Refused(422, "web.passphrase_short", "passphrase", least=LEAST)
    if len(passphrase) > MOST:
        raise Refused(422, "web.passphrase_long", "passphrase", most=MOST)
    if guessable(passphrase):
        raise Refused(422, "web.passphrase_common", "passphrase")
    if normal(passphrase) != normal(again):
        raise Refused(422, "web.passphrase_again", "again")


def guessable(passphrase: str) -> bool:
    """Whether it would be among the first tens of millions of guesses."""
    # Measured: 19 ms and 13 MB of lists of words, for the few times that a passphrase is chosen.
    from zxcvbn import zxcvbn

    with _own_room:  # one after another: some texts of signs for letters take a second
        found = zxcvbn(normal(passphrase)[:LOOKED_AT], user_inputs=NEAR_BY)
    return float(found["guesses_log10"]) < LEAST_GUESSES


class Crowded(Exception):
    """Too many strangers wait for their guess to be looked at."""


@contextmanager
def in_line(address: str, *, known: bool) -> Iterator[None]:
    """A place among those whose passphrase is looked at. Strangers wait a few at a time, and fewer from one address."""
    if known:
        with _own_room:
            yield
        return
    if not _waiting.enter(address):
        raise Crowded
    try:
        if not _all_waiting.enter(""):
            raise Crowded
        try:
            with _room:
                yield
        finally:
            _all_waiting.leave("")
    finally:
        _waiting.leave(address)


def hashed(passphrase: str) -> str:
    """The argon2id hash of a passphrase."""
    with _own_room:
        return hashes.hashed(passphrase)


def full(address: str) -> bool:
    """Whether a stranger at this address would find no place in the line: asked before anything is looked up."""
    return _waiting.full(address) or _all_waiting.full("")


def right_beside(beside: Beside, kept: str, passphrase: str) -> bool:
    """The same as `right`, worked out by a process that goes last: a stranger's guess takes no class's core."""
    if len(passphrase) > MOST:
        return False
    try:
        return bool(beside.ask("app.hashes", "right", kept, passphrase))
    except Late:
        raise Crowded from None


def right(kept: str, passphrase: str) -> bool:
    """Whether the passphrase is the one behind this hash. Ask it inside `in_line`."""
    return len(passphrase) <= MOST and hashes.right(kept, passphrase)
