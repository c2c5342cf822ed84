"""The hole in the course: which sealed cells hatch between visits, before it and during it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any, NamedTuple

from fieldapp.husbandry import cells
from fieldapp.husbandry.cells import Reach, Span, Timeline
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.figures import Figure, Source, Table
from fieldapp.husbandry.spoken import why
from fieldapp.husbandry.state import Course
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.options import Options
from fieldapp.words import Phrase, say

#: Days of delay that are looked at.
LATE = 2
#: Days between visits from which the keeper steps where no label names any.
APART = 7
MOST_VISITS = 12
MOST_APART = 30

CASTES: dict[str, Phrase] = {"worker": say("Worker cells"), "drone": say("Drone cells")}


class Visit(NamedTuple):
    """One application on the line: its day after the start, its date, whether it was done."""

    day: int
    date: date
    done: bool


class Share(NamedTuple):
    """How much of one caste's cells a course meets, and the dates of those it does not."""

    caste: str
    words: Phrase
    whole: bool
    hatching: tuple[Phrase, ...]


class Delay(NamedTuple):
    """What a visit that comes late opens: in words, the first for all; whether anything."""

    visit: int
    words: tuple[Phrase, ...]
    harms: bool


def has_hole(body: Mapping[str, Any]) -> bool:
    """Return whether sealed cells hide mites from a treatment with these terms."""
    reaches = body["values"].get("reaches_capped")
    return body["form"] != "act" and not (reaches and reaches["value"])


class Hole:
    """A course over the brood that is sealed on its first day.

    `done` are the days on which it was already given; `late` the number of the visit that is
    looked at as coming late, 0 for none.
    """

    def __init__(
        self,
        name: str,
        start: date,
        done: tuple[int, ...],
        number: int,
        apart: int,
        residual: Figure,
        biology: Table,
    ) -> None:
        self.name = name
        self.start = start
        self.done = done
        self.number = max(number, len(done), 1)
        self.apart = apart
        self._residual = residual
        self._biology = biology
        self.late = 0

    @classmethod
    def of(cls, notebook: Notebook, options: Options, treatment: str) -> Hole:
        """Return the course of a treatment: the one that goes on in the hive, else a new one."""
        body = options.body(treatment)
        values = body["values"]
        number, apart = _planned(values)
        start = options.day
        done: tuple[int, ...] = ()
        if len(options.hives) == 1:
            course = _going_on(notebook, options.hives[0], treatment, options.day)
            if course is not None:
                start = as_date(course.first)
                done = tuple(dose.day - course.first for dose in course.doses)
                number = course.n or number
                gap = course.gap.target or course.gap.most if course.gap else None
                apart = gap or apart
        return cls(
            body["name"],
            start,
            done,
            number,
            apart,
            _residual(body),
            notebook.published.biology,
        )

    # -- what is shown

    @property
    def visits(self) -> list[Visit]:
        """The visits in order: those done on their days, those to come evenly after them."""
        return [
            Visit(day, self.start + timedelta(days=day), index < len(self.done))
            for index, day in enumerate(self.days)
        ]

    @property
    def days(self) -> tuple[int, ...]:
        """Days of the visits after the start, the late one and those after it put off."""
        planned = self._planned
        if not self.late:
            return planned
        return tuple(int(day) for day in cells.delayed(planned, self.late, LATE))

    @property
    def timeline(self) -> Timeline:
        """The course over the sealed brood of its first day."""
        return cells.timeline(self.start, self.days, self._residual, self._biology)

    @property
    def acts(self) -> float:
        """Days over which one application is reckoned to act."""
        return self._residual.low

    @property
    def shares(self) -> list[Share]:
        """How much is met, caste by caste, and when the rest hatches."""
        timeline = self.timeline
        return [
            Share(
                each.caste,
                say(
                    "{caste}: {percent} % met",
                    caste=CASTES[each.caste],
                    percent=round(100 * each.share, 1),
                ),
                not each.holes,
                tuple(
                    _hatch(first, last)
                    for caste, first, last in timeline.hatching
                    if caste == each.caste
                ),
            )
            for each in timeline.castes
        ]

    @property
    def delays(self) -> list[Delay]:
        """What each visit still to come would open by coming two days late."""
        before = cells.timeline(self.start, self._planned, self._residual, self._biology)
        found = []
        for visit in range(max(1, len(self.done)), len(self._planned)):
            late = tuple(int(day) for day in cells.delayed(self._planned, visit, LATE))
            after = cells.timeline(self.start, late, self._residual, self._biology)
            found.append(_delay(self.start, visit, before.castes, after.castes))
        return found

    @property
    def reasons(self) -> list[Phrase]:
        """Why it is so, *reach is not kill* and the trial first."""
        return why(self.timeline.reasons)

    # -- what may be changed

    def add_visits(self, step: int) -> None:
        """Plan more visits or fewer; what was done stays done."""
        self.number = min(MOST_VISITS, max(self.number + step, len(self.done), 1))
        self.late = 0

    def add_days(self, step: int) -> None:
        """Plan more days between visits or fewer."""
        self.apart = min(MOST_APART, max(1, self.apart + step))
        self.late = 0

    def turn_late(self) -> None:
        """Look at the next visit to come as late; after the last, at none."""
        last = len(self._planned) - 1
        first = max(1, len(self.done))
        following = first if not self.late else self.late + 1
        self.late = following if following <= last else 0

    @property
    def _planned(self) -> tuple[int, ...]:
        days = list(self.done) or [0]
        while len(days) < self.number:
            days.append(days[-1] + self.apart)
        return tuple(days)


