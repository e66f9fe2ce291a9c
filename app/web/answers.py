"""What the calculators were asked lately, and what they said."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

KEEP_ANSWERS = 2048
KEEP_LONGEST = 8192  # bytes of a question and of its answer
# path, body, language
Key = tuple[str, bytes, str]


class Answers:
    """Answers given lately, by the question's own bytes: a class asks the same things of the same figure.

    The calculators are functions of the body and the language alone, so an answer can't grow stale.
    """

    def __init__(self) -> None:
        self._lock = Lock()
        self._kept: OrderedDict[Key, tuple[bytes, str]] = OrderedDict()

    def get(self, key: Key) -> tuple[bytes, str] | None:
        with self._lock:
            found = self._kept.get(key)
            if found is not None:
                self._kept.move_to_end(key)
            return found

    def put(self, key: Key, answer: tuple[bytes, str]) -> None:
        if len(key[1]) > KEEP_LONGEST or len(answer[0]) > KEEP_LONGEST:
            return
        with self._lock:
            self._kept[key] = answer
            if len(self._kept) > KEEP_ANSWERS:
                self._kept.popitem(last=False)
