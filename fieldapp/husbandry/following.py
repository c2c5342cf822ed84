"""The supers of all hives: each followed anew where it, or what exposes it, changed.

Marked supers are followed by their marks, the unmarked ones of a hive as one lot; a lot that
changed is told to the hives to which supers of it went.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.hivelog import HiveLog
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.state import Cause, Drawn, HiveState, SuperState
from fieldapp.husbandry.superevents import SuperEvent, by_version
from fieldapp.husbandry.supers import (
    LotState,
    Marked,
    follow,
    follow_lot,
)
from fieldapp.husbandry.windows import Touch, Windows

#: What brings a super onto a hive.
ON = ("on", "came")


class Following:
    """Where every super is, what exposed it, and what that says of honey that was drawn."""

    def __init__(
        self,
        states: dict[str, HiveState],
        state: Callable[[str], HiveState | None],
        mark_events: Callable[[str], list[SuperEvent]],
        log: Callable[[str], HiveLog],
        kept: Kept | None,
    ) -> None:
        """`states` are those awake; `state` gives that of a hive which sleeps too."""
        self._states = states
        self._state = state
        self._mark_events = mark_events
        self._log = log
        self._kept = kept
        self._windows: dict[str, Windows] = {}
        self._lots: dict[str, LotState] = {}
        self._marked: dict[str, Marked] = {}
        self._followed: set[str] = set()
        #: Marks on hives of which something else exposes supers now.
        self._due: set[str] = set()

    def lot(self, hive: str) -> LotState | None:
        """Return the state of a hive's unmarked supers, of one that sleeps the kept one."""
        lot = self._lots.get(hive)
        if lot is None and self._kept is not None:
            return self._kept.lot(hive)
        return lot

    def marked(self, mark: str) -> Marked | None:
        """Return a marked super, one that nothing touched since as it was kept."""
        marked = self._marked.get(mark)
        if marked is None and self._kept is not None and mark not in self._followed:
            return self._kept.marked(mark)
        return marked

    def followed(self) -> list[tuple[str, Marked | None]]:
        """Return the marked supers followed anew, None for one that is no longer anywhere."""
        return [(mark, self._marked.get(mark)) for mark in sorted(self._followed)]

    def forget(self, hive: str) -> None:
        """Drop a hive that no longer stands for itself."""
        self._windows.pop(hive, None)
        self._lots.pop(hive, None)

    def exposed_by(
        self, hive: str, causes: Sequence[Cause], deaths: Sequence[tuple[Key, str]]
    ) -> None:
        """Note what exposes supers on a hive; its marked ones are followed anew if it is other."""
        windows = self._windows.get(hive)
        if windows is None or not windows.same(causes, deaths):
            self._windows[hive] = Windows(causes, deaths, windows)
            self._due.update(event.mark for event in self._log(hive).supers if event.mark)

    def follow(self, marks: Iterable[str], hives: Iterable[str]) -> set[str]:
        """Follow these marks, and the lots of these hives; return the hives of what changed."""
        touched = set(marks)
        moved = {event.hive for mark in touched for event in self._mark_events(mark)}
        changed = self._follow_marks(touched | self._due)
        self._due.clear()
        return changed | self._follow_lots(set(hives) | (moved & self._states.keys()))

    def _windows_of(self, hive: str) -> Windows:
        windows = self._windows.get(hive)
        if windows is None:
            state = self._state(hive)
            if state is None:
                return Windows(())
            windows = self._windows[hive] = Windows(state.causes, state.deaths)
        return windows

    def _follow_marks(self, marks: Iterable[str]) -> set[str]:
        """Follow marked supers anew; return the hives of those that changed."""
        changed = set()
        for mark in marks:
            events = sorted(self._mark_events(mark), key=lambda event: event.key)
            before = self.marked(mark)
            self._followed.add(mark)
            self._marked.pop(mark, None)
            after = follow(mark, events, self._windows_of)
            if after is not None:
                self._marked[mark] = after
            if after != before:
                changed |= {event.hive for event in events if event.hive}
                changed |= {each.last_hive for each in (before, after) if each and each.last_hive}
        return {hive for hive in changed if self._awake(hive)}

    def _awake(self, hive: str) -> bool:
        """Whether a hive has a state; one that sleeps is woken, its lot taken over."""
        state = self._state(hive)
        if state is None:
            return False
        if hive not in self._states:
            self._states[hive] = state
            lot = self.lot(hive)
            if lot is not None:
                self._lots[hive] = lot
        return True

    def _follow_lots(self, hives: set[str]) -> set[str]:
        """Follow the unmarked lots of these hives, and of those that supers went on to."""
        changed = set()
        queue = sorted(hives)
        while queue:
            hive = queue.pop()
            if not self._awake(hive):
                continue
            log = self._log(hive)
            before = self._lots.get(hive)
            lot = follow_lot(
                [event for event in log.supers if not event.mark and event.hive == hive],
                self._windows_of(hive),
                self._seen_without_super(hive, log),
                self._carried,
                self._exposing(hive),
            )
            self._lots[hive] = lot
            if lot != before:
                changed.add(hive)
                queue += sorted(
                    {e.other for e in log.supers if e.what == "away" and not e.mark}
                    | self._borrowers(hive)
                )
        return changed

    def _borrowers(self, hive: str) -> set[str]:
        """Return the hives on which supers of this hive's lot were put from the store."""
        return {
            event.hive
            for event in self._log(hive).supers
            if event.what == "on" and event.other == hive and event.hive != hive
        }

    def _carried(self, event: SuperEvent) -> tuple[Touch, ...]:
        """Return what a super brings from another hive's lot."""
        lot = self.lot(event.other) if event.other != event.hive else None
        if lot is None:
            return ()
        return tuple(lot.standing(event.key, event.key))

    def _seen_without_super(self, hive: str, log: HiveLog) -> list[tuple[Key, str, str]]:
        """Return what was seen at applications: supers that no record knows, or not known."""
        seen = []
        for key, what, record in self._states[hive].seen:
            if what == "on":
                marks = {event.mark for event in log.supers if event.mark}
                if any(self._is_on(hive, mark, key) for mark in marks):
                    continue
            if what in ("on", "not known"):
                seen.append((key, what, record))
        return seen

    def _is_on(self, hive: str, mark: str, key: Key) -> bool:
        """Return whether a marked super was on a hive at an instant, by every version."""
        before = [event for event in self._mark_events(mark) if event.key <= key]
        before.sort(key=lambda event: event.key)
        return all(_stands(events) == hive for events in by_version(before))

    def _exposing(self, hive: str) -> _Exposing:
        return _Exposing(self._states.get(hive))

    def add_supers(self, hive: str) -> None:
        """Put supers and drawn honey into a state, from the supers as they are now."""
        state, log = self._states[hive], self._log(hive)
        supers = []
        for mark in sorted({event.mark for event in log.supers if event.mark}):
            marked = self.marked(mark)
            if marked is not None and hive in (marked.hive, marked.last_hive):
                supers.append(_marked_state(marked))
        lot = self.lot(hive)
        if lot is not None and lot.any:
            supers.append(_lot_state(hive, lot))
        offs = [e.key[0] for e in log.supers if e.what == "off" and e.place == 0]
        off = max(offs, default=None)
        drawn = tuple(
            Drawn(h.lot, h.key[3], h.mark, h.key[0], h.key, self._held(hive, state, h.key, h.mark))
            for h in log.harvests
        )
        self._states[hive] = state._replace(supers=tuple(supers), supers_off_on=off, drawn=drawn)

    def _held(self, hive: str, state: HiveState, key: Key, mark: str) -> tuple[str, ...]:
        """Return the records for which honey taken at `key` is to be held."""
        why = [
            cause.record
            for cause in state.causes
            if cause.key < key and (cause.last is None or key[0] <= cause.last)
        ]
        if mark:
            marked = self.marked(mark)
            left = marked.standing(key) if marked else []
        else:
            lot = self.lot(hive)
            left = lot.standing(key) if lot else []
        why += [touch.record for touch in left]
        return tuple(dict.fromkeys(why))


def _stands(events: Sequence[SuperEvent]) -> str:
    """Return the hive on which a marked super is after its events, empty for the store."""
    where = ""
    for event in events:
        if event.what in ON:
            where = event.hive
        elif event.what in ("off", "away"):
            where = ""
    return where


class _Exposing:
    """Whether an application wants supers off, or exposes combs that are present."""

    def __init__(self, state: HiveState | None) -> None:
        self._records = (
            {cause.record for cause in state.causes if cause.exposes} if state else set()
        )

    def __call__(self, record: str) -> bool:
        return record in self._records


def _marked_state(marked: Marked) -> SuperState:
    left = marked.standing(None)
    return SuperState(
        marked.mark,
        None,
        marked.hive,
        1,
        bool(left),
        any(touch.certain for touch in left),
        tuple(dict.fromkeys(touch.record for touch in left)),
        marked.since[0] or None,
    )


def _lot_state(hive: str, lot: LotState) -> SuperState:
    left = lot.standing(None)
    return SuperState(
        "",
        hive,
        hive if lot.on else None,
        lot.number,
        bool(left),
        any(touch.certain for touch in left),
        tuple(dict.fromkeys(touch.record for touch in left)),
        lot.since[0] if lot.since else None,
    )
