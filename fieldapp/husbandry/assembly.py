"""Makes hive states of finished folds: closed days, supers, lots of honey, questions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from fieldapp.husbandry.boxes import LEFT, Boxes
from fieldapp.husbandry.closing import Facts, Memo, causes, joined
from fieldapp.husbandry.days import Key
from fieldapp.husbandry.folding import Run
from fieldapp.husbandry.kept import Kept
from fieldapp.husbandry.periods import SOUTHERN
from fieldapp.husbandry.pieces import looks_that_matter
from fieldapp.husbandry.placing import HiveLog
from fieldapp.husbandry.rest import rest_flags
from fieldapp.husbandry.shared import Shared
from fieldapp.husbandry.state import (
    Cause,
    Course,
    Drawn,
    Exposure,
    HiveState,
    Plan,
    Question,
    SuperState,
)
from fieldapp.husbandry.supers import (
    LotState,
    Marked,
    SuperEvent,
    Touch,
    Windows,
    follow,
    follow_lot,
    standing,
)
from fieldapp.husbandry.terms import Period, Terms
from fieldapp.husbandry.worst import causes_at_worst, worst_exposures

_ON = ("on", "came")


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
        self._shared = shared
        self._mark_events = mark_events
        self._log = log
        self._kept = kept
        self._windows: dict[str, Windows] = {}
        self._lots: dict[str, LotState] = {}
        self._marked: dict[str, Marked] = {}
        self._followed: set[str] = set()
        self._memos: dict[str, tuple[object, Memo]] = {}

    def state(self, hive: str) -> HiveState | None:
        """Return the state of a hive, of one that sleeps the kept one."""
        state = self.states.get(hive)
        if state is None and self._kept is not None:
            kept = self._kept.state(hive)
            return None if kept is None else self.dressed(kept)
        return state

    def dressed(self, state: HiveState) -> HiveState:
        """Return a kept state with the terms, plans and periods that it names."""
        terms, plans = self._named(state.courses, state.exposures, state.causes)
        return state._replace(terms=terms, plans=plans, entered=self._entered(state.causes))

    def lot(self, hive: str) -> LotState | None:
        """Return the state of a hive's unmarked supers, of one that sleeps the kept one."""
        lot = self._lots.get(hive)
        if lot is None and self._kept is not None:
            return self._kept.lot(hive)
        return lot

    def marked(self, mark: str) -> Marked | None:
        """Return a marked super, one that nothing touched since as it was kept."""
        marked = self._marked.get(mark)
        if marked is None and self._kept is not None and mark not in self._followed:
            return self._kept.marked(mark)
        return marked

    def followed(self) -> list[tuple[str, Marked | None]]:
        """Return the marked supers followed anew, None for one that is no longer anywhere."""
        return [(mark, self._marked.get(mark)) for mark in sorted(self._followed)]

    def has(self, hive: str) -> bool:
        """Whether a hive's state is here, not only kept."""
        return hive in self.states

    def forget(self, hive: str) -> None:
        """Drop a hive that no longer stands for itself."""
        for kept in (self.states, self._windows, self._lots):
            kept.pop(hive, None)

    def facts(self, hive: str, log: HiveLog) -> tuple[Facts, Memo]:
        """Return what a hive's closed days depend on beyond its treatments.

        The causes found before under the same facts stand beside them.
        """
        south = self._side(log)[2]
        facts = Facts(
            self._shared.all_terms,
            self._shared.entries,
            [e.key for e in log.supers if e.what in _ON and e.hive == hive and e.sure],
            south,
        )
        stamp = (self._shared.version, south)
        known = self._memos.get(hive)
        if known is None or known[0] != stamp:
            known = self._memos[hive] = (stamp, {})
        return facts, known[1]

    def _side(self, log: HiveLog) -> tuple[str | None, str, bool | None]:
        """Return apiary, country, and whether it is south of the equator (None: not known)."""
        if not log.attributes:
            return None, "", None
        name = self._shared.same.of("apiary", log.attributes[-1][1].apiary or "")
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
        touched_marks = set(marks)
        moved = {event.hive for mark in touched_marks for event in self._mark_events(mark)}
        for hive, run in runs.items():
            log, windows = self._log(hive), self._windows.get(hive)
            self.states[hive] = self._hive_state(hive, run, log, twice.get(hive, ()))
            if self._windows[hive] is not windows:
                touched_marks.update(event.mark for event in log.supers if event.mark)
        changed = set(runs)
        changed |= self._follow_marks(touched_marks)
        changed |= self._follow_lots(set(runs) | (moved & self.states.keys()))
        for hive in changed:
            self._add_supers(hive)
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
        windows = self._windows.get(hive)
        if windows is None or not windows.same(found, deaths):
            self._windows[hive] = Windows(found, deaths)
        # What went elsewhere and came back stands as it came back.
        named = sorted(held.courses.items(), key=lambda pair: LEFT not in pair[0])
        now = {course.id: self._finished(course, held) for _, course in named}
        courses = tuple(sorted(now.values(), key=lambda each: (each.first, each.id)))
        exposures = tuple(sorted(stood.values(), key=lambda each: each.key))
        looks = [*held.looks, *(look for look in log.looks if look.key > held.since)]
        apiary, country, south = self._side(log)
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
            questions=(*twice, *_questions(held, courses, exposures, found, log, self._shared)),
            terms=terms,
            plans=plans,
            entered=self._entered(found),
        )

    def _finished(self, course: Course, held: Boxes) -> Course:
        """Return a course with its rest judged, now that all pieces are known."""
        terms = self._shared.terms(course.terms, course.treatment)
        flags = rest_flags(course, terms, held.exposures)
        return course._replace(
            flags=course.flags + flags, colony=self._shared.same.of("colony", course.colony)
        )

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

    # Supers

    def _windows_of(self, hive: str) -> Windows:
        windows = self._windows.get(hive)
        if windows is None:
            state = self.state(hive)
            if state is None:
                return Windows(())
            windows = self._windows[hive] = Windows(state.causes, state.deaths)
        return windows

    def _follow_marks(self, marks: Iterable[str]) -> set[str]:
        """Follow marked supers anew; return the hives of those that changed."""
        changed = set()
        for mark in marks:
            events = sorted(self._mark_events(mark), key=lambda event: event.key)
            before = self.marked(mark)
            self._followed.add(mark)
            self._marked.pop(mark, None)
            after = follow(mark, events, self._windows_of)
            if after is not None:
                self._marked[mark] = after
            if after != before:
                changed |= {event.hive for event in events if event.hive}
                changed |= {each.last_hive for each in (before, after) if each and each.last_hive}
        return {hive for hive in changed if self._awake(hive)}

    def _awake(self, hive: str) -> bool:
        """Whether a hive has a state; one that slept is woken, its state taken over."""
        state = self.state(hive)
        if state is None:
            return False
        if hive not in self.states:
            self.states[hive] = state
            lot = self.lot(hive)
            if lot is not None:
                self._lots[hive] = lot
        return True

    def _follow_lots(self, hives: set[str]) -> set[str]:
        """Follow the unmarked lots of these hives, and of those that supers went on to."""
        changed = set()
        queue = sorted(hives)
        while queue:
            hive = queue.pop()
            if not self._awake(hive):
                continue
            log = self._log(hive)
            before = self._lots.get(hive)
            lot = follow_lot(
                [event for event in log.supers if not event.mark and event.hive == hive],
                self._windows_of(hive),
                self._seen_without_super(hive, log),
                self._carried,
                self._exposing(hive),
            )
            self._lots[hive] = lot
            if lot != before:
                changed.add(hive)
                queue += sorted(
                    {e.other for e in log.supers if e.what == "away" and not e.mark}
                    | self._borrowers(hive)
                )
        return changed

    def _borrowers(self, hive: str) -> set[str]:
        """Return the hives on which supers of this hive's lot were put from the store."""
        return {
            event.hive
            for event in self._log(hive).supers
            if event.what == "on" and event.other == hive and event.hive != hive
        }

    def _carried(self, event: SuperEvent) -> tuple[Touch, ...]:
        """Return what a super brings from another hive's lot."""
        lot = self.lot(event.other) if event.other != event.hive else None
        if lot is None:
            return ()
        before = [touch for touch in lot.touches if touch.start < event.key]
        return tuple(standing(before, lot.emptied, event.key))

    def _seen_without_super(self, hive: str, log: HiveLog) -> list[tuple[Key, str, str]]:
        """Return what was seen at applications: supers that no record knows, or not known."""
        seen = []
        for key, what, record in self.states[hive].seen:
            if what == "on":
                marks = {event.mark for event in log.supers if event.mark}
                if any(self._is_on(hive, mark, key) for mark in marks):
                    continue
            if what in ("on", "not known"):
                seen.append((key, what, record))
        return seen

    def _is_on(self, hive: str, mark: str, key: Key) -> bool:
        """Return whether a marked super was on a hive at an instant."""
        before = [event for event in self._mark_events(mark) if event.key <= key]
        where = ""
        for event in sorted(before, key=lambda event: event.key):
            if event.what in _ON:
                where = event.hive
            elif event.what in ("off", "away"):
                where = ""
        return where == hive

    def _exposing(self, hive: str) -> _Exposing:
        return _Exposing(self.states.get(hive))

    def _add_supers(self, hive: str) -> None:
        """Put supers and drawn honey into a state, from the supers as they are now."""
        state, log = self.states[hive], self._log(hive)
        supers = []
        for mark in sorted({event.mark for event in log.supers if event.mark}):
            marked = self.marked(mark)
            if marked is not None and hive in (marked.hive, marked.last_hive):
                supers.append(_marked_state(marked))
        lot = self.lot(hive)
        if lot is not None and lot.any:
            supers.append(_lot_state(hive, lot))
        off = max((e.key[0] for e in log.supers if e.what == "off"), default=None)
        drawn = tuple(
            Drawn(h.lot, h.key[3], h.mark, h.key[0], h.key, self._held(hive, state, h.key, h.mark))
            for h in log.harvests
        )
        self.states[hive] = state._replace(supers=tuple(supers), supers_off_on=off, drawn=drawn)

    def _held(self, hive: str, state: HiveState, key: Key, mark: str) -> tuple[str, ...]:
        """Return the records for which honey taken at `key` is to be held."""
        why = [
            cause.record
            for cause in state.causes
            if cause.key < key and (cause.last is None or key[0] <= cause.last)
        ]
        if mark:
            marked = self.marked(mark)
            left = standing(marked.touches, marked.emptied, key) if marked else []
        else:
            lot = self.lot(hive)
            left = standing(lot.touches, lot.emptied, key) if lot else []
        why += [touch.record for touch in left]
        return tuple(dict.fromkeys(why))


