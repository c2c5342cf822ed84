"""A second implementation of the rules: slow, plain, from the contract alone.

`answers` recomputes everything from a list of records for one day. It shares nothing with the
product but the table of kinds and the record itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from oracle_courses import due_window, rest_flag, state_of
from oracle_honey import Cause, causes_of, exposure_causes, first_open, intervals
from oracle_pieces import judge_stay, stay_of
from oracle_state import Boxes, Colony, Course, Exposure
from oracle_supers import Store, Super, replay
from oracle_versions import open_heads, worlds
from oracle_walk import Walked, terms_that_hold, walk
from oracle_worst import worst_by_terms, worst_exposures

from fieldapp.journal.record import Record


@dataclass(frozen=True)
class CourseAnswer:
    """A course: `k` of `n` (None: not known), its state in words, and every flag on it."""

    treatment: str
    colony: str
    first: date
    k: int
    n: int | None
    state: str
    flags: frozenset[str]
    ids: tuple[str, ...]
    latest: bool


@dataclass(frozen=True)
class Due:
    """When the next application of a course is due; `timing` waiting, due, late or ask."""

    treatment: str
    colony: str
    course: str
    first: date | None
    target: date | None
    last: date | None
    timing: str


@dataclass(frozen=True)
class ExposureAnswer:
    """Pieces in these boxes by number (None: not known), and when they are to come out."""

    id: str
    treatment: str
    first_in: date
    put_in: int | None
    out: int
    lost: int
    present: int | None
    open: bool
    end: date | None
    condition: str
    remove_first: date | None
    remove_last: date | None
    look_on: date | None
    timing: str | None
    flags: frozenset[str]


@dataclass(frozen=True)
class Answers:
    """Everything that the rules say on one day.

    `living` is the colony in each hive and whether it is dead, `came` the day on which combs or
    bees last came into the boxes.
    """

    living: dict[str, tuple[str, bool]]
    came: dict[str, date]
    courses: dict[str, tuple[CourseAnswer, ...]]
    due: dict[str, tuple[Due, ...]]
    exposures: dict[str, tuple[ExposureAnswer, ...]]
    closed: dict[str, tuple[tuple[date, date | None], ...]]
    honey_from: dict[str, date | None]
    supers_from: dict[str, date | None]
    supers: dict[Super, bool]
    held: frozenset[str]
    queens: dict[str, tuple[tuple[str, date], ...]]
    questions: frozenset[tuple[str, ...]]


def answers(records: Iterable[Record], day: date) -> Answers:
    """Return what the rules say of these records on `day`, whatever order they come in."""
    records = list(records)
    first, *others = worlds(records)
    holds = walk(first)
    walks = [holds, *(walk(facts, holds.doubles) for facts in others)]
    hives = sorted({hive for walked in walks for hive in walked.yard.boxes})
    exposures = worst_exposures(walks)
    causes = {hive: _causes(walks, exposures, hive) for hive in hives}
    stores = [_supers(walked, exposures, causes, len(walks) > 1) for walked in walks]
    spans = {hive: [(c.first, c.last) for c in causes[hive]] for hive in hives}
    for_supers = {
        hive: [(c.first, c.supers_last) for c in causes[hive] if c.supers] for hive in hives
    }
    return Answers(
        living={
            hive: (boxes.colony.id, boxes.colony.dead)
            for hive, boxes in holds.yard.boxes.items()
            if boxes.colony is not None
        },
        came={hive: max(w.yard.hive(hive).came for w in walks) for hive in hives},
        courses={hive: _courses(holds, exposures.get(hive, []), hive, day) for hive in hives},
        due={hive: _due(holds, hive, day) for hive in hives},
        exposures={hive: _pieces(walks, exposures, hive, day) for hive in hives},
        closed={hive: intervals(spans[hive]) for hive in hives},
        honey_from={hive: first_open(spans[hive], day) for hive in hives},
        supers_from={hive: first_open(for_supers[hive], day) for hive in hives},
        supers=_either(stores),
        held=frozenset(lot for store in stores for lot in store.held),
        queens=_queens(holds),
        questions=_questions(records, holds),
    )


def _causes(walks: list[Walked], exposures: dict[str, list[Exposure]], hive: str) -> list[Cause]:
    """Return what closes a hive in any world, and what each exposure at its worst closes."""
    causes = []
    for walked in walks:
        if hive in walked.yard.boxes:
            causes += causes_of(walked.facts, walked.yard.boxes[hive])
        if len(walks) > 1:
            for exposure in worst_by_terms(walked, exposures, hive):
                causes += exposure_causes(walked.facts, hive, exposure)
    return causes


def _supers(
    walked: Walked,
    worst: dict[str, list[Exposure]],
    causes: dict[str, list[Cause]],
    several: bool,
) -> Store:
    exposures = {hive: list(boxes.exposures) for hive, boxes in walked.yard.boxes.items()}
    if several:
        for hive, more in worst.items():
            exposures[hive] = [*exposures.get(hive, []), *more]
    return replay(walked.facts, exposures, causes, frozenset(walked.applications))


def _either(stores: list[Store]) -> dict[Super, bool]:
    exposed: dict[Super, bool] = {}
    for store in stores:
        for super_, certain in store.exposed.items():
            exposed[super_] = certain or exposed.get(super_, False)
    return exposed


def _colonies(walked: Walked, hive: str) -> list[Colony]:
    """Return the colonies whose last place was this hive, in the order of their ids."""
    boxes = walked.yard.boxes.get(hive)
    here = {c.id: c for c in walked.yard.colonies.values() if c.hive == hive and not c.ended}
    if boxes is not None and boxes.colony is not None and boxes.colony.id == "":
        here[""] = boxes.colony
    return [here[id_] for id_ in sorted(here)]


def _courses(
    walked: Walked, exposures: list[Exposure], hive: str, day: date
) -> tuple[CourseAnswer, ...]:
    inside = {name for exposure in exposures if exposure.open for name in exposure.names}
    return tuple(
        _course(walked, inside, colony, course, day)
        for colony in _colonies(walked, hive)
        for course in sorted(colony.courses, key=lambda c: (c.given[0].key, c.united))
    )


def _course(
    walked: Walked, inside: set[str], colony: Colony, course: Course, day: date
) -> CourseAnswer:
    """Return a course; `inside` are the exposures of its hive that are open at their worst."""
    looks = walked.yard.hive(colony.hive or "").looks
    stays = {e.judged or judge_stay(e, looks, day) for e in course.exposures if e.pieces}
    flags = set(course.flags)
    for given in course.given:
        flags |= given.flags
        if given.part:
            flags.add("part dose")
    flags |= {stay for stay in stays if stay not in (None, "stayed")}
    rest = rest_flag(course)
    if rest is not None:
        flags.add(rest)
    state = state_of(course, day, "taken out early" in stays, "stay not known" in stays)
    if state not in _BEFORE_PIECES and _any_in(course, inside):
        state = "pieces in"
    ids = tuple(given.id for given in course.given)
    first = course.given[0].day
    return CourseAnswer(
        course.treatment,
        colony.id,
        first,
        course.k,
        course.n,
        state,
        frozenset(flags),
        ids,
        course is [c for c in colony.courses if c.treatment == course.treatment][-1],
    )


def _any_in(course: Course, inside: set[str]) -> bool:
    return any(e.id in inside and e.pieces and e.judged is None for e in course.exposures)


_BEFORE_PIECES = ("united", "stopped", "left with the swarm")


def _due(walked: Walked, hive: str, day: date) -> tuple[Due, ...]:
    """Return the applications that a living colony of this hive still has before it."""
    boxes = walked.yard.boxes.get(hive)
    colony = boxes.colony if boxes is not None else None
    if colony is None or colony.dead or colony.hive != hive:
        return ()
    due = []
    for course in colony.courses:
        window = due_window(course, day)
        if window is not None:
            due.append(Due(course.treatment, colony.id, course.given[0].id, *window))
    return tuple(sorted(due, key=lambda d: d.course))


def _pieces(
    walks: list[Walked], exposures: dict[str, list[Exposure]], hive: str, day: date
) -> tuple[ExposureAnswer, ...]:
    """Return numbers at their worst, and the days to take out by the version that holds."""
    boxes = walks[0].yard.boxes.get(hive, Boxes(hive))
    answers_ = []
    for exposure in exposures.get(hive, []):
        holds = [e for e in boxes.exposures if e.id == exposure.id]
        if exposure.pieces:
            alone = replace(exposure, own=terms_that_hold(walks[0].facts, exposure))
            answers_.append(_exposure(exposure, (holds or [alone])[-1], boxes, day))
    return tuple(answers_)


def _exposure(exposure: Exposure, holds: Exposure, boxes: Boxes, day: date) -> ExposureAnswer:
    stay = stay_of(holds, boxes.looks, day)
    flags = set(exposure.flags)
    timing = None
    if exposure.open:
        if exposure.missing:
            flags.add("not found")
        if stay.last is not None and day > stay.last:
            timing = "late"
        elif stay.first is not None and day < stay.first:
            timing = "waiting"
        else:
            timing = "due"
    else:
        flags |= {flag for flag in [judge_stay(holds, boxes.looks, day)] if flag}
    return ExposureAnswer(
        exposure.id,
        exposure.treatment,
        exposure.first,
        exposure.put_in,
        exposure.out,
        exposure.lost,
        exposure.present,
        exposure.open,
        None if exposure.open else exposure.last_out,
        stay.condition,
        stay.first,
        stay.last,
        stay.look_on,
        timing,
        frozenset(flags),
    )


def _queens(walked: Walked) -> dict[str, tuple[tuple[str, date], ...]]:
    """Return for each hive: treat from d + 25 of each caging, new sealed brood from r + 9."""
    said = {"caged": ("treat from", 25), "released": ("sealed brood from", 9)}
    queens: dict[str, list[tuple[str, date]]] = {}
    for fact in walked.facts:
        if fact.kind == "queen" and fact.body["did"] in said and fact.hive:
            words, after = said[fact.body["did"]]
            queens.setdefault(fact.hive, []).append((words, fact.day + timedelta(after)))
    return {hive: tuple(days) for hive, days in queens.items()}


def _questions(records: list[Record], holds: Walked) -> frozenset[tuple[str, ...]]:
    """Return the open questions: versions side by side, doubles, splits, courses, unions."""
    heads = {("heads", id_) for id_, open_ in open_heads(records).items() if len(open_) > 1}
    doubles = {("twice", *sorted(ids)) for ids in holds.doubles.asked}
    return frozenset({*heads, *doubles, *holds.yard.questions})
