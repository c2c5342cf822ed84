"""What went before says to a treatment: rest, yearly limit, class of the last course."""

from __future__ import annotations

from datetime import date

from fieldapp.husbandry.choosing.label import Finding, Label, Says, plain
from fieldapp.husbandry.choosing.situation import PastCourse, Situation
from fieldapp.husbandry.days import add_months
from fieldapp.words import say


def rest(label: Label, hive: Situation, day: date) -> list[Finding]:
    """Return whether the rest since the last course of this treatment is over on `day`."""
    past = [course for course in hive.courses if course.treatment == label.treatment]
    inside = [course for course in past if course.pieces_in]
    if inside:
        text = say("earlier pieces of it are still in")
        return [plain("rest", "does not suit", text, inside[0].records)]
    if any(course.end is None for course in past):
        return [plain("rest", "remark", say("a course of it is running: this would join it"))]
    ended = [course for course in past if course.end is not None]
    if not ended:
        return [plain("rest", "suits", say("no course of it before on record"))]
    last = max(ended, key=lambda course: course.end or date.min)
    wants = label.value("rest")
    if not wants:
        text = say("rest not known: the last course ended on {end}", end=last.end or "")
        return [plain("rest", "not known", text, last.records)]
    free = add_months((last.end or day).toordinal(), wants.get("months", 0)) + wants.get("days", 0)
    says: Says = "suits" if day.toordinal() >= free else "does not suit"
    text = say(
        "rest after the course that ended on {end}: free from {free}",
        end=last.end or "",
        free=date.fromordinal(free),
    )
    return [label.found("rest", "rest", says, text, last.records)]


def limit(label: Label, hive: Situation, day: date) -> list[Finding]:
    """Return whether one more is inside the yearly limit.

    A course counts in the calendar year of its first application, and one that is running
    counts once.
    """
    past = [course for course in hive.courses if course.treatment == label.treatment]
    wants = label.value("limit")
    used = _used(past, day.year, wants["counts"] if wants else "courses")
    records = tuple(record for course in past for record in course.records)
    if not wants:
        if used == 0:
            return []
        text = say("limit not known; used this year: {used}", used=used)
        return [plain("limit", "not known", text, records)]
    joins = wants["counts"] == "courses" and any(course.end is None for course in past)
    says: Says = "suits" if used + (not joins) <= wants["number"] else "does not suit"
    text = say(
        "limit {number} {counts} a year; used this year: {used}",
        number=wants["number"],
        counts=say("courses") if wants["counts"] == "courses" else say("applications"),
        used=used,
    )
    return [label.found("limit", "limit", says, text, records)]


def _used(past: list[PastCourse], year: int, counts: str) -> int:
    if counts == "courses":
        return sum(bool(c.applications) and min(c.applications).year == year for c in past)
    return sum(when.year == year for course in past for when in course.applications)


#: How terms name a class in which no group of resistance is known.
_NO_GROUP = "no IRAC group"


def rotation(label: Label, hive: Situation) -> list[Finding]:
    """Return what it means that the last course was of the same class.

    Where mites can be resistant to the class, whether it still works is *not known*; a class
    without a group of resistance is told as a remark.
    """
    own = label.value("class")
    begun = [course for course in hive.courses if course.applications]
    if not begun or own is None:
        return []
    last = max(begun, key=lambda course: max(course.applications))
    if last.class_ != own:
        return []
    text = say("same class as the last course: {class_name}", class_name=own)
    if _NO_GROUP in own:
        return [label.found("class", "class", "remark", text, last.records)]
    text = say(
        "{same}; mites can be resistant to it: did the last course work? "
        "Ask, or take another class",
        same=text,
    )
    return [label.found("class", "class", "not known", text, last.records)]
