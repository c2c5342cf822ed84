"""Makes hive states of finished folds: closed days, supers, lots of honey, questions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from fieldapp.husbandry.asking import questions
from fieldapp.husbandry.boxes import LEFT, Boxes
from fieldapp.husbandry.causes import Memo, causes, joined
from fieldapp.husbandry.closing import Facts
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.folding import Run
from fieldapp.husbandry.following import ON, Following
from fieldapp.husbandry.hivelog import HiveLog
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.periods import SOUTHERN, Sides
from fieldapp.husbandry.rest import by_application, rest_flags
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.state import (
    Cause,
    Course,
    Exposure,
    HiveState,
    Plan,
    Question,
)
from fieldapp.husbandry.staying import looks_between, looks_that_matter
from fieldapp.husbandry.superevents import SuperEvent
from fieldapp.husbandry.terms import Period, Terms
from fieldapp.husbandry.worst import causes_at_worst, worst_exposures

#: So many kept states are remembered as they were read.
_FEW = 32
#: More remembered causes of one hive than this, and they are found anew: most of them are past.
_MANY = 4000


class Assembly:
    """The states of all hives, and of the supers that go between them."""

    def __init__(
        self,
        shared: Shared,
        mark_events: Callable[[str], list[SuperEvent]],
        log: Callable[[str], HiveLog],
        kept: Kept | None,
    ) -> None:
        self.states: dict[str, HiveState] = {}
        self._bare: dict[str, HiveState | None] = {}
        self._shared = shared
        self._log = log
        self._kept = kept
        self.supers = Following(self.states, self.state, mark_events, log, kept)
        self._memos: dict[str, tuple[object, Memo]] = {}

    def state(self, hive: str) -> HiveState | None:
        """Return the state of a hive, of one that sleeps the kept one."""
        state = self.states.get(hive)
        if state is None and self._kept is not None:
            if hive not in self._bare:
                if len(self._bare) >= _FEW:
                    self._bare.clear()
                self._bare[hive] = self._kept.state(hive)
            bare = self._bare[hive]
            return None if bare is None else self.dressed(bare)
        return state

    def dressed(self, state: HiveState) -> HiveState:
        """Return a kept state with the terms, plans and periods that it names."""
        terms, plans = self._named(state.courses, state.exposures, state.causes)
        return state._replace(terms=terms, plans=plans, entered=self._entered(state.causes))

    def has(self, hive: str) -> bool:
        """Whether a hive's state is here, not only kept."""
        return hive in self.states

    def forget(self, hive: str) -> None:
        """Drop a hive that no longer stands for itself."""
        self.states.pop(hive, None)
        self._memos.pop(hive, None)
        self.supers.forget(hive)

    def facts(self, hive: str, log: HiveLog) -> tuple[Facts, Memo]:
        """Return what a hive's closed days depend on beyond its treatments.

        The causes found before under the same facts stand beside them.
        """
        sides = self._sides(log)
        facts = Facts(
            self._shared.all_terms,
            self._shared.entries,
            [e.key for e in log.supers if e.what in ON and e.hive == hive and e.sure],
            sides,
        )
        stamp = (self._shared.version, sides)
        known = self._memos.get(hive)
        if known is None or known[0] != stamp or len(known[1].applications) > _MANY:
            known = self._memos[hive] = (stamp, Memo({}, {}, {}))
        return facts, known[1]

    def _sides(self, log: HiveLog) -> Sides:
        """Return on which side of the equator a hive stood, day by day."""
        stood = [(key[0], self._stands(known.apiary)[2]) for key, known in log.attributes]
        changes: list[tuple[int, bool | None]] = []
        for day, south in stood:
            if south != (changes[-1][1] if changes else stood[0][1]):
                changes.append((day, south))
        return Sides(stood[0][1] if stood else None, tuple(changes))

    def _stands(self, apiary_id: str | None) -> tuple[str | None, str, bool | None]:
        """Return apiary, country, and whether it is south of the equator (None: not known)."""
        name = self._shared.same.of("apiary", apiary_id or "")
        apiary = self._shared.apiary(name)
        if apiary is None:
            return name, "", None
        if apiary.lat is not None:
            return name, apiary.country, apiary.lat < 0
        if not apiary.country:
            return name, "", None
        return name, apiary.country, apiary.country[:2] in SOUTHERN

    def assemble(
        self,
        runs: Mapping[str, Run],
        marks: Iterable[str],
        twice: Mapping[str, tuple[Question, ...]],
    ) -> frozenset[str]:
        """Make the states of the hives that were folded, and of those whose supers they touch.

        Returns the hives whose state may have changed.
        """
        for hive, run in runs.items():
            state = self._hive_state(hive, run, self._log(hive), twice.get(hive, ()))
            self.states[hive] = state
            self._bare.pop(hive, None)
            self.supers.exposed_by(hive, state.causes, state.deaths)
        changed = runs.keys() | self.supers.follow(marks, runs)
        for hive in changed:
            self.supers.add_supers(hive)
        return frozenset(changed)

    # One hive

    def _hive_state(
        self, hive: str, run: Run, log: HiveLog, twice: tuple[Question, ...]
    ) -> HiveState:
        facts, memo = self.facts(hive, log)
        held = run.branches[0]
        found = causes(held.drafts, held.exposures, held.courses, facts, memo)
        stood = dict(held.exposures)
        if len(run.branches) > 1:
            worst = worst_exposures(run.branches)
            for boxes in run.branches[1:]:
                found += causes(boxes.drafts, boxes.exposures, boxes.courses, facts, memo)
            found += causes_at_worst(run.branches, worst, facts)
            found = list(dict.fromkeys(found))
            pieces = {name for boxes in run.branches for name in boxes.exposures}
            stood = {name: each for name, each in worst.items() if name in pieces}
        if run.overflow:
            found.append(_until_answered(run))
        deaths = tuple((e.key, e.record.id) for e in log.entries if e.what == "death")
        courses = self._finished(held, memo)
        exposures = tuple(sorted(stood.values(), key=lambda each: each.key))
        looks = [*held.looks, *looks_between(log.looks, held.since)]
        apiary, country, south = (
            self._stands(log.attributes[-1][1].apiary) if log.attributes else (None, "", None)
        )
        body = log.attributes[-1][1].body if log.attributes else {}
        terms, plans = self._named(courses, exposures, found)
        return HiveState(
            hive=hive,
            number=body.get("number", ""),
            apiary=apiary,
            stand=body.get("stand"),
            boxes=body.get("boxes"),
            ended=body.get("ended", ""),
            colony=self._shared.same.of("colony", held.colony) if held.colony else "",
            born=held.born,
            dead=held.dead,
            dead_record=held.dead_record,
            deaths=deaths,
            seen=_seen(run.branches),
            country=country,
            south=south,
            courses=courses,
            exposures=exposures,
            causes=tuple(found),
            closed=joined(found),
            looks=looks_that_matter(looks, exposures),
            events=tuple(log.events),
            questions=(*twice, *questions(held, courses, exposures, found, log, self._shared)),
            terms=terms,
            plans=plans,
            entered=self._entered(found),
        )

    def _finished(self, held: Boxes, memo: Memo) -> tuple[Course, ...]:
        """Return the courses of a hive with their rest judged, now that all pieces are known."""
        found = by_application(held.exposures)
        now = {}
        left = [course for name, course in held.courses.items() if LEFT in name]
        here = [course for name, course in held.courses.items() if LEFT not in name]
        # What went elsewhere and came back stands as it came back.
        for course in (*left, *here):
            pieces = tuple(map(found.get, course.inside + course.before))
            known = memo.rested.get(course.id)
            if known is None or known[0] != course or known[1] != pieces:
                terms = self._shared.terms(course.terms, course.treatment)
                flags = course.flags + rest_flags(course, terms, found)
                colony = self._shared.same.of("colony", course.colony)
                known = (course, pieces, course._replace(flags=flags, colony=colony))
                memo.rested[course.id] = known
            now[course.id] = known[2]
        return tuple(sorted(now.values(), key=_by_first))

    def _named(
        self, courses: Iterable[Course], exposures: Iterable[Exposure], found: Iterable[Cause]
    ) -> tuple[dict[str, Terms], dict[str, Plan]]:
        names: dict[str, str] = {}
        plans: dict[str, Plan] = {}
        for course in courses:
            names[course.terms] = course.treatment
            plan = self._shared.plan(course.plan) if course.plan else None
            if plan is not None:
                plans[plan.id] = plan
        for exposure in exposures:
            names[exposure.terms] = exposure.treatment
        for cause in found:
            names[cause.terms] = cause.treatment
        terms = {}
        for name, treatment in names.items():
            known = self._shared.terms(name, treatment)
            if known is not None:
                terms[name] = known
        return terms, plans

    def _entered(self, found: Iterable[Cause]) -> dict[str, Period]:
        """Return the periods that somebody entered and that decide a cause, by record."""
        treatments = {cause.treatment for cause in found}
        return {
            entry.record: entry.period
            for treatment in sorted(treatments)
            for entry in self._shared.entries(treatment)
        }


def _by_first(course: Course) -> tuple[int, str]:
    return course.first, course.id


def _seen(branches: Iterable[Boxes]) -> tuple[tuple[Key, str, str], ...]:
    """Return where supers were seen on, or it was not known, at applications of any version."""
    seen = {each for boxes in branches for each in boxes.supers_seen if each[1] != "off"}
    return tuple(sorted(seen))


def _until_answered(run: Run) -> Cause:
    """Return the cause for which a hive is closed while too many versions stand side by side."""
    entry = next(entry for entry in run.entries if entry.side is not None)
    return Cause(
        record=entry.record.id,
        treatment=entry.record.body.get("treatment", ""),
        terms="",
        course="",
        hive=run.hive,
        first=entry.key[0],
        last=None,
        why="answer",
        end=None,
        key=entry.key,
        until=None,
        exposes=True,
        wants_off=True,
        super_last=None,
        period="",
    )
