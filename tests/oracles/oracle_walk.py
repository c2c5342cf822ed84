"""The walk: takes one world's records in order and hands each to the rule that it is for."""

from __future__ import annotations

from dataclasses import dataclass, field

import oracle_places as places
from oracle_courses import Answer, Plan, count_double, give, stop
from oracle_pieces import happen, put_in
from oracle_places import Yard
from oracle_same import Twice, groups, renamed, twice
from oracle_state import Colony, Course, Exposure, Given, Look, Segment, Terms
from oracle_versions import Fact


@dataclass
class Walked:
    """One world after the walk."""

    facts: list[Fact]
    yard: Yard
    doubles: Twice
    applications: set[str] = field(default_factory=set)


def walk(facts: list[Fact], doubles: Twice | None = None) -> Walked:
    """Walk through the facts of one world, which are in order.

    `doubles` are those of the world that holds; left out: this is that world.
    """
    colonies = groups(facts, "colony")
    facts = renamed(facts)
    walked = Walked(facts, Yard(names=colonies), doubles or twice(facts))
    for fact in facts:
        _step(walked, fact)
    return walked


def _step(walked: Walked, fact: Fact) -> None:
    yard = walked.yard
    match fact.kind:
        case "application":
            if walked.doubles.same_as(fact) is None:
                _application(walked, fact)
        case "pieces":
            assert fact.hive
            terms = _latest_terms(walked.facts, fact.body["treatment"])
            name = fact.body.get("application", "")
            name = walked.doubles.stands_for.get(name, name)
            happen(yard.hive(fact.hive), fact, name, terms)
        case "course_stop":
            assert fact.hive
            stop(yard.hive(fact.hive), yard.living_in(fact.hive), fact.body["treatment"], fact.day)
        case "look":
            brood = fact.body.get("brood", "not seen")
            if fact.hive and brood != "not seen":
                yard.hive(fact.hive).looks.append(Look(fact.key, fact.day, brood == "yes"))
        case "split":
            places.split(yard, fact, _along(walked.facts, fact))
        case "colony":
            places.colony_comes(yard, fact)
        case "unite":
            places.unite(yard, fact)
        case "swarm":
            places.swarm(yard, fact)
        case "transfer":
            places.transfer(yard, fact)
        case "death":
            places.death(yard, fact)


def _application(walked: Walked, fact: Fact) -> None:
    assert fact.hive
    yard, facts = walked.yard, walked.facts
    if yard.living_in(fact.hive).dead:
        yard.settle(fact.hive, Colony("", implicit=True))
    boxes, colony = yard.hive(fact.hive), yard.living_in(fact.hive)
    terms = terms_of(facts, fact)
    walked.applications.add(fact.id)
    first = walked.doubles.double_of(fact)
    if first is not None:
        course = _course_with(colony.courses, first)
        exposure = put_in(fact, fact.hive, terms, course.terms if course else terms)
        if course:
            course.exposures.append(exposure)
            count_double(colony, course, first, terms)
            mine = Given(fact.id, fact.day, fact.key, False, terms)
            boxes.segments.append(Segment(course, mine, fact.hive, fact.key))
        boxes.exposures.append(exposure)
        return
    answer = _joins(walked, fact)
    if answer is not None and answer.course not in (None, fact.id):
        mine = [c for c in colony.courses if c.treatment == terms.treatment and not c.united]
        here = _course_with(mine, answer.course) is not None
        answer = answer if here else None
    if answer is None and _must_ask(facts, fact, colony.courses):
        yard.questions.add(("joins", fact.id))
    pieces = [e for e in boxes.exposures if e.pieces and e.treatment == terms.treatment]
    course = give(colony, fact, terms, _plan(facts, fact), answer)
    if course.given[0].id == fact.id:
        course.pieces_before = pieces
    exposure = put_in(fact, fact.hive, terms, course.terms)
    course.exposures.append(exposure)
    boxes.exposures.append(exposure)
    given = next(g for g in course.given if g.id == fact.id)
    boxes.segments.append(Segment(course, given, fact.hive, fact.key))


def _course_with(courses: list[Course], id_: str | None) -> Course | None:
    """Return the course that an application belongs to."""
    for course in courses:
        if any(given.id == id_ for given in course.given):
            return course
    return None


def _must_ask(facts: list[Fact], fact: Fact, courses: list[Course]) -> bool:
    """Whether there is a course to join and no word on how many days may lie between."""
    mine = [c for c in courses if c.treatment == fact.body["treatment"] and not c.united]
    if not mine or mine[-1].stopped is not None or mine[-1].left is not None:
        return False
    plan = _plan(facts, fact)
    gap = plan.body["gap"] if plan else mine[-1].gap
    return gap is not None and "most" not in gap


def terms_of(facts: list[Fact], application: Fact) -> Terms:
    """Return the terms that the application names; without a body where they are not there."""
    treatment = application.body["treatment"]
    for fact in facts:
        if fact.kind == "terms" and fact.id == application.body["terms"]:
            return Terms(treatment, fact.body)
    return Terms(treatment, None)


def terms_that_hold(facts: list[Fact], exposure: Exposure) -> Terms:
    """Return what the facts that hold say of an exposure that only other versions make."""
    for fact in facts:
        if fact.id == exposure.id:
            of_pieces = fact.kind == "pieces"
            return _latest_terms(facts, exposure.treatment) if of_pieces else terms_of(facts, fact)
    return exposure.own


def _latest_terms(facts: list[Fact], treatment: str) -> Terms:
    for fact in reversed(facts):
        if fact.kind == "terms" and fact.body["treatment"] == treatment:
            return Terms(treatment, fact.body)
    return Terms(treatment, None)


def _plan(facts: list[Fact], application: Fact) -> Plan | None:
    for fact in facts:
        if fact.kind == "plan" and fact.id == application.body.get("plan"):
            return Plan(fact.id, fact.body)
    return None


def _answers(facts: list[Fact], kind: str) -> list[Fact]:
    """Return the answers of a kind, the latest (stamp, id) last."""
    return sorted((f for f in facts if f.kind == kind), key=lambda f: (f.stamp, f.id))


def _joins(walked: Walked, application: Fact) -> Answer | None:
    """Return the keeper's word on the course: an answer record, else what the tap itself says."""

    def one(id_: str | None) -> str | None:
        return (
            walked.doubles.stands_for.get(
                id_ or "", walked.doubles.doubles.get(id_ or "", id_ or "")
            )
            or None
        )

    answer: Answer | None = None
    if "joins" in application.body:
        answer = Answer(one(application.body["joins"]))
    for fact in _answers(walked.facts, "answer_joins"):
        if one(fact.body["application"]) == application.id:
            answer = Answer(one(fact.body.get("course")))
    return answer


def _along(facts: list[Fact], split: Fact) -> int | None:
    """Return how many pieces went along with the part, None where nobody said."""
    along: int | None = split.body.get("pieces_along")
    for fact in _answers(facts, "answer_split"):
        if fact.body["split"] == split.id:
            along = fact.body["pieces_along"]
    return along
