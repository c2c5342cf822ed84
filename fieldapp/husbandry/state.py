"""What a fold of records knows of one hive: courses, pieces, closed days, supers, looks.

Everything here is immutable and a pure function of the set of records; nothing depends on
the day asked. Days are ordinals (`fieldapp.husbandry.days`); ids are root ids.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from fieldapp.husbandry.days import Key
from fieldapp.husbandry.terms import Gap, Period, Terms


class Flag(NamedTuple):
    """Something about an application or a course that is not as the label has it.

    `word` is one of: early, late, over label, over limit, limit not known, range not known,
    timing not known, too soon, rest not known, other days, part dose, more out than in,
    terms not known, ask which goes on. `n` is the number that goes with it: days early, late or
    too soon; applications or courses over.
    """

    word: str
    n: int = 0
    limit: int = 0
    record: str = ""


class Plan(NamedTuple):
    """The keeper's own plan: how many applications, days between, and on what ground."""

    id: str
    treatment: str
    number: int
    gap: Gap
    ground: str


class Dose(NamedTuple):
    """One application as a course counts it."""

    id: str
    day: int
    terms: str
    part: bool
    flags: tuple[Flag, ...] = ()


class Course(NamedTuple):
    """The applications of one treatment to one colony that belong together.

    `k` whole doses of `n` planned (None: not known). `ended` is empty or one of ``broken off``,
    ``stopped``, ``united``, ``moved``, ``left with the swarm`` and ``colony gone``.
    `pieces` are the exposures that its applications made in these boxes. Those that the colony
    was parted from ended on `left_pieces`, and `parted` says how they were judged (empty:
    nothing amiss).
    `asks` holds the applications that wait for *which course?*. `closes_to` is the last day that
    the days after an application can close: the keeper stopped, or the colony left the boxes.
    Rest is judged from `rest_from` (None: no course before) and from `before`, the pieces of
    earlier courses; `inside` are all that were in the boxes at the start.
    """

    id: str
    treatment: str
    terms: str
    plan: str
    colony: str
    hive: str
    first: int
    last: int
    began: Key
    k: int
    n: int | None
    gap: Gap | None
    doses: tuple[Dose, ...]
    pieces: tuple[str, ...] = ()
    flags: tuple[Flag, ...] = ()
    ended: str = ""
    ended_on: int | None = None
    left_pieces: int | None = None
    parted: str = ""
    asks: tuple[str, ...] = ()
    closes_to: int | None = None
    rest_from: int | None = None
    before: tuple[str, ...] = ()
    inside: tuple[str, ...] = ()

    def has(self, application: str) -> bool:
        """Return whether it was given to this course."""
        return any(dose.id == application for dose in self.doses)

    @property
    def below(self) -> bool:
        """Whether the course is below its planned number; so is one whose number is not known."""
        return self.n is None or self.k < self.n


class Exposure(NamedTuple):
    """Pieces of one application and its replacements in one hive's boxes.

    `judged` is the place from which on supers of these boxes are judged. `into` pieces went in
    (None: nobody said how many), `remaining` are in by the count, of which `not_found` were
    looked for in vain. `last_out` is the day of the last piece out, None while one is in.
    `ended_by` is ``out``, ``lost``, ``split``, ``unite`` or ``transfer``. `unsure`: splits after
    which nobody said how many of the pieces are in which part, and whether these are the
    ``whole``'s, the ``part``'s, or ``together`` again. Where versions stand side by side it is the
    worst of them, and `held` are first day in and last out of the version that holds, which due
    dates follow. `looked`: where other combs came after the last piece was out, the place of that
    and the looks of until then, which judge the stay.
    """

    id: str
    treatment: str
    terms: str
    first: int
    key: Key
    judged: Key
    into: int | None
    out: int = 0
    lost: int = 0
    not_found: int = 0
    remaining: int = 0
    last_out: int | None = None
    last_out_key: Key | None = None
    ended_by: str = ""
    flags: tuple[Flag, ...] = ()
    records: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    unsure: tuple[tuple[str, str], ...] = ()
    held: tuple[int, int | None] | None = None
    looked: tuple[Key, tuple[Look, ...]] | None = None

    @property
    def moved_on(self) -> bool:
        """Whether its pieces went on to other boxes with the combs."""
        return self.ended_by in ("unite", "transfer")

    @property
    def open(self) -> bool:
        """Whether a piece is in, or may be."""
        return self.last_out is None


