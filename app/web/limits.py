"""Limits that know a whole class sits behind one address: failures are counted, not visits (V-12, T-08)."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from threading import Lock

WINDOW = 10 * 60_000  # milliseconds
MOST_KEYS = 20_000


class Failures:
    """Counts failed guesses by address over ten minutes.

    Past `soft` a failure is answered "wait" instead of "wrong" (the right answer still passes at once: a
    class is not punished for one of its members). Past `hard` guesses are no longer looked at, but for
    browsers that were known before: that bounds how many can be tried, whatever the attacker does.
    """

    def __init__(self, clock: Callable[[], int], soft: int, hard: int) -> None:
        self.clock, self.soft, self.hard = clock, soft, hard
        self._lock = Lock()
        self._times: dict[str, deque[int]] = {}
        self._all: deque[int] = deque(maxlen=MOST_KEYS)

    def _recent(self, key: str) -> deque[int]:
        times = self._times.setdefault(key, deque(maxlen=self.hard + 1))
        _forget(times, self.clock())
        return times

    def add(self, *keys: str) -> None:
        """Note a failure under each key (the address; the browser)."""
        with self._lock:
            self._all.append(self.clock())
            if len(self._times) > MOST_KEYS:  # an attacker with many addresses must not fill the memory
                for old in [key for key in self._times if not self._recent(key)] or list(self._times)[:1000]:
                    self._times.pop(old, None)
            for key in keys:
                self._recent(key).append(self.clock())

    def count(self, key: str) -> int:
        with self._lock:
            count = len(self._recent(key))
            if not count:
                self._times.pop(key, None)
            return count

    def flood(self) -> int:
        """The failures of all addresses together in ten minutes, once there are `soft` of them; else 0. In
        round numbers, down: for the teacher, who is told when somebody guesses.
        """
        with self._lock:
            _forget(self._all, self.clock())
            count = len(self._all)
        return 0 if count < self.soft else count // 10 * 10 if count < 1000 else count // 100 * 100

    def slow(self, key: str) -> bool:
        """True when failures of this address are to be answered "wait"."""
        return self.count(key) >= self.soft

    def shut(self, key: str) -> bool:
        """True when guesses of this address are no longer looked at."""
        return self.count(key) >= self.hard


def _forget(times: deque[int], now: int) -> None:
    """Drop what is over ten minutes old, and what the clock says is still to come: then it was set back."""
    while times and not now - WINDOW <= times[0] <= now:
        times.popleft()


class Bucket:
    """So many a second with a reserve, by key: for saving work, sending replies, asking for hints."""

    def __init__(self, clock: Callable[[], int], rate: float, reserve: int) -> None:
        self.clock, self.rate, self.reserve = clock, rate, reserve
        self._lock = Lock()
        self._state: dict[str, tuple[float, int]] = {}

    def take(self, key: str) -> bool:
        """True if there was one left to take."""
        now = self.clock()
        with self._lock:
            left, at = self._state.get(key, (float(self.reserve), now))
            # A clock that is set back refills nothing, and takes nothing away.
            left = min(self.reserve, left + max(0, now - at) * self.rate / 1000)
            if left < 1:
                self._state[key] = (left, now)
                return False
            if len(self._state) > MOST_KEYS:
                self._state.clear()
            self._state[key] = (left - 1, now)
            return True


class InFlight:
    """At most so many requests of one address at once: the stateless calculators keep no other count."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._lock = Lock()
        self._now: dict[str, int] = {}

    def enter(self, key: str) -> bool:
        with self._lock:
            now = self._now.get(key, 0)
            if now >= self.most:
                return False
            self._now[key] = now + 1
            return True

    def add(self, key: str) -> None:
        """One more, whether there is room or not."""
        with self._lock:
            self._now[key] = self._now.get(key, 0) + 1

    def count(self, key: str) -> int:
        with self._lock:
            return self._now.get(key, 0)

    def keys(self, prefix: str) -> list[str]:
        """Those that begin so, as they are now."""
        with self._lock:
            return [key for key in self._now if key.startswith(prefix)]

    def full(self, key: str) -> bool:
        with self._lock:
            return self._now.get(key, 0) >= self.most

    def leave(self, key: str) -> None:
        with self._lock:
            now = self._now.get(key, 0) - 1
            if now > 0:
                self._now[key] = now
            else:
                self._now.pop(key, None)
