"""What of one hive exposes supers, and which of it a super met that was on from then to then."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate, zip_longest
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Cause

_FOREVER = 10**9
#: After every place in the order.
LAST: Key = (_FOREVER, 0, "", "")


class Touch(NamedTuple):
    """An exposure of a super from `start` to `end` (None: it goes on)."""

    start: Key
    end: Key | None
    certain: bool
    record: str


class Stay(NamedTuple):
    """A super on a hive, from a record to a record (None: still)."""

    hive: str
    start: Key
    end: Key | None


class Windows:
    """The causes of one hive that can expose a super, found by when a super was on."""

    def __init__(
        self,
        causes: Iterable[Cause],
        deaths: Sequence[tuple[Key, str]] = (),
        before: Windows | None = None,
    ) -> None:
        """`before` are those of the same hive until now: what was found by them may stand."""
        self._from = tuple(causes)
        self.causes = sorted(
            (cause for cause in self._from if cause.exposes or cause.wants_off),
            key=lambda cause: cause.key,
        )
        self.keys = [cause.key for cause in self.causes]
        self.reach = list(accumulate((_reach(cause) for cause in self.causes), max))
        self.deaths = tuple(deaths)
        self._found = {} if before is None else before._still(self)

    def _still(self, after: Windows) -> dict[Stay, tuple[Touch, ...]]:
        """Return what was found of stays that ended before anything that is other afterwards."""
        if self.deaths != after.deaths:
            return {}
        pairs = zip_longest(self.causes, after.causes)
        others = next((pair for pair in pairs if pair[0] != pair[1]), ())
        until = min((cause.key for cause in others if cause is not None), default=LAST)
        return {s: f for s, f in self._found.items() if s.end is not None and s.end < until}

    def same(self, causes: Sequence[Cause], deaths: Sequence[tuple[Key, str]]) -> bool:
        """Whether it was made of just these."""
        return self._from == tuple(causes) and self.deaths == tuple(deaths)

    def touches(self, stay: Stay) -> tuple[Touch, ...]:
        """Return what exposed a super during its stay on this hive, looked for once."""
        found = self._found.get(stay)
        if found is None:
            found = self._found[stay] = tuple(self._touches(stay))
        return found

    def _touches(self, stay: Stay) -> list[Touch]:
        found = []
        start, last = stay.start, stay.end
        place = len(self.keys) if last is None else bisect_right(self.keys, last)
        while place and self.reach[place - 1] >= start[0]:
            place -= 1
            touch = _touch(self.causes[place], start, last)
            if touch is not None:
                found.append(touch)
        for key, record in self.deaths:
            if stay.start < key and (stay.end is None or key < stay.end):
                found.append(Touch(key, key, True, record))
        return found


def _reach(cause: Cause) -> int:
    if cause.until is None or cause.super_last is None:
        return _FOREVER
    return max(cause.until[0], cause.super_last)


def _touch(cause: Cause, start: Key, end: Key | None) -> Touch | None:
    """Return how a cause that began by `end` exposes a super that was on from `start` to it."""
    key, until = cause.key, cause.until
    begins = start if start >= key else key
    if cause.exposes and (until is None or begins <= until):
        if until is not None and (end is None or until < end):
            end = until
        return Touch(begins, end, True, cause.record)
    if cause.wants_off and (start >= key or cause.inherited):
        within = cause.super_last is None or begins[0] <= cause.super_last
        if within:
            return Touch(begins, begins, True, cause.record)
    return None
