"""Rest between courses of a treatment, judged when all pieces of those before are known."""

from __future__ import annotations

from collections.abc import Mapping

from fieldapp.husbandry.days import add_months
from fieldapp.husbandry.state import Course, Exposure, Flag
from fieldapp.husbandry.terms import Terms


def rest_flags(
    course: Course, terms: Terms | None, found: Mapping[str, Exposure]
) -> tuple[Flag, ...]:
    """Return *too soon*, *rest not known* or nothing for the start of a course.

    `found` are the exposures of the hive by application, as `by_application` returns them.
    Earlier pieces still in are too soon; one that came out on the day of the start was not.
    A piece found later was in all the time.
    """
    if any(_in_after(each, course.first) for each in _named(course.inside, found)):
        return (Flag("too soon", record=course.id),)
    if course.rest_from is None:
        return ()
    mine = _named(course.before, found)
    if any(_in_after(each, course.first) for each in mine):
        return (Flag("too soon", record=course.id),)
    end = max([course.rest_from, *(each.last_out for each in mine if each.last_out is not None)])
    over = rest_over(terms, end) if terms is not None else None
    if over is None:
        return (Flag("rest not known", record=course.id),)
    if course.first < over:
        return (Flag("too soon", over - course.first, record=course.id),)
    return ()


def _in_after(exposure: Exposure, day: int) -> bool:
    return exposure.last_out is None or exposure.last_out > day


def _named(names: tuple[str, ...], found: Mapping[str, Exposure]) -> list[Exposure]:
    """Return the exposures of these applications, each once."""
    return list({each.id: each for name in names if (each := found.get(name)) is not None}.values())


def by_application(exposures: Mapping[str, Exposure]) -> dict[str, Exposure]:
    """Return `find` of every application at once, for those who look up many."""
    found = dict(exposures)
    # The first to which an application was added counts, so it is put in last.
    for each in reversed([*exposures.values()]):
        if each.also:
            found.update(dict.fromkeys(each.also, each))
    return found


def find(name: str, exposures: Mapping[str, Exposure]) -> Exposure | None:
    """Return that exposure to which the pieces of an application were added, else its own."""
    for each in exposures.values():
        if each.also and name in each.also:
            return each
    return exposures.get(name)


def meant(name: str, exposures: Mapping[str, Exposure]) -> Exposure | None:
    """Return the exposure that a record means which names an application.

    Its own, but where the combs went on with it, and came back with others, as it is now.
    """
    own = exposures.get(name)
    return find(name, exposures) if own is None or own.moved_on else own


def rest_over(terms: Terms, end: int) -> int | None:
    """Return the first day on which a course may start after one that ended on `end`.

    Days come after months; None where the terms do not say.
    """
    days, months = terms.rest
    if days is None and months is None:
        return None
    return add_months(end, months or 0) + (days or 0)
