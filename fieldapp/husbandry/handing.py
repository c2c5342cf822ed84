"""What a hive hands over to another: a colony, or a part of it, with or without its combs.

What goes along in a split, unite, swarm or transfer is a `Handover`, a value: the other hive's
fold takes it in at the same place of the order, so that each hive folds by itself.
"""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.husbandry import colonies, pieces
from fieldapp.husbandry.boxes import DEAD, LEFT, Boxes
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.rest import by_application, find, rest_flags
from fieldapp.husbandry.state import Course, Exposure, Look
from fieldapp.husbandry.staying import looks_between, looks_that_matter, stayed, stays
from fieldapp.husbandry.tracks import Track
from fieldapp.journal.record import Record


class Handover(NamedTuple):
    """What goes to other boxes: the colony's tracks, and with combs pieces and closed days.

    `choice` says which versions of records that stand side by side it rests on; `known_as` which
    application holds for another that was answered to be the same, `extra` which for another that
    perhaps is.
    """

    colony: str
    tracks: tuple[tuple[str, Track], ...] = ()
    exposures: tuple[Exposure, ...] = ()
    drafts: tuple[Draft, ...] = ()
    courses: tuple[tuple[str, Course], ...] = ()
    looks: tuple[Look, ...] = ()
    combs: bool = False
    choice: tuple[tuple[str, int], ...] = ()
    known_as: tuple[tuple[str, str], ...] = ()
    extra: tuple[tuple[str, str], ...] = ()


NOTHING = Handover("")


def _handed(boxes: Boxes, key: Key, colony: str, combs: bool) -> Handover:
    """Return what goes along: tracks always, pieces and closed days only with combs."""
    if not combs:
        parted = ((name, _parted(boxes, track, key)) for name, track in boxes.tracks.items())
        return Handover(
            colony,
            tuple(sorted(parted, key=_by_treatment)),
            courses=_older(boxes, colony),
            known_as=_known_as(boxes),
            extra=tuple(sorted(boxes.extra.items())),
        )
    drafts = boxes.looks_up.going_along(boxes, key)
    members = {draft.course for draft in drafts}
    return Handover(
        colony,
        tuple(sorted(boxes.tracks.items(), key=_by_treatment)),
        tuple(boxes.exposures.values()),
        drafts,
        tuple(
            (name, of_colony(course, colony) if _is_mine(boxes, course) else course)
            for name, course in boxes.courses.items()
            if name in members or (LEFT not in name and _is_mine(boxes, course))
        ),
        looks_here(boxes, key),
        combs=True,
        known_as=_known_as(boxes),
        extra=tuple(sorted(boxes.extra.items())),
    )


def of_colony(course: Course, colony: str) -> Course:
    """Return the course as one of a colony; it stays the same object where it is one already."""
    return course if course.colony == colony else course._replace(colony=colony)


def _known_as(boxes: Boxes) -> tuple[tuple[str, str], ...]:
    return tuple(sorted({**boxes.known_as, **boxes.alias}.items()))


def _older(boxes: Boxes, colony: str) -> tuple[tuple[str, Course], ...]:
    """Return the courses before the last ones of a colony that leaves without combs."""
    last = {track.course.id for track in boxes.tracks.values()}
    return tuple(
        (name, course._replace(colony=colony, pieces=(), rest_from=None, before=(), inside=()))
        for name, course in boxes.courses.items()
        if LEFT not in name and course.id not in last and _is_mine(boxes, course)
    )


def _is_mine(boxes: Boxes, course: Course) -> bool:
    return course.colony == boxes.colony and course.ended != DEAD and boxes.dead is None


def looks_here(boxes: Boxes, key: Key) -> tuple[Look, ...]:
    """Return the looks before `key` that can judge the pieces here."""
    recorded = boxes.looks_up.looks(boxes.hive)
    looks = [*boxes.looks, *looks_between(recorded, boxes.since, key)]
    return looks_that_matter(looks, boxes.exposures.values())


