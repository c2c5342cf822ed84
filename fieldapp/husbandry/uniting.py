"""One course of two, where two colonies become one."""

from __future__ import annotations

from fieldapp.husbandry.courses import OVER, stale
from fieldapp.husbandry.state import Course, Flag
from fieldapp.husbandry.tracks import Track, ends_before, pieces_before

#: The keeper is asked which of two courses goes on.
ASK = "ask which goes on"


def unite(
    mine: Track, theirs: Track, day: int, pieces_in: tuple[bool, bool]
) -> tuple[Track, Course, Course]:
    """Return the track that goes on after a unite, and both last courses as they are now.

    The larger k goes on, but a complete course does not complete one below its number: then
    the lower goes on and it is asked. Only courses that can still be joined, or wait for their
    pieces, are united.
    """
    ours, others = mine.course, theirs.course
    live = (_live(ours, day, pieces_in[0]), _live(others, day, pieces_in[1]))
    if all(live):
        ours, others = one_of_two(ours, others, day)
        ours_goes_on = others.ended == "united"
    else:
        ours_goes_on = live[0] if any(live) else ours.began >= others.began
        if ours_goes_on:
            others = stale(others, day)
        else:
            ours = stale(ours, day)
    year = max(mine.year, theirs.year)
    counted = [track for track in (mine, theirs) if track.year == year]
    track = Track(
        ours if ours_goes_on else others,
        max(mine.last, theirs.last),
        max(ends_before(mine), ends_before(theirs)),
        tuple(dict.fromkeys((*pieces_before(mine), *pieces_before(theirs)))),
        year,
        max(track.courses for track in counted),
        max(track.applications for track in counted),
    )
    return track, ours, others


def one_of_two(ours: Course, others: Course, day: int) -> tuple[Course, Course]:
    """Return two courses under way as a unite leaves them: one goes on, the other is *united*."""
    flags: tuple[Flag, ...] = ()
    goes, ended = (others, ours) if others.k > ours.k else (ours, others)
    if ours.below != others.below:
        goes, ended = (ours, others) if ours.below else (others, ours)
        flags = (Flag(ASK, record=ended.id),)
    ours_goes_on = goes is ours
    goes = goes._replace(
        last=max(ours.last, others.last),
        flags=goes.flags + flags,
        asks=goes.asks if goes.id != ended.id else tuple(sorted({*goes.asks, *ended.asks})),
        pieces=tuple(dict.fromkeys((*goes.pieces, *ended.pieces))),
    )
    unknown = ended.gap is None or ended.gap.most is None
    closes_to = day if unknown else ended.closes_to
    ended = ended._replace(ended="united", ended_on=day, closes_to=closes_to)
    return (goes, ended) if ours_goes_on else (ended, goes)


def still_asked(holds: Course, other: Course) -> Course:
    """Return a course with what was asked of another of the same beginning, for which it stands."""
    asked = tuple(f for f in other.flags if f.word == ASK and f not in holds.flags)
    return holds._replace(flags=holds.flags + asked) if asked else holds


def runs(course: Course, day: int) -> bool:
    """Whether by `day` a further application of the course is still to come."""
    return course.below and course.gap is not None and _live(course, day, pieces_in=False)


def _live(course: Course, day: int, pieces_in: bool) -> bool:
    """Whether by `day` an application could still join the course, or its pieces are in."""
    if course.ended in OVER:
        return False
    if pieces_in:
        return True
    gap = course.gap
    if course.ended:
        return False
    if gap is None or gap.most is None:
        return course.below or gap is not None
    return day <= course.last + 2 * gap.most
