"""One hive's boxes and the colony in them, folded record by record in order.

A `Boxes` is the state between two records. What goes along in a split, unite, swarm or
transfer is a `Handover`, a value: the other hive's fold takes it in at the same place of the
order, so that each hive folds by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from fieldapp.husbandry import courses, pieces
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.courses import NEW, UNANSWERED, Given, Track
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.rest import find, rest_flags
from fieldapp.husbandry.state import Course, Exposure, Look, Plan
from fieldapp.husbandry.terms import Terms, unknown_terms
from fieldapp.journal.record import Record


class Handover(NamedTuple):
    """What goes to other boxes: the colony's tracks, and with combs pieces and closed days.

    `choice` says which versions of records that stand side by side it rests on.
    """

    colony: str
    tracks: tuple[tuple[str, Track], ...] = ()
    exposures: tuple[Exposure, ...] = ()
    drafts: tuple[Draft, ...] = ()
    courses: tuple[tuple[str, Course], ...] = ()
    looks: tuple[Look, ...] = ()
    combs: bool = False
    choice: tuple[tuple[str, int], ...] = ()


NOTHING = Handover("")

#: How a course ends whose bees are dead or other bees' now.
DEAD = "colony gone"
#: Stands in the name of a course that the colony has taken along to other boxes.
LEFT = " left "


class Lookups(NamedTuple):
    """What folding one hive needs of records that belong to no hive."""

    terms: Callable[[str, str], Terms | None]
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
        "looks",
        "looks_up",
        "others",
        "since",
        "stopped",
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
        twin.others = self.others
        twin.choice, twin.extra = dict(self.choice), dict(self.extra)
        twin.looks, twin.since = self.looks, self.since
        return twin

    # Treatments

    def application(self, key: Key, record: Record, extra_of: str = "") -> None:
        """Take an application in. `extra_of`: perhaps the same one as that, not answered yet."""
        body = record.body
        treatment = body["treatment"]
        terms = self._terms(body["terms"], treatment, "pieces" in body)
        count = body.get("pieces")
        inside = tuple(each.id for each in self.exposures.values() if each.treatment == treatment)
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
            course = self._course_with(extra_of, treatment)
            if course is not None and track is not None:
                track, course = courses.count_extra(track, course, given, extra_of)
                self.courses[course.id] = course
        else:
            track, changed = courses.give(track, given, self.colony, self.hive, self._plan)
            for each in changed:
                self.courses[each.id] = each
            course = next((each for each in changed if each.doses[-1].id == given.id), track.course)
        if track is not None:
            self._keep(treatment, track)
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

    def _plan(self, name: str) -> Plan | None:
        versions = self.looks_up.plans(name)
        return versions[min(self.choice.get(name, 0), len(versions) - 1)] if versions else None

    def _terms(self, name: str, treatment: str, has_pieces: bool) -> Terms:
        return self.looks_up.terms(name, treatment) or unknown_terms(treatment, name, has_pieces)

    def _joins(self, record: Record) -> Course | str:
        """Return the course that an application was answered to join, `NEW` or `UNANSWERED`.

        An answer that names no application of such a course here is asked again.
        """
        answer = self.looks_up.joins((record.id, *self.others.get(record.id, ())))
        if answer is None:
            answer = record.body.get("joins", UNANSWERED)
        answer = self.alias.get(answer, answer)
        answer = self.extra.get(answer, answer)
        if answer in (NEW, UNANSWERED):
            return answer
        if answer == record.id or answer in self.others.get(record.id, ()):
            return NEW
        return self._course_with(answer, record.body["treatment"]) or UNANSWERED

    def _course_with(self, application: str, treatment: str) -> Course | None:
        """Return the course of the colony here to which an application was given."""
        track = self.tracks.get(treatment)
        if track is None:
            return None
        known = [course for name, course in self.courses.items() if LEFT not in name]
        for course in (track.course, *known):
            mine = course.treatment == treatment and course.colony == track.course.colony
            if mine and course.ended != "united" and course.has(application):
                return course
        return None

    def _pieces_in(self, course: Course) -> bool:
        """Whether a piece of the course is in these boxes."""
        mine = (find(name, self.exposures) for name in course.pieces)
        return any(exposure is not None and exposure.open for exposure in mine)

    def _keep(self, treatment: str, track: Track) -> None:
        self.tracks[treatment] = track
        self.courses[track.course.id] = track.course

    def pieces(self, key: Key, record: Record) -> None:
        """Take in that pieces were moved, out, lost, found or replaced."""
        body = record.body
        did, count, treatment = body["did"], body["count"], body["treatment"]
        gone = did == "out" or (did == "lost" and body.get("seen") in _GONE)
        mine = self._exposures(treatment, body.get("application"))
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

    def _exposures(self, treatment: str, application: str | None) -> list[Exposure]:
        """Return the treatment's exposures, oldest first; only the named application's, if any."""
        mine = [each for each in self.exposures.values() if each.treatment == treatment]
        if application is not None:
            named = find(self.alias.get(application, application), self.exposures)
            if named in mine:
                return [named]
        return sorted(mine, key=lambda each: each.key)

    def _nothing_known(self, key: Key, record: Record) -> Exposure:
        """Return an exposure of pieces of which nobody recorded that they went in."""
        treatment = record.body["treatment"]
        terms = self._terms("", treatment, True)
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
            self._keep(treatment, courses.stop(track, key[0], self._pieces_in(track.course)))
        for name, course in list(self.courses.items()):
            over = course.treatment == treatment and course.ended in ("united", DEAD)
            if over and course.closes_to is None:
                ended = "stopped" if course.ended == DEAD else course.ended
                self.courses[name] = course._replace(ended=ended, closes_to=key[0])

    # Colonies

    def colony_comes(self, key: Key, record: Record) -> None:
        """A colony record: the bees that were there get their id, or other bees come in."""
        name = record.colony or self.hive
        if record.body["origin"] == "was there" and self.implicit:
            self.tracks = {
                treatment: track._replace(course=track.course._replace(colony=name))
                for treatment, track in self.tracks.items()
            }
            for track in self.tracks.values():
                self.courses[track.course.id] = track.course
            self.colony, self.implicit = name, False
            self.born = self.born or key[0]
        elif name != self.colony or self.dead is not None:
            self._move_in(name, key)

    def _move_in(self, colony: str, key: Key) -> None:
        """Let another colony live here; courses of the one before end where they stood."""
        self._end_courses(DEAD, key)
        self.colony, self.implicit, self.born = colony, False, key[0]
        self.dead, self.dead_record = None, ""
        self.tracks = {}

    def _end_courses(self, why: str, key: Key) -> None:
        """End what the colony here has under way; its days close no longer than to this one."""
        last = {track.course.id for track in self.tracks.values()}
        for name, known in list(self.courses.items()):
            if LEFT in name or known.colony != self.colony:
                continue
            course = known if why == DEAD else courses.stale(known, key[0])
            if not course.ended and (course.below or (why != DEAD and self._pieces_in(course))):
                course = course._replace(ended=why, ended_on=key[0])
            if course.closes_to is None and why != DEAD and course.id in last:
                course = course._replace(closes_to=key[0])
            self.courses[name] = course

    def _empty(self, why: str, key: Key) -> None:
        """No colony is left: what is treated here next is one that nobody recorded."""
        self._end_courses(why, key)
        self.tracks = {}
        self.colony, self.implicit, self.born = "", True, None

    def death(self, key: Key, record: Record) -> None:
        """The colony is dead: its pieces stay due, its courses are over."""
        self._end_courses(DEAD, key)
        self.tracks = {}
        self.dead, self.dead_record = key[0], record.id
        self.implicit = True

    def _handed(self, key: Key, colony: str, combs: bool) -> Handover:
        """Return what goes along: tracks always, pieces and closed days only with combs."""
        if not combs:
            parted = ((name, self._parted(track, key)) for name, track in self.tracks.items())
            return Handover(colony, tuple(sorted(parted, key=_by_treatment)))
        drafts = self.looks_up.going_along(self, key)
        members = {draft.course for draft in drafts}
        return Handover(
            colony,
            tuple(sorted(self.tracks.items(), key=_by_treatment)),
            tuple(self.exposures.values()),
            drafts,
            tuple(
                (name, course._replace(colony=colony) if self._is_mine(course) else course)
                for name, course in self.courses.items()
                if name in members
            ),
            self._looks(key),
            combs=True,
        )

    def _is_mine(self, course: Course) -> bool:
        return course.colony == self.colony and course.ended != DEAD and self.dead is None

    def _looks(self, key: Key) -> tuple[Look, ...]:
        """Return the looks before `key` that can judge the pieces here."""
        looks = [each for each in self.looks_up.looks(self.hive) if self.since < each.key < key]
        looks = [*self.looks, *looks]
        return pieces.looks_that_matter(looks, self.exposures.values())

    def _parted(self, track: Track, key: Key) -> Track:
        """Return the track of a colony that leaves its pieces behind, judged as they stand."""
        course = track.course
        mine = [find(name, self.exposures) for name in course.pieces]
        stood = [pieces.end_here(e, key, "parted") if e.open else e for e in mine if e is not None]
        before = [find(name, self.exposures) for name in course.before]
        ends = [e.last_out for e in (*stood, *before) if e is not None and e.last_out is not None]
        terms = self.looks_up.terms(course.terms, course.treatment)
        ended = {each.id: each for each in self.exposures.values()}
        ended |= {
            each.id: pieces.end_here(each, key, "parted") for each in ended.values() if each.open
        }
        flags = rest_flags(course, terms, ended)
        word = self._judged(stood, key, course.parted)
        rests = [end for end in (track.rest_end, *ends) if end is not None]
        course = course._replace(
            flags=course.flags + flags,
            left_pieces=max(ends) if stood and ends else course.left_pieces,
            parted=word,
            pieces=(),
            rest_from=None,
            before=(),
            inside=(),
        )
        return track._replace(course=course, rest_end=max(rests) if rests else None, pieces=())

    def _judged(self, stood: list[Exposure], key: Key, before: str) -> str:
        """Return how pieces that are left behind are judged: empty, or what is amiss."""
        looks = self._looks(key)
        words = {before}
        for exposure in stood:
            terms = self._terms(exposure.terms, exposure.treatment, True)
            words.add(pieces.stayed(exposure, pieces.stays(exposure, terms, looks, key[0])))
        return next((word for word in ("taken out early", "stay not known") if word in words), "")

    def split_off(self, key: Key, record: Record) -> Handover:
        """Return the part's share of a split, and lower what stays by pieces that went along."""
        along = self.looks_up.pieces_along(record)
        handed = self._handed(key, record.body["to_colony"], combs=True)
        opened = [each for each in handed.exposures if each.open]
        total = sum(each.remaining for each in opened)
        if not opened:
            return handed
        if along is None:
            return self._open_in_both(handed, record.id)
        unclear = len(opened) > 1 or opened[0].into is None
        if along == 0:
            part = [pieces.end_here(each, key, "split") for each in opened]
        elif along >= total and not any(each.into is None for each in opened):
            part = [_share(each, each.remaining) for each in opened]
            if len(opened) == 1:
                part = [_share(opened[0], along)]
            for each in opened:
                left = _without(each, along if len(opened) == 1 else each.remaining)
                self.exposures[each.id] = pieces.end_here(left, key, "split")
        elif unclear:
            return self._open_in_both(handed, record.id)
        else:
            part = [_share(opened[0], along)]
            self.exposures[opened[0].id] = _without(opened[0], along)
        changed = {each.id: each for each in part}
        exposures = tuple(changed.get(each.id, each) for each in handed.exposures)
        return handed._replace(exposures=exposures)

    def _open_in_both(self, handed: Handover, split: str) -> Handover:
        """Return the share where nobody said which pieces went along: they are open in both."""
        exposures = tuple(
            each._replace(unsure=(*each.unsure, (split, "part"))) if each.open else each
            for each in handed.exposures
        )
        for each in handed.exposures:
            if each.open:
                self.exposures[each.id] = each._replace(unsure=(*each.unsure, (split, "whole")))
        return handed._replace(exposures=exposures)

    def part_comes(self, key: Key, handed: Handover) -> None:
        """Take the part of a split in: copies of courses, closed days and pieces."""
        self._move_in(handed.colony, key)
        self.looks, self.since = handed.looks, key
        self._bring(key, handed, add_up=False)
        for treatment, track in handed.tracks:
            course = track.course._replace(colony=handed.colony)
            self._keep(treatment, track._replace(course=course))

    def _bring(self, key: Key, handed: Handover, add_up: bool) -> None:
        """Take combs in, with the pieces between them and what closes their honey.

        `add_up`: open pieces of one treatment become one exposure, from the earlier first in.
        """
        now: dict[str, str] = {}
        for exposure in handed.exposures:
            mine = self.exposures.get(exposure.id)
            if mine is not None and mine.open and exposure.open:
                self.exposures[exposure.id] = _together(mine, exposure)
                continue
            others = [each for each in self._exposures(exposure.treatment, None) if each.open]
            if add_up and exposure.open and others:
                self.exposures[others[0].id] = pieces.add_up(others[0], exposure)
                now[exposure.id] = others[0].id
            elif mine is None or (not mine.open and _later_out(exposure, mine)):
                self.exposures[exposure.id] = exposure
        for name, course in handed.courses:
            mine_now = course.colony == handed.colony
            self.courses.setdefault(
                name, course._replace(colony=self.colony) if mine_now else course
            )
        here = {draft.record for draft in self.drafts if LEFT not in draft.course}
        for draft in handed.drafts:
            if draft.record not in here:
                exposure_id = now.get(draft.exposure, draft.exposure)
                self.drafts.append(draft._replace(joined=key, exposure=exposure_id))

    def leave(self, key: Key, record: Record) -> Handover:
        """Return the whole colony as it leaves in a unite or transfer; pieces go with combs."""
        combs = record.kind == "unite" or record.body["combs"] != "bees only"
        colony = self.colony
        handed = self._handed(key, colony, combs)
        self._empty("moved" if record.kind == "transfer" else "united", key)
        self._freeze(key, combs)
        if combs:
            for each in list(self.exposures.values()):
                if each.open:
                    self.exposures[each.id] = pieces.end_here(each, key, record.kind)
        return handed

    def _freeze(self, key: Key, combs: bool) -> None:
        """Keep courses as these boxes knew them, apart from what they become elsewhere."""
        names = {}
        for name, course in list(self.courses.items()):
            if combs and (course.closes_to is None or course.closes_to > key[0]):
                course = course._replace(closes_to=key[0])  # noqa: PLW2901
            del self.courses[name]
            names[name] = name if LEFT in name else f"{name}{LEFT}{key[3]}"
            self.courses[names[name]] = course
        self.drafts = [
            draft._replace(course=names.get(draft.course, draft.course)) for draft in self.drafts
        ]

    def joined_by(self, key: Key, handed: Handover) -> None:
        """Unite: one course goes on of each treatment, pieces add up, closed days are united."""
        mine_in = {name: self._pieces_in(track.course) for name, track in self.tracks.items()}
        theirs_in = {name: _open_in(track.course, handed) for name, track in handed.tracks}
        if self.dead is not None and not self.tracks:
            self._move_in(handed.colony, key)
        self._bring(key, handed, add_up=True)
        colony = self.colony
        for treatment, theirs in handed.tracks:
            mine = self.tracks.get(treatment)
            goes_on = theirs
            if mine is not None:
                inside = (mine_in[treatment], theirs_in[treatment])
                goes_on, ended = courses.unite(mine, theirs, key[0], inside)
                self.courses[ended.id] = ended._replace(colony=colony)
            course = goes_on.course._replace(colony=colony)
            self._keep(treatment, goes_on._replace(course=course))

    def moved_in(self, key: Key, handed: Handover) -> None:
        """Transfer: the colony lives here now, with what its combs brought."""
        self._move_in(handed.colony, key)
        if handed.combs:
            self.looks, self.since = handed.looks, key
        self._bring(key, handed, add_up=False)
        for treatment, track in handed.tracks:
            self._keep(treatment, track)

    def swarm_off(self, key: Key, record: Record) -> Handover:
        """Return what a swarm takes along: courses, rest and limits."""
        tracks = []
        new = record.body["new_colony"]
        for treatment, track in sorted(self.tracks.items(), key=_by_treatment):
            parted = self._parted(track, key)
            course = parted.course._replace(colony=new)
            if self._pieces_in(track.course) and course.ended not in ("stopped", "united"):
                course = course._replace(ended="left with the swarm", ended_on=key[0])
            tracks.append((treatment, parted._replace(course=course)))
        return Handover(new, tuple(tracks))

    def swarm_comes(self, key: Key, handed: Handover) -> None:
        """A swarm is put in: its courses come along, no closed days and no pieces."""
        self._move_in(handed.colony, key)
        for treatment, track in handed.tracks:
            self._keep(treatment, track)


