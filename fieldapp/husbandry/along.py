"""What combs take along when they leave: the applications whose closed days still matter."""

from __future__ import annotations

from fieldapp.husbandry.boxes import Boxes
from fieldapp.husbandry.closing import Draft, Facts, Memo, alive, known_cause, still_closes
from fieldapp.husbandry.courses import open_to_join
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.periods import next_season


def going_along(boxes: Boxes, key: Key, facts: Facts, memo: Memo) -> tuple[Draft, ...]:
    """Return the applications that combs leaving at `key` take along with what they close."""
    return tuple(
        _opened(boxes, draft, key, facts, memo)
        for draft in boxes.drafts
        if _matters(boxes, draft, key, facts, memo)
    )


def _opened(boxes: Boxes, draft: Draft, key: Key, facts: Facts, memo: Memo) -> Draft:
    """Return an application with the day up to which it closed, where a new season opened it."""
    exposure = boxes.exposures.get(draft.exposure)
    cause = known_cause(draft, exposure, boxes.courses, facts, memo)
    if cause is None or not cause.seasonal or cause.end is None:
        return draft
    before = [on for on in facts.supers_on if on < key]
    opened = next_season(cause.end, before, draft.joined, facts.south)
    return draft if opened is None else draft._replace(opened=opened)


def _matters(boxes: Boxes, draft: Draft, key: Key, facts: Facts, memo: Memo) -> bool:
    exposure = boxes.exposures.get(draft.exposure)
    if exposure is not None and exposure.open:
        return True
    track = boxes.tracks.get(draft.treatment)
    if track is not None and track.course.id == draft.course and open_to_join(track.course):
        return True
    course = boxes.courses.get(draft.course)
    if course is not None and course.gap is not None:
        end = still_closes(course)
        if end is None or end >= key[0]:
            return True
    cause = known_cause(draft, exposure, boxes.courses, facts, memo)
    return cause is not None and alive(cause, key[0])
