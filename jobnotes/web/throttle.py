"""Holding back whoever tries passwords or floods the server; counted in memory, by one process."""

from collections import deque
from threading import Lock
from time import monotonic

FREE_TRIES = 5
"""Wrong passwords in a row before waiting starts: a tired person's typing; no source."""

FIRST_WAIT_S = 15.0
LONGEST_WAIT_S = 900.0
_KEPT = 10_000  # names and addresses that are remembered, so that memory stays small


class Throttle:
    """Wrong tries by key (a name, an address): each beyond the free ones doubles the wait."""

    def __init__(self) -> None:
        """Start with nobody held back."""
        self._tries: dict[str, tuple[int, float]] = {}
        self._lock = Lock()

    def wait_s(self, key: str) -> float:
        """Return the seconds before the next try is looked at; 0 if it may come now."""
        count, last = self._tries.get(key, (0, 0.0))
        if count < FREE_TRIES:
            return 0.0
        hold: float = min(FIRST_WAIT_S * 2 ** min(count - FREE_TRIES, 16), LONGEST_WAIT_S)
        return max(0.0, last + hold - monotonic())

    def failed(self, key: str) -> None:
        """Count a wrong try."""
        with self._lock:
            count, _ = self._tries.pop(key, (0, 0.0))
            self._tries[key] = (count + 1, monotonic())
            if len(self._tries) > _KEPT:
                self._tries.pop(next(iter(self._tries)))

    def passed(self, key: str) -> None:
        """Forget the wrong tries of a key."""
        with self._lock:
            self._tries.pop(key, None)


class Rate:
    """At most `most` requests of one key within `within_s` seconds."""

    def __init__(self, most: int, within_s: float) -> None:
        """Start with nothing counted."""
        self.most, self.within_s = most, within_s
        self._times: dict[str, deque[float]] = {}
        self._lock = Lock()

    def allows(self, key: str) -> bool:
        """Count a request and tell whether it may go on."""
        now = monotonic()
        with self._lock:
            times = self._times.setdefault(key, deque())
            while times and times[0] < now - self.within_s:
                times.popleft()
            if len(times) >= self.most:
                return False
            times.append(now)
            if len(self._times) > _KEPT:
                self._times.pop(next(iter(self._times)))
            return True