class Cause(NamedTuple):
    """One reason for closed days of a hive: an application, or the days of a course.

    Closed from `first` to `last`, both included; `last` None is without end because of `why`:
    ``pieces in``, ``period``, ``season``, ``answer``; or empty. `end` is the end of exposure.
    `wants_off` says that the treatment wants supers off; a super put on from `key` on, up to
    `super_last` (None: without end), is exposed; one that is on between `key` and `until`
    (None: still) too, where `exposes`. `inherited` causes came with combs from other boxes at
    `key`: supers are judged from that instant, as if put on then. `seasonal`: a period of it
    lasts until next season's supers.
    """

    record: str
    treatment: str
    terms: str
    course: str
    hive: str
    first: int
    last: int | None
    why: str
    end: int | None
    key: Key
    until: Key | None
    exposes: bool
    wants_off: bool
    super_last: int | None
    period: str
    of_course: bool = False
    inherited: bool = False
    seasonal: bool = False


class Interval(NamedTuple):
    """Closed days in a row; `causes` are indices into the state's causes."""

    first: int
    last: int | None
    causes: tuple[int, ...]


class SuperState(NamedTuple):
    """A super (or the unmarked lot of a hive) and whether it was exposed.

    `hive` is where it stands, None in the store. `certain` False: *exposed: not known*.
    """

    mark: str
    of_hive: str | None
    hive: str | None
    number: int | None
    exposed: bool
    certain: bool
    records: tuple[str, ...]
    since: int | None


class Look(NamedTuple):
    """A look at sealed brood: ``none``, ``hardly any``, ``yes`` or ``not seen``."""

    key: Key
    brood: str

    @property
    def day(self) -> int:
        """The day of the look."""
        return self.key[0]


class Event(NamedTuple):
    """A dated fact that the agenda reads.

    `what` is ``count``, ``day after``, ``board in``, ``board out``, ``looked`` (a look that tells
    of the queen) or what was done with the queen (``caged`` …); `ref` the application it names,
    or the way of counting.
    """

    key: Key
    what: str
    ref: str = ""

    @property
    def day(self) -> int:
        """The day of the event."""
        return self.key[0]


class Question(NamedTuple):
    """What only the keeper can answer, and the records that it is about.

    `what` is one of: twice, heads, joins, split, period, pieces, unite, terms.
    """

    what: str
    records: tuple[str, ...]
    treatment: str = ""
    day: int | None = None


class Drawn(NamedTuple):
    """Honey of this hive in a lot; `held` says why the lot is to be held, empty if it is not."""

    lot: str
    record: str
    mark: str
    day: int
    key: Key
    held: tuple[str, ...] = ()


class HiveState(NamedTuple):
    """All that rules know of one hive, from records alone.

    `deaths` are the places in the order at which a colony died here, with the records; `seen`
    the supers that a keeper saw ``on``, or could not tell, at an application.
    """

    hive: str
    number: str = ""
    apiary: str | None = None
    stand: float | None = None
    boxes: int | None = None
    ended: str = ""
    colony: str = ""
    born: int | None = None
    dead: int | None = None
    dead_record: str = ""
    deaths: tuple[tuple[Key, str], ...] = ()
    seen: tuple[tuple[Key, str, str], ...] = ()
    country: str = ""
    south: bool | None = None
    courses: tuple[Course, ...] = ()
    exposures: tuple[Exposure, ...] = ()
    causes: tuple[Cause, ...] = ()
    closed: tuple[Interval, ...] = ()
    supers: tuple[SuperState, ...] = ()
    supers_off_on: int | None = None
    looks: tuple[Look, ...] = ()
    events: tuple[Event, ...] = ()
    questions: tuple[Question, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    terms: Mapping[str, Terms] = {}
    plans: Mapping[str, Plan] = {}
    entered: Mapping[str, Period] = {}

    def lives(self, day: int) -> bool:
        """Whether a colony lives here on `day`: not in boxes that are empty, dead or gone.

        What is treated after that are bees that nobody recorded.
        """
        if self.ended:
            return False
        dead = self.dead if self.dead is not None and self.dead <= day else None
        if any(not each.colony and (dead is None or each.last > dead) for each in self.courses):
            return True
        return bool(self.colony) and dead is None
