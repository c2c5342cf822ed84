"""One hive's boxes and the colony in them, folded record by record in order.

A `Boxes` is the state between two records.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry import courses, pieces
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.rest import find, meant
from fieldapp.husbandry.state import Course, Exposure, Look, Plan
from fieldapp.husbandry.terms import Terms, unknown_terms
from fieldapp.husbandry.tracks import NEW, UNANSWERED, Given, Known, Track
from fieldapp.journal.record import Record

#: How a course ends whose bees are dead or other bees' now.
DEAD = "colony gone"
#: Stands in the name of a course that the colony has taken along to other boxes.
LEFT = " left "


class Lookups(NamedTuple):
    """What folding one hive needs of records that belong to no hive."""

    terms: Callable[[str, str], Sequence[Terms | None]]
    plans: Callable[[str], Sequence[Plan | None]]
    joins: Callable[[Iterable[str]], str | None]
    pieces_along: Callable[[Record], int | None]
    looks: Callable[[str], Sequence[Look]]
    going_along: Callable[[Boxes, Key], tuple[Draft, ...]]


class Boxes:
    """A hive between two records. Values inside are immutable, so that a copy is cheap."""

    __slots__ = (
        "alias",
        "born",
        "choice",
        "colony",
        "courses",
        "dead",
        "dead_record",
        "drafts",
        "exposures",
        "extra",
        "hive",
        "implicit",
        "known_as",
        "looks",
        "looks_up",
        "others",
        "since",
        "supers_seen",
        "tracks",
    )

    def __init__(self, hive: str, looks_up: Lookups) -> None:
        self.hive = hive
        self.looks_up = looks_up
        self.colony = hive
        self.implicit = True
        self.born: int | None = None
        self.dead: int | None = None
        self.dead_record = ""
        self.tracks: dict[str, Track] = {}
        self.exposures: dict[str, Exposure] = {}
        self.courses: dict[str, Course] = {}
        self.drafts: list[Draft] = []
        self.alias: Mapping[str, str] = {}
        self.others: Mapping[str, Sequence[str]] = {}
        self.known_as: dict[str, str] = {}
        self.supers_seen: list[tuple[Key, str, str]] = []
        self.choice: dict[str, int] = {}
        self.extra: dict[str, str] = {}
        self.looks: tuple[Look, ...] = ()
        self.since: Key = (0, 0, "", "")

    def copy(self) -> Boxes:
        """Return boxes that go on by themselves from here."""
        twin = Boxes(self.hive, self.looks_up)
        twin.colony, twin.implicit, twin.born = self.colony, self.implicit, self.born
        twin.dead, twin.dead_record = self.dead, self.dead_record
        twin.tracks, twin.exposures = dict(self.tracks), dict(self.exposures)
        twin.courses, twin.drafts = dict(self.courses), list(self.drafts)
        twin.alias, twin.supers_seen = self.alias, list(self.supers_seen)
        twin.others, twin.known_as = self.others, dict(self.known_as)
        twin.choice, twin.extra = dict(self.choice), dict(self.extra)
        twin.looks, twin.since = self.looks, self.since
        return twin

    # Treatments

    def application(self, key: Key, record: Record, extra_of: str = "") -> None:
        """Take an application in. `extra_of`: perhaps the same one as that, not answered yet."""
        body = record.body
        treatment = body["treatment"]
        terms = self.terms(body["terms"], treatment, "pieces" in body)
        count = body.get("pieces")
        inside = tuple([e.id for e in self.exposures.values() if e.treatment == treatment])
        made: tuple[str, ...] = ()
        if count != 0 and (terms.form == "pieces" or count):
            self.exposures[record.id] = pieces.put_in(record.id, terms, key, count)
            made = (record.id,)
        if self.dead is not None and not self.tracks:
            self.colony = ""
        if seen := body.get("supers"):
            self.supers_seen.append((key, seen, record.id))
        plan = self._plan(body["plan"]) if "plan" in body else None
        joins = UNANSWERED if extra_of else self._joins(record)
        part = bool(body.get("part"))
        given = Given(record.id, key[0], key, terms, plan, part, joins, made, inside)
        track = self.tracks.get(treatment)
        course: Course | None = None
        if extra_of:
            self.extra[record.id] = extra_of
            course = self._course_with(extra_of, treatment, united=True)
            if course is not None and track is not None:
                track, course = courses.count_extra(track, course, given, extra_of)
                self.courses[course.id] = course
        else:
            known = Known(self._plan, self.known_terms)
            track, changed = courses.give(track, given, self.colony, self.hive, known)
            for each in changed:
                self.courses[each.id] = each
            course = next((each for each in changed if each.doses[-1].id == given.id), track.course)
        if track is not None:
            self.keep(treatment, track)
        self.drafts.append(
            Draft(
                record.id,
                treatment,
                terms.id,
                course.id if course is not None else "",
                self.hive,
                key[0],
                key,
                record.id if made else "",
                key,
            )
        )

    def holds_for(self, application: str) -> str:
        """Return the application that holds for one that was answered to be the same."""
        return self.alias.get(application) or self.known_as.get(application, application)

    def _plan(self, name: str) -> Plan | None:
        versions = self.looks_up.plans(name)
        return versions[min(self.choice.get(name, 0), len(versions) - 1)] if versions else None

    def known_terms(self, name: str, treatment: str) -> Terms | None:
        """Return the terms that count here, None where none arrived or they are void."""
        versions = self.looks_up.terms(name, treatment)
        return versions[min(self.choice.get(name, 0), len(versions) - 1)] if versions else None

    def terms(self, name: str, treatment: str, has_pieces: bool) -> Terms:
        """Return the terms that count here, such that say nothing where there are none."""
        known = self.known_terms(name, treatment)
        return known or unknown_terms(treatment, name, has_pieces)

    def _joins(self, record: Record) -> Course | str:
        """Return the course that an application was answered to join, `NEW` or `UNANSWERED`.

        An answer that names no application of such a course here is asked again.
        """
        answer = self.looks_up.joins((record.id, *self.others.get(record.id, ())))
        if answer is None:
            answer = record.body.get("joins", UNANSWERED)
        if answer in (NEW, UNANSWERED):
            return answer
        answer = self.holds_for(answer)
        answer = self.extra.get(answer, answer)
        if answer == record.id or answer in self.others.get(record.id, ()):
            return NEW
        return self._course_with(answer, record.body["treatment"]) or UNANSWERED

    def _course_with(self, application: str, treatment: str, united: bool = False) -> Course | None:
        """Return the course of the colony here to which an application was given."""
        track = self.tracks.get(treatment)
        if track is None:
            return None
        known = [course for name, course in self.courses.items() if LEFT not in name]
        for course in (track.course, *known):
            mine = course.treatment == treatment and course.colony == track.course.colony
            if mine and (united or course.ended != "united") and course.has(application):
                return course
        return None

    def pieces_in(self, course: Course) -> bool:
        """Whether a piece of the course is in these boxes."""
        mine = (find(name, self.exposures) for name in course.pieces)
        return any(exposure is not None and exposure.open for exposure in mine)

    def keep(self, treatment: str, track: Track) -> None:
        """Let a track be the last of a treatment, and its course one of these boxes."""
        self.tracks[treatment] = track
        self.courses[track.course.id] = track.course

    def pieces(self, key: Key, record: Record) -> None:
        """Take in that pieces were moved, out, lost, found or replaced."""
        body = record.body
        did, count, treatment = body["did"], body["count"], body["treatment"]
        gone = did == "out" or (did == "lost" and body.get("seen") in _GONE)
        mine = self.exposures_of(treatment, body.get("application"))
        if not mine:
            mine = [self._nothing_known(key, record)]
            if did == "lost" and not gone:
                mine = pieces.there(mine, count, record.id, found=False)
        opened = [exposure for exposure in mine if exposure.open]
        if gone:
            changed = pieces.take_out(mine, count, record.id, key, did == "lost")
        elif did == "replaced":
            changed = [pieces.replace((opened or mine[-1:])[0], count, record.id, key)]
        elif did == "lost":
            changed = [pieces.not_found(exposure, count, record.id) for exposure in opened[:1]]
        else:
            changed = pieces.there(mine, count, record.id, did == "found")
        for exposure in changed:
            self.exposures[exposure.id] = exposure

    def exposures_of(self, treatment: str, application: str | None) -> list[Exposure]:
        """Return the treatment's exposures, oldest first; only the named application's, if any."""
        mine = [each for each in self.exposures.values() if each.treatment == treatment]
        if application is not None:
            named = meant(self.holds_for(application), self.exposures)
            if named in mine:
                return [named]
        return sorted(mine, key=lambda each: each.key)

    def _nothing_known(self, key: Key, record: Record) -> Exposure:
        """Return an exposure of pieces of which nobody recorded that they went in."""
        treatment = record.body["treatment"]
        terms = self.terms("", treatment, True)
        exposure = pieces.put_back(record.id, terms, key)
        self.exposures[exposure.id] = exposure
        self.drafts.append(
            Draft(record.id, treatment, terms.id, "", self.hive, key[0], key, record.id, key)
        )
        return exposure

    def course_stop(self, key: Key, record: Record) -> None:
        """The keeper stops the colony's course of a treatment."""
        treatment = record.body["treatment"]
        track = self.tracks.get(treatment)
        if track is not None:
            self.keep(treatment, courses.stop(track, key[0], self.pieces_in(track.course)))
        for name, course in list(self.courses.items()):
            over = course.treatment == treatment and course.ended in ("united", DEAD)
            if over and course.closes_to is None:
                ended = "stopped" if course.ended == DEAD else course.ended
                self.courses[name] = course._replace(ended=ended, closes_to=key[0])


_GONE = ("outside the hive", "every box searched")
