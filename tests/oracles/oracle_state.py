"""What the oracle keeps while it walks through the records: plain, mutable, copied whole."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from oracle_versions import Key


@dataclass(eq=False)
class Terms:
    """A treatment's terms; `body` None where the record named is not there."""

    treatment: str
    body: dict[str, Any] | None

    def value(self, name: str) -> Any:
        """Return the value, whatever its standing, or None where it is missing."""
        entry = self.entry(name)
        return None if entry is None else entry["value"]

    def entry(self, name: str) -> dict[str, Any] | None:
        return None if self.body is None else self.body["values"].get(name)


@dataclass(eq=False)
class Exposure:
    """One application to one set of boxes, for as long as it acts.

    `present` counts the pieces that are in: None where their number is not known. A dose has no
    pieces and ends at once. `stood` are the boxes that it was in before, each with when it left.
    `end` is the key of what ended it. `judged` is how the stay was judged when the colony left
    its pieces behind; `own_looks` are the end of pieces that were
    all out when other combs came to their boxes, and the looks until then.
    """

    id: str
    names: set[str]
    treatment: str
    given_in: str
    own: Terms
    course_terms: Terms
    first: date
    start: Key
    judged_from: Key
    pieces: bool
    put_in: int | None = 0
    out: int = 0
    lost: int = 0
    missing: int = 0
    present: int | None = 0
    last_out: date | None = None
    end: Key | None = None
    flags: set[str] = field(default_factory=set)
    judged: str | None = None
    own_looks: tuple[Key, list[Look]] | None = None
    moved_on: bool = False
    here_since: Key = ("", 0, "", "")
    stood: list[tuple[str, Key]] = field(default_factory=list)
    sides: set[tuple[str, str]] = field(default_factory=set)
    merged: list[Exposure] = field(default_factory=list)

    @property
    def all_terms(self) -> list[tuple[Terms, str]]:
        """Its own terms and its course's, those of what was added to it, and where given."""
        mine = [(self.own, self.given_in), (self.course_terms, self.given_in)]
        return mine + [pair for other in self.merged for pair in other.all_terms]

    @property
    def open(self) -> bool:
        return self.present is None or self.present > 0


@dataclass(eq=False)
class Given:
    """One application as a course counts it."""

    id: str
    day: date
    key: Key
    part: bool
    terms: Terms
    flags: set[str] = field(default_factory=set)


@dataclass(eq=False)
class Course:
    """The applications of one treatment to one colony that belong together."""

    treatment: str
    terms: Terms
    given: list[Given]
    n: int | None
    last: date
    plan: dict[str, Any] | None = None
    plan_id: str | None = None
    k: int = 0
    exposures: list[Exposure] = field(default_factory=list)
    before: list[Course] = field(default_factory=list)
    pieces_before: list[Exposure] = field(default_factory=list)
    flags: set[str] = field(default_factory=set)
    stopped: date | None = None
    followed: date | None = None
    united: bool = False
    left: date | None = None

    @property
    def id(self) -> str:
        """The id of its first application."""
        return self.given[0].id

    @property
    def gap(self) -> dict[str, Any] | None:
        """The days between: the keeper's plan decides where there is one.

        None: there are none, each application is a course of its own. A plan without days is
        a course all the same, whose days between are not known.
        """
        if self.plan is not None:
            return dict(self.plan["gap"])
        gap = self.terms.value("gap")
        if gap:
            return dict(gap)
        return {} if self._several() else None

    def _several(self) -> bool:
        """Whether the label plans more than one application."""
        applications = self.terms.value("applications") or {}
        if "usual" in applications:
            return bool(applications["usual"] > 1)
        return any(number > 1 for number in applications.values())

    @property
    def below(self) -> bool:
        """Below its planned number; one whose number is not known counts as below."""
        return self.n is None or self.k < self.n

    @property
    def pieces_in(self) -> bool:
        return any(exposure.open for exposure in self.exposures)


@dataclass(eq=False)
class Segment:
    """The days from one application of a course on, as far as they close these boxes."""

    course: Course
    given: Given
    given_in: str
    judged_from: Key
    cap: date | None = None


@dataclass(eq=False)
class Look:
    """A look that saw whether there is sealed brood."""

    key: Key
    day: date
    brood: bool


@dataclass(eq=False)
class Colony:
    """The bees: courses and counts go with them."""

    id: str
    courses: list[Course] = field(default_factory=list)
    counts: dict[tuple[str, str, int], int] = field(default_factory=dict)
    hive: str | None = None
    implicit: bool = False
    dead: bool = False
    ended: bool = False


@dataclass(eq=False)
class Boxes:
    """A hive: pieces, closed days and supers go with it.

    `past` are exposures that another of the same application stands for here: each still closes
    its own days.
    """

    id: str
    colony: Colony | None = None
    exposures: list[Exposure] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    looks: list[Look] = field(default_factory=list)
    past: list[Exposure] = field(default_factory=list)
    came: date = date.min
