"""What combs take along when they leave: the applications whose closed days still matter."""

from __future__ import annotations

from fieldapp.husbandry.boxes import Boxes
from fieldapp.husbandry.closing import Draft, Facts, Memo, alive, known_cause, still_closes
from fieldapp.husbandry.courses import open_to_join
from fieldapp.husbandry.days import Key


def going_along(boxes: Boxes, key: Key, facts: Facts, memo: Memo) -> tuple[Draft, ...]:
    """Return the applications that combs leaving at `key` take along with what they close."""
    return tuple(draft for draft in boxes.drafts if _matters(boxes, draft, key, facts, memo))


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
