"""One hive's boxes and the colony in them, folded record by record in order.

A `Boxes` is the state between two records. What goes along in a split, unite, swarm or
transfer is a `Handover`, a value: the other hive's fold takes it in at the same place of the
order, so that each hive folds by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from fieldapp.husbandry import courses, pieces
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.courses import NEW, Before, Given, Track
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Course, Exposure, Flag, Plan
from fieldapp.husbandry.terms import Terms, unknown_terms
from fieldapp.journal.record import Record


class Handover(NamedTuple):
    """What goes to other boxes: the colony's tracks, and with combs pieces and closed days."""

    colony: str
    tracks: tuple[tuple[str, Track], ...] = ()
    exposures: tuple[Exposure, ...] = ()
    drafts: tuple[Draft, ...] = ()
    courses: tuple[Course, ...] = ()
    ends: tuple[tuple[str, int], ...] = ()


NOTHING = Handover("")


class Lookups(NamedTuple):
    """What folding one hive needs of records that belong to no hive."""

    terms: Callable[[str, str], Terms | None]
    plan: Callable[[str], Plan | None]
    joins: Callable[[str], str | None]
    pieces_along: Callable[[Record], int | None]
    alive: Callable[[Boxes, Draft, Key], bool]


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
        "hive",
        "implicit",
        "looks_up",
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
        self.supers_seen: list[tuple[Key, str, str]] = []
        self.choice: dict[str, int] = {}

    def copy(self) -> Boxes:
        """Return boxes that go on by themselves from here."""
        twin = Boxes(self.hive, self.looks_up)
        twin.colony, twin.implicit, twin.born = self.colony, self.implicit, self.born
        twin.dead, twin.dead_record = self.dead, self.dead_record
        twin.tracks, twin.exposures = dict(self.tracks), dict(self.exposures)
        twin.courses, twin.drafts = dict(self.courses), list(self.drafts)
        twin.alias, twin.supers_seen = self.alias, list(self.supers_seen)
        twin.choice = dict(self.choice)
        return twin

    # Treatments

    def application(self, key: Key, record: Record, extra_of: str = "") -> None:
        """Take an application in. `extra_of`: perhaps the same one as that, not answered yet."""
        body = record.body
        treatment = body["treatment"]
        terms = self._terms(body["terms"], treatment, "pieces" in body)
        count = body.get("pieces")
        made: tuple[str, ...] = ()
        exposure = ""
        if terms.form == "pieces" or count:
            same = self.exposures.get(extra_of)
            if same is not None and same.open:
                self.exposures[same.id] = pieces.more_in(same, record.id, count)
                exposure = same.id
            elif count != 0:
                self.exposures[record.id] = pieces.put_in(record.id, terms, key, count)
                exposure = record.id
                made = (record.id,)
        if seen := body.get("supers"):
            self.supers_seen.append((key, seen, record.id))
        plan = self.looks_up.plan(body["plan"]) if "plan" in body else None
        given = Given(
            record.id, key[0], terms, plan, bool(body.get("part")), self._joins(record), made
        )
        track = self.tracks.get(treatment)
        if extra_of and track is not None:
            track = courses.count_extra(track, given)
        else:
            before = self._before(track) if track is not None else None
            track, ended = courses.give(track, given, before, self.colony or self.hive, self.hive)
            if ended is not None:
                self.courses[ended.id] = ended
        self._keep(treatment, track)
        self.drafts.append(
            Draft(
                record.id,
                treatment,
                terms.id,
                track.course.id,
                self.hive,
                key[0],
                key,
                exposure,
                key,
            )
        )

    def _terms(self, name: str, treatment: str, has_pieces: bool) -> Terms:
        return self.looks_up.terms(name, treatment) or unknown_terms(treatment, name, has_pieces)

    def _joins(self, record: Record) -> str:
        answer = self.looks_up.joins(record.id)
        if answer is not None:
            return answer if answer == NEW else self.alias.get(answer, answer)
        named = record.body.get("joins")
        if named is None:
            return courses.UNANSWERED
        named = self.alias.get(named, named)
        return NEW if named == record.id else named

    def _before(self, track: Track) -> Before:
        """Return how the last course of a treatment stands: pieces in, and its end."""
        course = track.course
        end, inside = course.last, False
        for name in course.pieces:
            exposure = self.exposures.get(name)
            if exposure is None:
                continue
            if exposure.last_out is not None:
                end = max(end, exposure.last_out)
            else:
                inside = True
        if course.left_pieces is not None:
            end = max(end, course.left_pieces)
        return Before(inside, end)

    def _keep(self, treatment: str, track: Track) -> None:
        self.tracks[treatment] = track
        self.courses[track.course.id] = track.course

    def pieces(self, key: Key, record: Record) -> None:
        """Take in that pieces were moved, out, lost, found or replaced."""
        body = record.body
        did, count, treatment = body["did"], body["count"], body["treatment"]
        if did == "replaced":
            self._replaced(key, record, treatment)
            return
        mine = self._exposures(treatment, body.get("application"))
        opened = [exposure for exposure in mine if exposure.open]
        if did == "out" or (did == "lost" and body.get("seen") in _GONE):
            # More out than in is flagged at the last exposure, also when it is over.
            changed = pieces.take_out(opened, count, record.id, key, did == "lost")
            if not opened and mine:
                flag = Flag("more out than in", count, record=record.id)
                changed = [mine[-1]._replace(flags=(*mine[-1].flags, flag))]
        elif did == "lost":
            changed = [pieces.not_found(exposure, count, record.id) for exposure in opened[:1]]
        elif opened:
            changed = []
            if did == "found":
                changed = [pieces.found(_with_lost(opened), count, record.id)]
        else:
            changed = [self._found(key, record, mine, count)]
        for exposure in changed:
            self.exposures[exposure.id] = exposure

    def _exposures(self, treatment: str, application: str | None) -> list[Exposure]:
        """Return the treatment's exposures, oldest first; only the named application's, if any."""
        mine = [each for each in self.exposures.values() if each.treatment == treatment]
        if application is not None:
            named = self.alias.get(application, application)
            for each in mine:
                if each.id == named or named in each.also:
                    return [each]
        return sorted(mine, key=lambda each: each.key)

    def _found(self, key: Key, record: Record, mine: list[Exposure], count: int) -> Exposure:
        """Open the last exposure again; pieces of which nothing is known open one of their own."""
        if mine:
            return pieces.found(mine[-1], count, record.id)
        treatment = record.body["treatment"]
        terms = self._terms("", treatment, True)
        exposure = pieces.put_in(record.id, terms, key, count)
        self.drafts.append(
            Draft(record.id, treatment, terms.id, "", self.hive, key[0], key, record.id, key)
        )
        return exposure

    def _replaced(self, key: Key, record: Record, treatment: str) -> None:
        """Out and in at once: the exposure goes on; with none open it is pieces found."""
        mine = self._exposures(treatment, record.body.get("application"))
        if not any(exposure.open for exposure in mine):
            exposure = self._found(key, record, mine, record.body["count"])
            self.exposures[exposure.id] = exposure

    def course_stop(self, key: Key, record: Record) -> None:
        """The keeper stops the colony's course of a treatment."""
        track = self.tracks.get(record.body["treatment"])
        if track is not None:
            self._keep(record.body["treatment"], courses.stop(track, key[0]))

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
        self._end_courses("colony gone", key)
        self.colony, self.implicit, self.born = colony, False, key[0]
        self.dead, self.dead_record = None, ""
        self.tracks = {}

    def _end_courses(self, why: str, key: Key) -> None:
        for track in self.tracks.values():
            course = courses.stale(track.course, key[0])
            if not course.ended and (course.below or self._before(track).pieces_in):
                course = course._replace(ended=why, ended_on=key[0])
            self.courses[course.id] = course

    def _empty(self, why: str, key: Key) -> None:
        """No colony is left: what is treated here next is one that nobody recorded."""
        self._end_courses(why, key)
        self.tracks = {}
        self.colony, self.implicit, self.born = "", True, None

    def death(self, key: Key, record: Record) -> None:
        """The colony is dead: its pieces stay due, its courses are over."""
        self._end_courses("colony gone", key)
        self.tracks = {}
        self.dead, self.dead_record = key[0], record.id
        self.implicit = True

    def _handed(self, key: Key, colony: str, combs: bool) -> Handover:
        """Return what goes along: tracks always, pieces and closed days only with combs."""
        tracks = tuple(sorted(self.tracks.items()))
        ends = tuple((name, self._before(track).end) for name, track in tracks)
        if not combs:
            parted = tuple((name, self._parted(track, key)) for name, track in tracks)
            return Handover(colony, parted, ends=ends)
        drafts = tuple(draft for draft in self.drafts if self.looks_up.alive(self, draft, key))
        named = {draft.exposure for draft in drafts}
        exposures = tuple(each for each in self.exposures.values() if each.id in named or each.open)
        members = {draft.course for draft in drafts}
        return Handover(
            colony,
            tracks,
            exposures,
            drafts,
            tuple(course for course in self.courses.values() if course.id in members),
            ends,
        )

    def _parted(self, track: Track, key: Key) -> Track:
        """Return the track of a colony that leaves its pieces behind."""
        if self._before(track).pieces_in:
            return track._replace(course=track.course._replace(left_pieces=key[0]))
        return track

    def split_off(self, key: Key, record: Record) -> Handover:
        """Return the part's share of a split, and lower what stays by pieces that went along."""
        along = self.looks_up.pieces_along(record)
        handed = self._handed(key, record.body["to_colony"], combs=True)
        opened = [each for each in handed.exposures if each.open]
        total = sum(each.remaining for each in opened)
        if not opened:
            return handed
        if along is None:
            return self._open_in_both(handed)
        unclear = len(opened) > 1 or opened[0].into is None
        if along == 0:
            part = [pieces.end_here(each, key, "split") for each in opened]
        elif along >= total and not any(each.into is None for each in opened):
            part = opened
            for each in opened:
                self.exposures[each.id] = pieces.end_here(each, key, "split")
        elif unclear:
            return self._open_in_both(handed)
        else:
            part = [_share(opened[0], along)]
            self.exposures[opened[0].id] = _share(opened[0], total - along)
        changed = {each.id: each for each in part}
        exposures = tuple(changed.get(each.id, each) for each in handed.exposures)
        return handed._replace(exposures=exposures)

    def _open_in_both(self, handed: Handover) -> Handover:
        """Return the share where nobody said which pieces went along: they are open in both."""
        exposures = tuple(
            each._replace(unsure=True) if each.open else each for each in handed.exposures
        )
        for each in exposures:
            if each.open:
                self.exposures[each.id] = each
        return handed._replace(exposures=exposures)

    def part_comes(self, key: Key, handed: Handover) -> None:
        """Take the part of a split in: copies of courses, closed days and pieces."""
        self._move_in(handed.colony, key)
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
            elif mine is None or not mine.open:
                self.exposures[exposure.id] = exposure
        for course in handed.courses:
            self.courses.setdefault(course.id, course)
        here = {draft.record for draft in self.drafts}
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
        if combs:
            for each in list(self.exposures.values()):
                if each.open:
                    self.exposures[each.id] = pieces.end_here(each, key, record.kind)
        return handed

    def joined_by(self, key: Key, handed: Handover) -> None:
        """Unite: one course goes on of each treatment, pieces add up, closed days are united."""
        self._bring(key, handed, add_up=True)
        ends = dict(handed.ends)
        for treatment, theirs in handed.tracks:
            mine = self.tracks.get(treatment)
            if mine is None:
                goes_on = theirs
            else:
                both = (self._before(mine).end, ends[treatment])
                goes_on, ended = courses.unite(mine, theirs, key[0], both)
                held = dict.fromkeys((*mine.course.pieces, *theirs.course.pieces))
                goes_on = goes_on._replace(course=goes_on.course._replace(pieces=tuple(held)))
                self.courses[ended.id] = ended
            course = goes_on.course._replace(colony=self.colony or self.hive)
            self._keep(treatment, goes_on._replace(course=course))

    def moved_in(self, key: Key, handed: Handover) -> None:
        """Transfer: the colony lives here now, with what its combs brought."""
        self._move_in(handed.colony, key)
        self._bring(key, handed, add_up=True)
        for treatment, track in handed.tracks:
            self._keep(treatment, track)

    def swarm_off(self, key: Key, record: Record) -> Handover:
        """Return what a swarm takes along: courses, rest and limits."""
        tracks = []
        for treatment, track in sorted(self.tracks.items()):
            course = track.course._replace(colony=record.body["new_colony"])
            if self._before(track).pieces_in:
                course = course._replace(
                    ended="left with the swarm", ended_on=key[0], left_pieces=key[0]
                )
            tracks.append((treatment, track._replace(course=course)))
        return Handover(record.body["new_colony"], tuple(tracks))

    def swarm_comes(self, key: Key, handed: Handover) -> None:
        """A swarm is put in: its courses come along, no closed days and no pieces."""
        self._move_in(handed.colony, key)
        for treatment, track in handed.tracks:
            self._keep(treatment, track)


_GONE = ("outside the hive", "every box searched")


def _with_lost(opened: list[Exposure]) -> Exposure:
    return next((each for each in opened if each.lost), opened[0])


def _together(mine: Exposure, theirs: Exposure) -> Exposure:
    """Return one exposure of two shares; where nobody said how they were parted, the larger."""
    if mine.unsure or theirs.unsure:
        return max(mine, theirs, key=lambda each: each.remaining)
    return pieces.add_up(mine, theirs)


def _share(exposure: Exposure, count: int) -> Exposure:
    """Return the exposure with so many of its pieces, counted from zero."""
    return exposure._replace(
        into=count, out=0, lost=0, not_found=min(exposure.not_found, count), remaining=count
    )
