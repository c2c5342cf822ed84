"""The colony in a hive's boxes: it comes, moves out, is told by its id, or dies."""

from __future__ import annotations

from fieldapp.husbandry.boxes import DEAD, LEFT, Boxes
from fieldapp.husbandry.courses import stale
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.state import Course
from fieldapp.journal.record import Record


def colony_comes(boxes: Boxes, key: Key, record: Record) -> None:
    """A colony record: the bees that were there get their id, or other bees come in."""
    name = record.colony or boxes.hive
    lives = boxes.dead is None or not boxes.colony
    if record.body["origin"] == "was there" and boxes.implicit and lives:
        boxes.dead, boxes.dead_record = None, ""
        for known, course in list(boxes.courses.items()):
            if LEFT not in known and course.colony == boxes.colony:
                boxes.courses[known] = course._replace(colony=name)
        boxes.tracks = {
            treatment: track._replace(course=boxes.courses[track.course.id])
            for treatment, track in boxes.tracks.items()
        }
        boxes.colony, boxes.implicit = name, False
        boxes.born = boxes.born or key[0]
    elif name != boxes.colony or boxes.dead is not None:
        move_in(boxes, name, key)


def move_in(boxes: Boxes, colony: str, key: Key) -> None:
    """Let another colony live here; courses of the one before end where they stood."""
    _end_courses(boxes, DEAD, key)
    freeze(boxes, key, combs=False)
    boxes.colony, boxes.implicit, boxes.born = colony, False, key[0]
    boxes.dead, boxes.dead_record = None, ""
    boxes.tracks = {}


def freeze(boxes: Boxes, key: Key, combs: bool) -> None:
    """Keep courses as these boxes knew them, apart from what they become elsewhere.

    Where the combs leave too, they close no longer than to this day.
    """
    names: dict[str, str] = {}
    kept: dict[str, Course] = {}
    for name, course in boxes.courses.items():
        if combs and (course.closes_to is None or course.closes_to > key[0]):
            course = course._replace(closes_to=key[0])  # noqa: PLW2901
        if LEFT not in name:
            names[name] = f"{name}{LEFT}{key[3]}"
        kept[names.get(name, name)] = course
    boxes.courses = kept
    boxes.drafts = [
        draft._replace(course=names[draft.course]) if draft.course in names else draft
        for draft in boxes.drafts
    ]


def _end_courses(boxes: Boxes, why: str, key: Key) -> None:
    """End what the colony here has under way; its days close no longer than to this one."""
    for name, known in list(boxes.courses.items()):
        if known.colony != boxes.colony:
            continue
        if LEFT in name:
            if boxes.colony and known.closes_to is None and why != DEAD:
                boxes.courses[name] = known._replace(closes_to=key[0])
            continue
        course = known if why == DEAD else stale(known, key[0])
        if not course.ended and (course.below or (why != DEAD and boxes.pieces_in(course))):
            course = course._replace(ended=why, ended_on=key[0])
        if course.closes_to is None and why != DEAD:
            course = course._replace(closes_to=key[0])
        boxes.courses[name] = course


def empty(boxes: Boxes, why: str, key: Key) -> None:
    """No colony is left: what is treated here next is one that nobody recorded."""
    _end_courses(boxes, why, key)
    boxes.tracks = {}
    boxes.colony, boxes.implicit, boxes.born = "", True, None


def death(boxes: Boxes, key: Key, record: Record) -> None:
    """The colony is dead: its pieces stay due, its courses are over."""
    _end_courses(boxes, DEAD, key)
    boxes.tracks = {}
    boxes.dead, boxes.dead_record = key[0], record.id
    boxes.implicit = True