class _Exposing:
    """Whether an application wants supers off, or exposes combs that are present."""

    def __init__(self, state: HiveState | None) -> None:
        self._records = (
            {cause.record for cause in state.causes if cause.exposes} if state else set()
        )

    def __call__(self, record: str) -> bool:
        return record in self._records


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


def _questions(
    held: Boxes,
    courses: tuple[Course, ...],
    exposures: tuple[Exposure, ...],
    found: list[Cause],
    log: HiveLog,
    shared: Shared,
) -> Iterable[Question]:
    for course in courses:
        for asking in course.asks:
            yield Question("joins", (asking, course.id), course.treatment, course.last)
        for flag in course.flags:
            if flag.word == "ask which goes on":
                yield Question("unite", (course.id, flag.record), course.treatment)
    for exposure in exposures:
        if exposure.open and (exposure.into is None or exposure.not_found):
            yield Question("pieces", (exposure.id,), exposure.treatment, exposure.first)
    unsure = {split for each in held.exposures.values() for split, _ in each.unsure}
    for entry in log.entries if unsure else ():
        asks = entry.what in ("split", "part") and shared.pieces_along(entry.record) is None
        if asks and entry.record.id in unsure:
            yield Question("split", (entry.record.id,), day=entry.key[0])
    asked: dict[str, list[str]] = {}
    for cause in found:
        if cause.why == "period":
            asked.setdefault(cause.treatment, []).append(cause.record)
    for treatment, records in asked.items():
        yield Question("period", tuple(dict.fromkeys(records)), treatment)


def _marked_state(marked: Marked) -> SuperState:
    left = standing(marked.touches, marked.emptied, None)
    return SuperState(
        marked.mark,
        None,
        marked.hive,
        1,
        bool(left),
        any(touch.certain for touch in left),
        tuple(dict.fromkeys(touch.record for touch in left)),
        marked.since[0] or None,
    )


def _lot_state(hive: str, lot: LotState) -> SuperState:
    left = standing(lot.touches, lot.emptied, None)
    return SuperState(
        "",
        hive,
        hive if lot.on else None,
        lot.number,
        bool(left),
        any(touch.certain for touch in left),
        tuple(dict.fromkeys(touch.record for touch in left)),
        lot.since[0] if lot.since else None,
    )