_GONE = ("outside the hive", "every box searched")


def _by_treatment(item: tuple[str, Track]) -> str:
    return item[0]


def _open_in(course: Course, handed: Handover) -> bool:
    """Whether a piece of the course is among what was handed over."""
    exposures = {each.id: each for each in handed.exposures}
    mine = (find(name, exposures) for name in course.pieces)
    return any(exposure is not None and exposure.open for exposure in mine)


def _later_out(one: Exposure, other: Exposure) -> bool:
    return one.open or (one.last_out or 0) > (other.last_out or 0)


def _together(mine: Exposure, theirs: Exposure) -> Exposure:
    """Return one exposure of two shares; where nobody said how they were parted, the larger."""
    splits = {split for split, _ in mine.unsure}
    both = [s for s, side in theirs.unsure if s in splits and (s, side) not in mine.unsure]
    if not both:
        return pieces.add_up(mine, theirs)
    more = max(mine, theirs, key=lambda each: (each.into is None, each.remaining))
    return more._replace(unsure=tuple(pair for pair in more.unsure if pair[0] not in both))


def _without(exposure: Exposure, along: int) -> Exposure:
    """Return the exposure without the pieces that went along."""
    remaining = max(0, exposure.remaining - along)
    return exposure._replace(
        into=max(0, (exposure.into or 0) - along),
        remaining=remaining,
        not_found=min(exposure.not_found, remaining),
    )


def _share(exposure: Exposure, count: int) -> Exposure:
    """Return the exposure with so many of its pieces, counted from zero."""
    return exposure._replace(
        into=count, out=0, lost=0, not_found=min(exposure.not_found, count), remaining=count
    )
