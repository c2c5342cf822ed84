"""Supers: where each was when, and what exposed it.

A marked super is followed by its mark all over the operation; the unmarked supers of a hive
are one lot, of which exposure of any is exposure of all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.superevents import SuperEvent, by_version
from fieldapp.husbandry.windows import LAST, Stay, Touch, Windows


def standing(touches: Iterable[Touch], emptied: Sequence[Key], until: Key | None) -> list[Touch]:
    """Return the touches that no emptying cleared, as of the place `until` (None: all)."""
    left = []
    for touch in touches:
        if until is not None and touch.start > until:
            continue
        end = touch.end
        if until is not None and (end is None or end > until):
            end = until
        cleared = end is not None and any(
            end < key and (until is None or key <= until) for key in emptied
        )
        if not cleared:
            left.append(touch)
    return left


class Touched(NamedTuple):
    """What touched a super, and when it was emptied, by one version of its records."""

    touches: tuple[Touch, ...]
    emptied: tuple[Key, ...]


class Marked(NamedTuple):
    """One marked super: its touches, when it was emptied, and where it stands (None: store).

    `others` are what it is by versions of its records that stand side by side.
    """

    mark: str
    touches: tuple[Touch, ...]
    emptied: tuple[Key, ...]
    hive: str | None
    last_hive: str
    since: Key
    others: tuple[Touched, ...] = ()

    def standing(self, until: Key | None) -> list[Touch]:
        """Return what exposes it by any version, as of the place `until` (None: now)."""
        if not self.others:
            return standing(self.touches, self.emptied, until)
        versions = (Touched(self.touches, self.emptied), *self.others)
        left = (touch for v in versions for touch in standing(v.touches, v.emptied, until))
        return list(dict.fromkeys(left))


def follow(
    mark: str, events: Sequence[SuperEvent], windows: Callable[[str], Windows]
) -> Marked | None:
    """Return a marked super from its events in order, None where it was never on a hive."""
    found = [_follow(mark, each, windows) for each in by_version(events)]
    known = [each for each in found if each is not None]
    if not known:
        return None
    return known[0]._replace(others=tuple(Touched(m.touches, m.emptied) for m in known[1:]))


def _follow(
    mark: str, events: Sequence[SuperEvent], windows: Callable[[str], Windows]
) -> Marked | None:
    touches: list[Touch] = []
    emptied: list[Key] = []
    hive: str | None = None
    last_hive, since = "", (0, 0, "", "")
    for event in events:
        if event.what == "emptied":
            emptied.append(event.key)
            continue
        if event.what == "comb up":
            touches.append(Touch(event.key, event.key, True, event.record))
            last_hive = last_hive or event.hive
            continue
        if hive is not None and event.what in ("on", "came", "off", "away"):
            touches += windows(hive).touches(Stay(hive, since, event.key))
            hive = None
        if event.what in ("on", "came"):
            hive, last_hive, since = event.hive, event.hive, event.key
        elif event.what in ("off", "away"):
            since = event.key
    if hive is not None:
        touches += windows(hive).touches(Stay(hive, since, None))
    if not last_hive and not touches:
        return None
    return Marked(mark, _in_order(touches), tuple(emptied), hive, last_hive, since)


def _in_order(touches: Iterable[Touch]) -> tuple[Touch, ...]:
    """Return touches in order, each once. Neighbours are compared: hashing them costs more."""
    found: list[Touch] = []
    for touch in sorted(touches, key=_place):
        if not found or touch != found[-1]:
            found.append(touch)
    return tuple(found)


def _place(touch: Touch) -> tuple[Key, Key, str, bool]:
    return (touch.start, touch.end or LAST, touch.record, touch.certain)


class LotState(NamedTuple):
    """The unmarked supers of a hive; `number` on it, None where not known; `on` if any is."""

    touches: tuple[Touch, ...]
    emptied: tuple[Key, ...]
    number: int | None
    on: bool
    any: bool
    since: Key | None
    others: tuple[Touched, ...] = ()

    def standing(self, until: Key | None, before: Key | None = None) -> list[Touch]:
        """Return what exposes the lot by any version, as of the place `until` (None: now).

        `before`: only what began before that place.
        """
        left: dict[Touch, None] = {}
        for version in (Touched(self.touches, self.emptied), *self.others):
            touches = [t for t in version.touches if before is None or t.start < before]
            left.update(dict.fromkeys(standing(touches, version.emptied, until)))
        return list(left)


#: What a lot hands on with a super that is carried away: its touches that stand, or nothing.
Carried = tuple[Touch, ...]


def follow_lot(
    events: Sequence[SuperEvent],
    windows: Windows,
    seen: Sequence[tuple[Key, str, str]],
    carried: Callable[[SuperEvent], Carried],
    exposes_seen: Callable[[str], bool],
) -> LotState:
    """Return the lot of a hive from its events in order, by every version of its records.

    `seen` is what keepers saw at applications: ``on`` or ``not known``; `exposes_seen` whether
    that application wants supers off or exposes combs that are present.
    """
    held, *others = (
        _follow_lot(each, windows, seen, carried, exposes_seen) for each in by_version(events)
    )
    return held._replace(
        others=tuple(Touched(each.touches, each.emptied) for each in others),
        any=held.any or any(each.any for each in others),
    )


def _follow_lot(  # noqa: PLR0912 — one branch for each thing that can happen to a super
    events: Sequence[SuperEvent],
    windows: Windows,
    seen: Sequence[tuple[Key, str, str]],
    carried: Callable[[SuperEvent], Carried],
    exposes_seen: Callable[[str], bool],
) -> LotState:
    hive = ""
    touches: list[Touch] = []
    emptied: list[Key] = []
    count: int | None = 0
    ever = False
    since: Key | None = None
    stays: list[Stay] = []
    for event in events:
        hive = event.hive
        if event.what in ("on", "came"):
            ever = True
            for touch in carried(event):
                touches.append(Touch(event.key, event.key, touch.certain, touch.record))
            touches += windows.touches(Stay(hive, event.key, event.key))
            if since is None:
                since = event.key
            count = None if count is None or event.number is None else count + event.number
        elif event.what in ("off", "away"):
            if since is not None and (
                event.number is None or (count is not None and event.number >= count)
            ):
                stays.append(Stay(hive, since, event.key))
                since, count = None, 0
            elif count is not None:
                count = max(0, count - (event.number or 0))
        elif event.what == "emptied":
            emptied.append(event.key)
        else:
            ever = True
            touches.append(Touch(event.key, event.key, True, event.record))
    if since is not None:
        stays.append(Stay(hive, since, None))
    for stay in stays:
        touches += windows.touches(stay)
    for key, what, record in seen:
        if not exposes_seen(record):
            continue
        on = any(stay.start < key and (stay.end is None or key < stay.end) for stay in stays)
        if not on:
            touches.append(Touch(key, key, what == "on", record))
            ever = True
    return LotState(_in_order(touches), tuple(emptied), count, since is not None, ever, since)