def _hatch(first: date, last: date) -> Phrase:
    if first == last:
        return say("hatch unmet on {day}", day=first)
    return say("hatch unmet {first} to {last}", first=first, last=last)


def _delay(start: date, visit: int, before: tuple[Reach, ...], after: tuple[Reach, ...]) -> Delay:
    """Return what a late visit opens: the dates on which cells hatch unmet that were met."""
    lost = [
        _opens(start, was.caste, span)
        for was, now in zip(before, after, strict=True)
        for span in cells.opened(was, now)
    ]
    number = visit + 1
    if not lost:
        return Delay(visit, (say("Visit {n} two days late: opens nothing", n=number),), False)
    return Delay(visit, (say("Visit {n} two days late opens a hole", n=number), *lost), True)


def _opens(start: date, caste: str, span: Span) -> Phrase:
    return say("{caste}: {dates}", caste=CASTES[caste], dates=_hatch(*cells.dates(start, span)))


def _planned(values: Mapping[str, Any]) -> tuple[int, int]:
    number = values.get("applications", {}).get("value", {})
    gap = values.get("gap", {}).get("value", {})
    planned = next((number[key] for key in ("usual", "least", "most") if key in number), 1)
    apart = next((gap[key] for key in ("target", "most", "least") if key in gap), APART)
    return planned, apart


def _going_on(notebook: Notebook, hive: str, treatment: str, day: date) -> Course | None:
    for view in notebook.book.courses(hive, day):
        if view.course.treatment == treatment and view.next is not None:
            return view.course
    return None


def _residual(body: Mapping[str, Any]) -> Figure:
    """Return for how long one application acts: as the terms say, or as long as pieces stay in.

    Terms that say neither count as acting on the day alone.
    """
    values = body["values"]
    if "residual" in values:
        entry = values["residual"]
        return _figure(entry["value"], entry, body)
    stays = values.get("stay")
    known = [each["least"] for each in stays["value"] if "least" in each] if stays else []
    if known:
        return _figure(float(min(known)), stays, body)
    return Figure(
        0.0, 0.0, "d", "computed", Source("not in the terms: reckoned as acting on its day alone")
    )


def _figure(days: float, entry: Mapping[str, Any], body: Mapping[str, Any]) -> Figure:
    source = body["sources"].get(entry["source"], {"title": entry["source"]})
    known = {key: source[key] for key in Source._fields if key in source}
    return Figure(float(days), float(days), "d", entry["standing"], Source(**known))
