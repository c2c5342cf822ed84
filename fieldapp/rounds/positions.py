"""Where each record was made: the fix follows as an annex, for the tap waits for nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.device.position import Fix
from fieldapp.journal.record import Draft, Record
from fieldapp.rounds.notebook import Notebook

#: Seconds around a tap within which a fix still says where it was made.
WITHIN = 120.0
#: Kinds made where they happen. Others, such as an apiary's name, are often entered at home.
PLACED = frozenset({"application", "pieces", "skip", "look", "count", "board", "death"})


@dataclass(slots=True)
class _Tap:
    record: str
    apiary: str | None
    at: float
    best: float | None = None
    told: bool = False


class Positions:
    """Adds positions to what was tapped. `fix` may be called at any time, on the main thread.

    Each tap gets the latest fix of the two minutes before it at once, and once more a later
    one whose stated accuracy is half as large or better: two annexes at most would be usual.
    """

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._taps: list[_Tap] = []
        self.latest: Fix | None = None
        notebook.on_write(self._written)

    def fix(self, fix: Fix) -> None:
        """Take a fix: keep it for taps to come, and add it to those it still belongs to."""
        self.latest = fix
        self._taps = [tap for tap in self._taps if fix.at - tap.at <= WITHIN]
        drafts = [draft for tap in self._taps if (draft := self._placed(tap, fix)) is not None]
        if drafts:
            self._notebook.write(drafts)

    def _written(self, records: Sequence[Record]) -> None:
        now = self._notebook.clock.monotonic()
        taps = [
            _Tap(record.id, record.apiary, now)
            for record in records
            if record.kind in PLACED and record.corrects is None
        ]
        self._taps += taps
        fix = self.latest
        if fix is None or not taps or now - fix.at > WITHIN:
            return
        drafts = [draft for tap in taps if (draft := self._placed(tap, fix)) is not None]
        if drafts:
            self._notebook.write(drafts)

    def _placed(self, tap: _Tap, fix: Fix) -> Draft | None:
        if tap.told and not _better(fix.accuracy, tap.best):
            return None
        tap.told, tap.best = True, fix.accuracy
        body: dict[str, object] = {
            "lat": fix.lat,
            "lon": fix.lon,
            "after_s": round(fix.at - tap.at, 1),
        }
        if fix.accuracy is not None:
            body["accuracy"] = fix.accuracy
        return Draft(
            "position",
            self._notebook.moment(tap.apiary),
            self._notebook.keeper or tap.record,
            body,
            apiary=tap.apiary,
            adds_to=tap.record,
        )


def _better(accuracy: float | None, best: float | None) -> bool:
    return accuracy is not None and (best is None or accuracy <= best / 2)
