"""Folds hives record by record, side by side, and hands over at the records that join them.

Where versions of a record stand side by side unanswered, the fold of that hive goes on in
branches, one a version: the first branch is that of the versions that hold and decides due
dates, and closed days are united over all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from heapq import heappop, heappush
from typing import NamedTuple

from fieldapp.husbandry import colonies, handing, joining
from fieldapp.husbandry.boxes import Boxes, Lookups
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.doubles import SAME, Doubles
from fieldapp.husbandry.handing import NOTHING, Handover
from fieldapp.husbandry.hivelog import ALWAYS, Entry, HiveLog
from fieldapp.journal.record import Record

#: More branches than this and the hive is closed until the keeper answers.
MOST_BRANCHES = 32

#: Kept handovers: by root id, version and receiving hive, one a branch, the one that holds first.
Handovers = dict[tuple[str, int, str], tuple[Handover, ...]]

_NOTHING = (NOTHING,)
#: What an entry is in the log of the hive that hands over.
GIVES = frozenset({"split", "transfer", "swarm", "leaves"})


class Waypoint(NamedTuple):
    """How a hive stood before the entry at `place`; `key` is that of the entry before it."""

    place: int
    key: Key
    boxes: Boxes


#: Kept waypoints by hive, in order: a fold begins at the last one before what changed.
Waypoints = dict[str, list[Waypoint]]

#: The last waypoint stands so many entries before the end of a hive's log.
_NEAR = 2
#: Folding more hives than this at once keeps none: they would cost more room than time.
_FEW = 8


class Run:
    """The fold of one hive under way."""

    __slots__ = (
        "began",
        "branches",
        "entries",
        "hive",
        "marks",
        "overflow",
        "place",
        "roles",
        "step",
        "waypoints",
    )

    def __init__(
        self,
        hive: str,
        entries: list[Entry],
        roles: Mapping[tuple[str, int], str],
        boxes: Boxes,
        waypoints: list[Waypoint],
        remember: bool,
    ) -> None:
        self.hive = hive
        self.entries = entries
        self.roles = roles
        self.branches = [boxes]
        self.place = waypoints[-1].place if waypoints else 0
        self.began = waypoints[-1].key if waypoints else ALWAYS
        self.overflow = False
        self.waypoints = waypoints
        self.step = _step(len(entries))
        self.marks = (
            {*range(self.step, len(entries), self.step), len(entries) - _NEAR}
            if remember
            else frozenset()
        )

    def advance(
        self, until: Key | None, handovers: Handovers, changed: Callable[[Entry], None]
    ) -> None:
        """Fold entries up to and including `until` (None: all).

        `handovers` are read where others join this hive and written where it hands over;
        `changed` is told where what it hands over is not what stood there before.
        """
        entries, place = self.entries, self.place
        while place < len(entries):
            entry = entries[place]
            if until is not None and entry.key > until:
                break
            if place in self.marks and len(self.branches) == 1 and not self.branches[0].choice:
                before = entries[place - 1].key if place else entry.key
                if not self.waypoints or self.waypoints[-1].place < place:
                    self.waypoints.append(Waypoint(place, before, self.branches[0].copy()))
            place += 1
            branches = self.branches if entry.side is None else self._chosen(entry)
            if entry.what == "application":
                branches = self._named(entry.record, branches)
            if entry.far and entry.what not in GIVES:
                self._take(entry, branches, handovers)
            elif entry.what in GIVES:
                self._give(entry, branches, handovers, changed)
            else:
                for boxes in branches:
                    self._step(boxes, entry)
        self.place = place

    def thin(self) -> None:
        """Drop the waypoints that stood near an end which the log has outgrown."""
        self.waypoints[:-1] = [w for w in self.waypoints[:-1] if w.place % self.step == 0]

    def _chosen(self, entry: Entry) -> list[Boxes]:
        """Return the branches in which this version of the record is the one that counts."""
        root, place, count = entry.side  # type: ignore[misc]
        self._fork(root, count, self.branches)
        return [boxes for boxes in self.branches if boxes.choice[root] == place]

    def _named(self, record: Record, branches: list[Boxes]) -> list[Boxes]:
        """Return the branches for each version of the terms and the plan of an application."""
        body, looks_up = record.body, self.branches[0].looks_up
        count = len(looks_up.terms(body["terms"], body["treatment"]))
        if count > 1:
            branches = [*branches, *self._fork(body["terms"], count, branches)]
        if "plan" in body and (count := len(looks_up.plans(body["plan"]))) > 1:
            branches = [*branches, *self._fork(body["plan"], count, branches)]
        return branches

    def _fork(self, root: str, count: int, branches: list[Boxes]) -> list[Boxes]:
        """Let each branch choose a version of a record, and return those that were added."""
        added = []
        for boxes in list(branches):
            if root not in boxes.choice:
                for other in range(1, count):
                    if len(self.branches) >= MOST_BRANCHES:
                        self.overflow = True
                        break
                    twin = boxes.copy()
                    twin.choice[root] = other
                    self.branches.append(twin)
                    added.append(twin)
                boxes.choice[root] = 0
        return added

    def _step(self, boxes: Boxes, entry: Entry) -> None:
        what, key, record = entry.what, entry.key, entry.record
        if what == "application":
            role = self.roles.get((record.id, key[0]), "")
            if role != SAME:
                boxes.application(key, record, role)
        elif what == "pieces":
            boxes.pieces(key, record)
        elif what == "course_stop":
            boxes.course_stop(key, record)
        elif what == "colony":
            colonies.colony_comes(boxes, key, record)
        else:
            colonies.death(boxes, key, record)

    def _give(
        self,
        entry: Entry,
        branches: list[Boxes],
        handovers: Handovers,
        changed: Callable[[Entry], None],
    ) -> None:
        given = [_handed(entry, boxes) for boxes in branches]
        if not entry.far:
            return
        name = (entry.record.id, entry.side.place if entry.side else 0, entry.far)
        handed_over = tuple(given)
        if len(given) > 1:
            rests: dict[Handover, tuple[tuple[str, int], ...]] = {}
            for handed, boxes in zip(given, branches, strict=True):
                rests.setdefault(handed, tuple(sorted(boxes.choice.items())))
            handed_over = tuple(rests)
            if len(rests) > 1:
                handed_over = tuple(each._replace(choice=on) for each, on in rests.items())
        if handovers.get(name) != handed_over:
            handovers[name] = handed_over
            changed(entry)

    def _take(self, entry: Entry, branches: list[Boxes], handovers: Handovers) -> None:
        name = (entry.record.id, entry.side.place if entry.side else 0, self.hive)
        stands = handovers.get(name, _NOTHING) or _NOTHING
        for boxes in list(branches):
            fitting = [handed for handed in stands if _fits(handed, boxes)] or list(stands[:1])
            for other in fitting[1:]:
                if len(self.branches) >= MOST_BRANCHES:
                    self.overflow = True
                    break
                twin = boxes.copy()
                self._receive(twin, entry, other)
                self.branches.append(twin)
            self._receive(boxes, entry, fitting[0])

    @staticmethod
    def _receive(boxes: Boxes, entry: Entry, handed: Handover) -> None:
        boxes.choice.update(handed.choice)
        if entry.what == "part":
            joining.part_comes(boxes, entry.key, handed)
        elif entry.what == "joined":
            joining.joined_by(boxes, entry.key, handed)
        elif entry.what == "moved in":
            joining.moved_in(boxes, entry.key, handed)
        else:
            joining.swarm_comes(boxes, entry.key, handed)


def _step(entries: int) -> int:
    """Return how many entries lie between waypoints: 8 to 16 of them, however long the log.

    A power of two, so that those kept still stand where they should once the log is longer.
    """
    return 1 << max(0, (entries - 1).bit_length() - 4)


def _handed(entry: Entry, boxes: Boxes) -> Handover:
    if entry.what == "split":
        return handing.split_off(boxes, entry.key, entry.record)
    if entry.what == "swarm":
        return handing.swarm_off(boxes, entry.key, entry.record)
    return handing.leave(boxes, entry.key, entry.record)


def _fits(handed: Handover, boxes: Boxes) -> bool:
    """Whether what is handed over rests on no other versions than these boxes do."""
    return all(boxes.choice.get(root, place) == place for root, place in handed.choice)


class Folding:
    """Folds a set of hives anew, and those that what they hand over changes."""

    def __init__(
        self,
        log: Callable[[str], HiveLog],
        doubles: Callable[[str, HiveLog], Doubles],
        looks_up: Lookups,
        handovers: Handovers,
        waypoints: Waypoints,
    ) -> None:
        self._log = log
        self._doubles = doubles
        self._looks_up = looks_up
        self._handovers = handovers
        self._waypoints = waypoints
        self._remember = False
        self._runs: dict[str, Run] = {}
        self._queue: list[tuple[Key, str]] = []

    def fold(self, hives: Mapping[str, Key]) -> dict[str, Run]:
        """Return the finished folds of hives and of every hive that they changed.

        `hives` says for each from where in the order on something is other than before.
        """
        self._remember = len(hives) <= _FEW
        for hive, since in hives.items():
            self._begin(hive, since, None)
        while self._queue:
            key, hive = heappop(self._queue)
            self._runs[hive].advance(key, self._handovers, self._changed)
        for run in self._runs.values():
            run.advance(None, self._handovers, self._changed)
            run.thin()
        return self._runs

    def _begin(self, hive: str, since: Key, after: Key | None) -> None:
        log = self._log(hive)
        log.sort()
        roles, alias, others, _ = self._doubles(hive, log)
        # What changed may be one of several on a day: begin before the day.
        known = self._waypoints.get(hive, [])
        usable = [point for point in known if point.place and point.key[0] < since[0]]
        boxes = usable[-1].boxes.copy() if usable else Boxes(hive, self._looks_up)
        boxes.alias, boxes.others = alias, others
        run = Run(hive, log.entries, roles, boxes, usable, self._remember)
        self._waypoints[hive] = usable
        self._runs[hive] = run
        for entry in log.entries:
            if entry.what in GIVES and entry.far and (after is None or entry.key > after):
                heappush(self._queue, (entry.key, hive))

    def _changed(self, entry: Entry) -> None:
        run = self._runs.get(entry.far)
        # A fold under way that began at a waypoint after this link begins again before it.
        if run is None or run.began[0] >= entry.key[0]:
            self._begin(entry.far, entry.key, entry.key)
