"""How a hive takes in what another hands over: the part of a split, a colony, a swarm."""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.husbandry import colonies, courses, pieces, uniting
from fieldapp.husbandry.boxes import LEFT, Boxes
from fieldapp.husbandry.closing import Draft
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.handing import Handover, looks_here, of_colony
from fieldapp.husbandry.rest import find
from fieldapp.husbandry.state import Course, Exposure
from fieldapp.husbandry.staying import looked_at


def part_comes(boxes: Boxes, key: Key, handed: Handover) -> None:
    """Take the part of a split in: copies of courses, closed days and pieces."""
    colonies.move_in(boxes, handed.colony, key)
    _see(boxes, key, handed)
    _bring(boxes, key, _courses_come(boxes, key, handed), add_up=False)
    for treatment, track in handed.tracks:
        boxes.keep(treatment, track._replace(course=of_colony(track.course, handed.colony)))


def _see(boxes: Boxes, key: Key, handed: Handover) -> None:
    """Go by the looks at the combs that come; what was all out before keeps those until then."""
    before = looks_here(boxes, key)
    for name, exposure in boxes.exposures.items():
        boxes.exposures[name] = looked_at(exposure, before)
    boxes.looks, boxes.since = handed.looks, key


def _bring(boxes: Boxes, key: Key, handed: Handover, add_up: bool) -> None:
    """Take combs in, with the pieces between them and what closes their honey.

    `add_up`: open pieces of one treatment become one exposure, from the earlier first in.
    """
    now: dict[str, str] = {}
    boxes.known_as.update(handed.known_as)
    boxes.extra.update(handed.extra)
    for exposure in handed.exposures:
        mine = boxes.exposures.get(exposure.id)
        if mine is not None and mine.open and exposure.open:
            boxes.exposures[exposure.id] = pieces.together(mine, exposure)
            continue
        into = _oldest_open(boxes, exposure.treatment) if add_up and exposure.open else None
        if mine is not None and not mine.open and (into is not None or _later_out(exposure, mine)):
            _were_not_here(boxes, mine)
        if into is not None:
            boxes.exposures[into.id] = pieces.add_up(into, exposure)
            now[exposure.id] = into.id
        elif mine is None or (not mine.open and _later_out(exposure, mine)):
            boxes.exposures[exposure.id] = exposure
    here: dict[tuple[str, str], list[int]] = {}
    for place, draft in enumerate(boxes.drafts):
        here.setdefault((draft.record, draft.course), []).append(place)
    for draft in handed.drafts:
        exposure_id = now.get(draft.exposure, draft.exposure)
        came = draft._replace(joined=key, exposure=exposure_id)
        places = here.get((draft.record, draft.course), [])
        if not places or (draft.waits and len(places) == 1):
            boxes.drafts.append(came)
        elif draft.waits:
            # The first is the earliest here, the last the one that the fewest supers have opened.
            boxes.drafts[places[-1]] = came


def _were_not_here(boxes: Boxes, gone: Exposure) -> None:
    """Let pieces that come back not have been in at starts of courses while they were away."""

    def left_out(course: Course) -> Course:
        if gone.last_out is None or course.first < gone.last_out or gone.id not in course.inside:
            return course
        return course._replace(inside=tuple(name for name in course.inside if name != gone.id))

    boxes.courses = {name: left_out(course) for name, course in boxes.courses.items()}
    boxes.tracks = {
        treatment: track._replace(course=left_out(track.course))
        for treatment, track in boxes.tracks.items()
    }


