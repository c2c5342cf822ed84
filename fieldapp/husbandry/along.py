"""What combs take along when they leave: the applications whose closed days still matter."""

from __future__ import annotations

from fieldapp.husbandry.between import still_closes
from fieldapp.husbandry.boxes import Boxes
from fieldapp.husbandry.causes import Memo, known_cause
from fieldapp.husbandry.closing import Draft, Facts, alive
from fieldapp.husbandry.courses import open_to_join
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.periods import next_season
from fieldapp.husbandry.state import Cause


def going_along(boxes: Boxes, key: Key, facts: Facts, memo: Memo) -> tuple[Draft, ...]:
    """Return the applications that combs leaving at `key` take along with what they close."""
    along = []
    for draft in boxes.drafts:
        exposure = boxes.exposures.get(draft.exposure)
        cause = known_cause(draft, exposure, boxes.courses, facts, memo)
        # A piece may yet be found here of pieces that are all out: with them goes what they close.
        if exposure is not None or _matters(boxes, draft, cause, key):
            along.append(_opened(draft, cause, key, facts))
    return tuple(along)


def _opened(draft: Draft, cause: Cause | None, key: Key, facts: Facts) -> Draft:
    """Return an application with the day up to which it closed, where a new season opened it."""
    if cause is None or not cause.seasonal or cause.end is None:
        return draft._replace(waits=False)
    before = [on for on in facts.supers_on if on < key]
    opened = next_season(cause.end, before, draft.joined, facts.sides.at(cause.end))
    if opened is None:
        return draft._replace(waits=draft.opened is None)
    return draft._replace(opened=opened, waits=False)


def _matters(boxes: Boxes, draft: Draft, cause: Cause | None, key: Key) -> bool:
    track = boxes.tracks.get(draft.treatment)
    if track is not None and track.course.id == draft.course and open_to_join(track.course):
        return True
    course = boxes.courses.get(draft.course)
    if course is not None and course.gap is not None:
        if course.gap.most is None and course.colony == boxes.colony:
            # The keeper may yet say that an application joins it, however long ago it ended.
            return True
        end = still_closes(course)
        if end is None or end >= key[0]:
            return True
    return cause is not None and alive(cause, key[0])
