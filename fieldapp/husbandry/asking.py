"""What a fold leaves open, as questions to the keeper."""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.husbandry.boxes import Boxes
from fieldapp.husbandry.hivelog import HiveLog
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.state import Cause, Course, Exposure, Question
from fieldapp.husbandry.uniting import ASK


def questions(
    held: Boxes,
    courses: tuple[Course, ...],
    exposures: tuple[Exposure, ...],
    found: list[Cause],
    log: HiveLog,
    shared: Shared,
) -> Iterable[Question]:
    """Return what only the keeper can answer of one hive, as it stands in the branch that holds."""
    for course in held.courses.values():
        for asking in course.asks:
            yield Question("joins", (asking, course.id), course.treatment, course.last)
    for course in courses:
        for flag in course.flags:
            if flag.word == ASK:
                yield Question("unite", (course.id, flag.record), course.treatment)
    for exposure in exposures:
        if exposure.open and (exposure.into is None or exposure.not_found):
            yield Question("pieces", (exposure.id,), exposure.treatment, exposure.first)
    unsure = {split for each in held.exposures.values() for split, _ in each.unsure}
    for entry in log.entries if unsure else ():
        asks = entry.what in ("split", "part") and shared.answers.pieces_along(entry.record) is None
        if asks and entry.record.id in unsure:
            yield Question("split", (entry.record.id,), day=entry.key[0])
    asked: dict[str, list[str]] = {}
    for cause in found:
        if cause.why == "period":
            asked.setdefault(cause.treatment, []).append(cause.record)
    for treatment, records in asked.items():
        yield Question("period", tuple(dict.fromkeys(records)), treatment)
