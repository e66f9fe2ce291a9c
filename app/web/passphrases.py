"""Passphrases: argon2id, a length, a list of the first guesses, and no other rule (V-09)."""

from __future__ import annotations

import unicodedata
from functools import cache
from threading import BoundedSemaphore

from app.web.errors import Refused

LEAST, MOST = 8, 128

# The heads of the widely published lists of leaked passphrases are mostly these shapes: a keyboard run, a
# short word with digits behind it, a repeated piece. Rules catch the shapes; the words catch the rest.
WORDS = [
    "password",
    "passphrase",
    "passwort",
    "passw0rd",
    "p@ssword",
    "p@ssw0rd",
    "letmein",
    "welcome",
    "admin",
    "administrator",
    "login",
    "master",
    "qwerty",
    "qwertyuiop",
    "asdfgh",
    "asdfghjkl",
    "zxcvbn",
    "zxcvbnm",
    "qazwsx",
    "qazwsxedc",
    "1q2w3e4r",
    "1qaz2wsx",
    "iloveyou",
    "princess",
    "sunshine",
    "football",
    "baseball",
    "basketball",
    "soccer",
    "hockey",
    "dragon",
    "monkey",
    "shadow",
    "superman",
    "batman",
    "spiderman",
    "pokemon",
    "starwars",
    "michael",
    "jordan",
    "jennifer",
    "jessica",
    "ashley",
    "daniel",
    "charlie",
    "thomas",
    "hunter",
    "killer",
    "trustno1",
    "freedom",
    "whatever",
    "computer",
    "internet",
    "flower",
    "cheese",
    "summer",
    "winter",
    "spring",
    "autumn",
    "monday",
    "friday",
    "january",
    "october",
    "december",
    "teacher",
    "student",
    "school",
    "classroom",
    "geometry",
    "mathematics",
    "math",
    "maths",
    "algebra",
    "triangle",
    "parallel",
    "transversal",
    "eightangles",
    "angles",
    "changeme",
    "default",
    "secret",
    "access",
    "hello",
    "hellohello",
    "abc",
    "abcd",
    "abcdef",
    "abcdefg",
    "abcdefgh",
    "abc123",
    "test",
    "testing",
    "guest",
    "google",
    "facebook",
    "samsung",
    "liverpool",
    "chelsea",
    "arsenal",
    "barcelona",
    "mustang",
    "corvette",
    "ferrari",
    "mercedes",
    "harley",
    "yamaha",
    "pepper",
    "ginger",
    "cookie",
    "chocolate",
    "butterfly",
    "purple",
    "orange",
    "yellow",
    "silver",
    "golden",
    "blessed",
    "jesus",
    "christ",
    "angel",
    "heaven",
    "loveme",
    "lovely",
    "babygirl",
    "forever",
    "family",
    "mother",
    "father",
    "brother",
    "sister",
    "friends",
    "matthew",
    "joshua",
    "andrew",
    "robert",
    "william",
]
RUNS = (
    "01234567890123456789",
    "abcdefghijklmnopqrstuvwxyz",
    "qwertyuiopasdfghjklzxcvbnm",
    "1q2w3e4r5t6y7u8i9o0p",
    "1qaz2wsx3edc4rfv5tgb6yhn7ujm",
)
PLAIN = str.maketrans("@4301!$57", "aaeoiisst")

_room = BoundedSemaphore(2)  # each hashing takes 64 MB and a core for a moment


def normal(passphrase: str) -> str:
    """One form for what looks the same, whatever keyboard it comes from."""
    return unicodedata.normalize("NFKC", passphrase)


def check_new(passphrase: str, again: str) -> None:
    """Refuse a passphrase that is too short, too long, among the first guesses, or typed differently
    twice.
    """
    if len(normal(passphrase)) < LEAST:
        raise Refused(422, "web.passphrase_short", "passphrase", least=LEAST)
    if len(passphrase) > MOST:
        raise Refused(422, "web.passphrase_long", "passphrase", most=MOST)
    if common(passphrase):
        raise Refused(422, "web.passphrase_common", "passphrase")
    if normal(passphrase) != normal(again):
        raise Refused(422, "web.passphrase_again", "again")


@cache
def _words() -> frozenset[str]:
    return frozenset(WORDS) | {word.translate(PLAIN) for word in WORDS}


def common(passphrase: str) -> bool:
    """Whether it is a first guess: one listed word with a few digits or marks around it, a run, a
    repetition.
    """
    text = normal(passphrase).casefold().replace(" ", "")
    if len(set(text)) <= 3:
        return True
    for size in range(1, len(text) // 2 + 1):
        if len(text) <= 24 and text == (text[:size] * len(text))[: len(text)]:
            return True
    for run in RUNS:
        if text in run or text in run[::-1]:
            return True
    if text.isdigit() and len(text) <= 10:
        return True  # a date or a telephone number
    return any(bare.translate(PLAIN) in _words() or bare in _words() for bare in _bared(text))


def _bared(text: str) -> set[str]:
    """The text without up to four digits or marks at either end."""
    extra = "0123456789!?.-_*#+@$"
    left = text.lstrip(extra)
    right = text.rstrip(extra)
    both = left.rstrip(extra)
    return {t for t in (text, left, right, both) if len(text) - len(t) <= 6}


def hashed(passphrase: str) -> str:
    """The argon2id hash of a passphrase."""
    from argon2 import PasswordHasher

    with _room:
        return PasswordHasher().hash(normal(passphrase))


def right(kept: str, passphrase: str) -> bool:
    """Whether the passphrase is the one behind this hash."""
    from argon2 import PasswordHasher
    from argon2.exceptions import InvalidHashError, VerificationError

    if len(passphrase) > MOST:
        return False
    with _room:
        try:
            return PasswordHasher().verify(kept, normal(passphrase))
        except (VerificationError, InvalidHashError):
            return False