def joined_by(boxes: Boxes, key: Key, handed: Handover) -> None:
    """Unite: one course goes on of each treatment, pieces add up, closed days are united."""
    if boxes.dead is not None and not boxes.tracks:
        colonies.move_in(boxes, handed.colony, key)
    tracks, theirs = dict(handed.tracks), dict(handed.courses)
    for treatment, other in handed.tracks:
        mine, theirs[other.course.id] = boxes.tracks.get(treatment), other.course
        if mine is not None:
            inside = (boxes.pieces_in(mine.course), _open_in(other.course, handed))
            tracks[treatment], ours, others = uniting.unite(mine, other, key[0], inside)
            boxes.keep(treatment, mine._replace(course=ours))
            theirs[others.id] = others
    boxes.tracks |= tracks
    handed = _courses_come(boxes, key, handed._replace(courses=tuple(theirs.items())))
    _bring(boxes, key, handed, add_up=True)
    for treatment in tracks:
        track = boxes.tracks[treatment]
        boxes.keep(treatment, track._replace(course=of_colony(track.course, boxes.colony)))
    last = {track.course.id for track in boxes.tracks.values()}
    for name, course in boxes.courses.items():
        if LEFT not in name and name not in last and course.colony == boxes.colony:
            boxes.courses[name] = courses.stale(course, key[0])


def _courses_come(boxes: Boxes, key: Key, handed: Handover) -> Handover:
    """Take the courses in that come along; return what comes with them under their names here.

    After a split or a swarm two may come from one beginning: they are one again, and one of them
    holds its name. What the other closes stands under a name apart, so each closes by its own days.
    """
    lasts = {track.course.id: (name, track.course) for name, track in boxes.tracks.items()}
    for name, course in handed.courses:
        came = of_colony(course, boxes.colony) if course.colony == handed.colony else course
        here = boxes.courses.get(name)
        if here is None and LEFT in name:
            # What these boxes knew of a course comes after what others did: it is shown.
            boxes.courses = {name: came, **boxes.courses}
            continue
        if here is None:
            boxes.courses[name] = came
            continue
        if of_colony(here, came.colony) == came:
            continue
        treatment, last = lasts.get(name, ("", None))
        came_holds = course == last
        if LEFT not in name and uniting.runs(here, key[0]) and uniting.runs(came, key[0]):
            here, came = uniting.one_of_two(here, came, key[0])
            came_holds = here.ended == "united"
        elif last is None and LEFT not in name:
            came_holds = uniting.runs(came, key[0])
        apart = name + LEFT + key[3]
        holds, other = (came, here) if came_holds else (here, came)
        if came_holds:
            boxes.drafts = list(_renamed(boxes.drafts, name, apart))
        else:
            handed = handed._replace(drafts=_renamed(handed.drafts, name, apart))
        holds = uniting.still_asked(holds, other)
        boxes.courses[name], boxes.courses[apart] = holds, other
        if last is not None:
            boxes.tracks[treatment] = boxes.tracks[treatment]._replace(course=holds)
    return handed


def _renamed(drafts: Iterable[Draft], name: str, other: str) -> tuple[Draft, ...]:
    """Return applications under another name of their course."""
    return tuple(each._replace(course=other) if each.course == name else each for each in drafts)


def moved_in(boxes: Boxes, key: Key, handed: Handover) -> None:
    """Transfer: the colony lives here now, with what its combs brought."""
    colonies.move_in(boxes, handed.colony, key)
    if handed.combs:
        _see(boxes, key, handed)
    _bring(boxes, key, _courses_come(boxes, key, handed), add_up=False)
    for treatment, track in handed.tracks:
        boxes.keep(treatment, track)


def swarm_comes(boxes: Boxes, key: Key, handed: Handover) -> None:
    """A swarm is put in: its courses come along, no closed days and no pieces."""
    colonies.move_in(boxes, handed.colony, key)
    _bring(boxes, key, _courses_come(boxes, key, handed), add_up=False)
    for treatment, track in handed.tracks:
        boxes.keep(treatment, track)


def _open_in(course: Course, handed: Handover) -> bool:
    """Whether a piece of the course is among what was handed over."""
    exposures = {each.id: each for each in handed.exposures}
    mine = (find(name, exposures) for name in course.pieces)
    return any(exposure is not None and exposure.open for exposure in mine)


def _oldest_open(boxes: Boxes, treatment: str) -> Exposure | None:
    opened = (each for each in boxes.exposures.values() if each.open)
    mine = (each for each in opened if each.treatment == treatment)
    return min(mine, key=lambda each: each.key, default=None)


def _later_out(one: Exposure, other: Exposure) -> bool:
    return one.open or (one.last_out or 0) > (other.last_out or 0)