def _parted(boxes: Boxes, track: Track, key: Key) -> Track:
    """Return the track of a colony that leaves its pieces behind, judged as they stand."""
    course = track.course
    mine = [find(name, boxes.exposures) for name in course.pieces]
    stood = [pieces.end_here(e, key, "parted") if e.open else e for e in mine if e is not None]
    before = [find(name, boxes.exposures) for name in course.before]
    ends = [e.last_out for e in (*stood, *before) if e is not None and e.last_out is not None]
    terms = boxes.known_terms(course.terms, course.treatment)
    ended = {each.id: each for each in boxes.exposures.values()}
    ended |= {each.id: pieces.end_here(each, key, "parted") for each in ended.values() if each.open}
    flags = rest_flags(course, terms, by_application(ended))
    word = _judged(boxes, stood, key, course.parted)
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


def _judged(boxes: Boxes, stood: list[Exposure], key: Key, before: str) -> str:
    """Return how pieces that are left behind are judged: empty, or what is amiss."""
    looks = looks_here(boxes, key)
    words = {before}
    for exposure in stood:
        terms = boxes.terms(exposure.terms, exposure.treatment, True)
        words.add(stayed(exposure, stays(exposure, terms, looks, key[0])))
    return next((word for word in ("taken out early", "stay not known") if word in words), "")


def split_off(boxes: Boxes, key: Key, record: Record) -> Handover:
    """Return the part's share of a split, and lower what stays by pieces that went along."""
    along = boxes.looks_up.pieces_along(record)
    handed = _handed(boxes, key, record.body["to_colony"], combs=True)
    opened = [each for each in handed.exposures if each.open]
    total = sum(each.remaining for each in opened)
    if not opened:
        return handed
    if along is None:
        return _open_in_both(boxes, handed, record.id)
    unclear = len(opened) > 1 or opened[0].into is None
    if along == 0:
        part = [pieces.end_here(each, key, "split") for each in opened]
    elif along >= total and not any(each.into is None for each in opened):
        part = [pieces.share(each, each.remaining) for each in opened]
        if len(opened) == 1:
            part = [pieces.share(opened[0], along)]
        for each in opened:
            left = pieces.without(each, along if len(opened) == 1 else each.remaining)
            boxes.exposures[each.id] = pieces.end_here(left, key, "split")
    elif unclear:
        return _open_in_both(boxes, handed, record.id)
    else:
        part = [pieces.share(opened[0], along)]
        boxes.exposures[opened[0].id] = pieces.without(opened[0], along)
    changed = {each.id: each for each in part}
    exposures = tuple(changed.get(each.id, each) for each in handed.exposures)
    return handed._replace(exposures=exposures)


def _open_in_both(boxes: Boxes, handed: Handover, split: str) -> Handover:
    """Return the share where nobody said which pieces went along: they are open in both."""
    exposures = tuple(
        each._replace(unsure=(*each.unsure, (split, "part"))) if each.open else each
        for each in handed.exposures
    )
    for each in handed.exposures:
        if each.open:
            boxes.exposures[each.id] = each._replace(unsure=(*each.unsure, (split, "whole")))
    return handed._replace(exposures=exposures)


def leave(boxes: Boxes, key: Key, record: Record) -> Handover:
    """Return the whole colony as it leaves in a unite or transfer; pieces go with combs."""
    combs = record.kind == "unite" or record.body["combs"] != "bees only"
    colony = boxes.colony if boxes.dead is None else ""
    handed = _handed(boxes, key, colony, combs)
    colonies.empty(boxes, "moved" if record.kind == "transfer" else "united", key)
    colonies.freeze(boxes, key, combs)
    if combs:
        for each in list(boxes.exposures.values()):
            if each.open:
                boxes.exposures[each.id] = pieces.end_here(each, key, record.kind)
    return handed


def swarm_off(boxes: Boxes, key: Key, record: Record) -> Handover:
    """Return what a swarm takes along: courses, rest and limits."""
    tracks = []
    new = record.body["new_colony"]
    for treatment, track in sorted(boxes.tracks.items(), key=_by_treatment):
        parted = _parted(boxes, track, key)
        course = parted.course._replace(colony=new)
        if boxes.pieces_in(track.course) and course.ended not in ("stopped", "united"):
            course = course._replace(ended="left with the swarm", ended_on=key[0])
        tracks.append((treatment, parted._replace(course=course)))
    courses_before = _older(boxes, new)
    return Handover(
        new,
        tuple(tracks),
        courses=courses_before,
        known_as=_known_as(boxes),
        extra=tuple(sorted(boxes.extra.items())),
    )


def _by_treatment(item: tuple[str, Track]) -> str:
    return item[0]
