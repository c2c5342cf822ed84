"""The treatments of a record book: each application with all that a law wants to know of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, Literal

from fieldapp.husbandry.amounts import measured, number_of
from fieldapp.husbandry.days import as_date
from fieldapp.husbandry.ledger import Ledger
from fieldapp.husbandry.operation import Operation
from fieldapp.husbandry.periods import holding
from fieldapp.husbandry.progress import exposures_of, flag_words
from fieldapp.husbandry.state import Course, Exposure, HiveState
from fieldapp.husbandry.terms import Period, Terms, unknown_terms
from fieldapp.husbandry.vocabulary import DAYS, STROKES, WHY_OTHERWISE, word
from fieldapp.journal.record import Record
from fieldapp.papers.model import Amount, Treated, Withdrawal
from fieldapp.papers.names import Names, key_of
from fieldapp.words import Degrees, Phrase, say


class Treatments:
    """Tells of applications what rules and ledger know of them."""

    def __init__(
        self,
        operation: Operation,
        ledger: Ledger,
        names: Names,
        labels: Mapping[str, str],
        numbered: Mapping[str, int],
        doubled: Mapping[str, str],
        why: Mapping[str, str],
    ) -> None:
        """Index the states; `labels` are those of terms records, `numbered` changes by root.

        `doubled` gives for each application answered to be another one that other one, `why`
        the reason that the keeper gave afterwards for one that is otherwise than its label.
        """
        self._operation = operation
        self._ledger = ledger
        self._names = names
        self._labels = labels
        self._numbered = numbered
        self._why = why
        self._logged = Counter(doubled.values())
        self._courses: dict[str, tuple[Course, HiveState]] = {}
        self._exposures: dict[str, Exposure] = {}
        self._twice: set[str] = set()
        for hive in operation.hives:
            self._index(operation.state(hive))

    def _index(self, state: HiveState) -> None:
        for question in state.questions:
            if question.what == "twice":
                self._twice.update(question.records)
        for course in state.courses:
            for dose in course.doses:
                self._courses[dose.id] = (course, state)
        for exposure in state.exposures:
            for name in (exposure.id, *exposure.also):
                self._exposures.setdefault(name, exposure)

    def treated(self, record: Record) -> Treated:
        """Return one application, as it holds."""
        body, day = record.body, date.fromisoformat(record.day)
        key = key_of(record)
        treatment = body["treatment"]
        terms = self._operation.shared.terms(body["terms"], treatment)
        terms = terms or unknown_terms(treatment, body["terms"], "pieces" in body)
        course, state = self._courses.get(record.id, (None, None))
        exposure = self._exposures.get(record.id)
        first, last = _duration(course, state, exposure, day)
        return Treated(
            record=record,
            day=day,
            apiary=self._names.apiary(self._names.apiary_of(record)),
            hive=self._names.hive(record.hive, key),
            name=terms.name,
            active=terms.active,
            method=terms.method,
            form=terms.form,
            label=self._labels.get(body["terms"], ""),
            first=first,
            last=last,
            days=(last - first).days + 1 if first is not None and last is not None else None,
            k=_place(course, record.id),
            n=course.n if course is not None else None,
            amount=_amount(body),
            pieces=body.get("pieces"),
            pieces_out=as_date(exposure.last_out) if exposure and exposure.last_out else None,
            pieces_state=_pieces(exposure),
            lots=self._ledger.behind(record),
            withdrawal=self._withdrawal(terms, record),
            honey_from=self._honey_from(record, day, terms),
            person=self._names.person(record.keeper),
            remarks=(
                *self._asked(record),
                *_remarks(record, course, exposure),
                *self._because(record),
            ),
            change=self._numbered.get(record.id),
        )

    def _asked(self, record: Record) -> Iterable[Phrase]:
        if record.id in self._twice:
            yield say("logged twice, not answered whether it was one")
        if more := self._logged[record.id]:
            yield say("logged {n} times, answered to be one", n=more + 1)

    def _because(self, record: Record) -> Iterable[Phrase]:
        if record.id in self._why:
            yield say("because: {reason}", reason=WHY_OTHERWISE[self._why[record.id]])

    def _periods(self, terms: Terms, record: Record) -> tuple[Period, ...]:
        hive = self._operation.shared.same.of("hive", record.hive or "")
        return holding(self._operation.shared.entries(terms.treatment), terms, hive)

    def _withdrawal(self, terms: Terms, record: Record) -> Withdrawal:
        periods = self._periods(terms, record)
        if not periods:
            return _not_known(terms)
        period = max(periods, key=lambda each: (each.form != "days", each.days or 0))
        return Withdrawal(
            period.days if period.form == "days" else None,
            _of_period(period),
            True,
            period.source,
            period.standing,
        )

    def _honey_from(self, record: Record, day: date, terms: Terms) -> date | None:
        """Return the first day on which nothing recorded closes the hive, this treatment's or any.

        One treatment's own end is no answer while another still closes the hive.
        """
        if not self._periods(terms, record):
            return None
        state = self._operation.state(record.hive or "")
        given = day.toordinal()
        ends = [
            row.last
            for row in state.closed
            if (row.first <= given and (row.last is None or given <= row.last))
            or any(state.causes[place].record == record.id for place in row.causes)
        ]
        if None in ends:
            return None
        return as_date(max((end + 1 for end in ends if end is not None), default=given))


def _of_period(period: Period) -> Phrase:
    if period.form != "days":
        return say("until next season's supers")
    said = number_of(period.days or 0, DAYS)
    return say("{period}, on honey alone", period=said) if period.honey_only else said


def _not_known(terms: Terms) -> Withdrawal:
    """Return that no period is known; a figure that cannot count is shown beside."""
    shown = terms.period_shown
    if shown is None:
        return Withdrawal(None, say("not known"), False, "", "")
    words = say(
        "not known (not counted: {period}, {standing})",
        period=_of_period(shown),
        standing=shown.standing,
    )
    return Withdrawal(None, words, False, shown.source, shown.standing)


def _duration(
    course: Course | None, state: HiveState | None, exposure: Exposure | None, day: date
) -> tuple[date, date | None]:
    """Return the first and last day of the treatment: its course, with its pieces."""
    first = as_date(course.first) if course is not None else day
    last: date | None = as_date(course.last) if course is not None else day
    exposures = exposures_of(course, state) if course is not None and state is not None else []
    if exposure is not None and exposure not in exposures:
        exposures = [*exposures, exposure]
    for each in exposures:
        if each.last_out is None:
            return first, None
        last = max(last or day, as_date(each.last_out))
    return first, last


def _place(course: Course | None, record: str) -> int | None:
    """Return the how-manieth application of its course a record is, part doses counted."""
    if course is None:
        return None
    return next((k for k, dose in enumerate(course.doses, 1) if dose.id == record), None)


def _amount(body: Mapping[str, Any]) -> Amount | None:
    dose = body.get("dose")
    if dose is None:
        drawn = body.get("drawn", ())
        units = {each["unit"] for each in drawn}
        return Amount(sum(d["amount"] for d in drawn), units.pop()) if len(units) == 1 else None
    return Amount(dose["amount"], dose["unit"], dose["of"], dose.get("per", ""))


def _pieces(exposure: Exposure | None) -> Literal["", "in", "out", "not known"]:
    if exposure is None:
        return ""
    if exposure.into is None and exposure.open:
        return "not known"
    return "in" if exposure.open else "out"


def _remarks(record: Record, course: Course | None, exposure: Exposure | None) -> Iterable[Phrase]:
    body = record.body
    for name, phrases in _SEEN.items():
        yield phrases.get(body.get(name, "not known"), say("{word}", word=str(body.get(name))))
    if "seams" in body:
        yield measured(float(body["seams"]), "seam")
    if "temperature" in body:
        yield say("{degrees} outside", degrees=Degrees(body["temperature"]))
    else:
        yield say("temperature not known")
    if "seconds" in body:
        yield say("{seconds} s", seconds=body["seconds"])
    for each in body.get("strokes", ()):
        strokes = number_of(each["strokes"], STROKES)
        yield say("{strokes}: {place}", strokes=strokes, place=word(each["place"]))
    if "clear" in body:
        yield say("batch clear") if body["clear"] == "clear" else say("batch cloudy")
    if "reason" in body:
        yield say("because: {reason}", reason=body["reason"])
    doses = course.doses if course is not None else ()
    flags = [flag for dose in doses if dose.id == record.id for flag in dose.flags]
    flags += exposure.flags if exposure is not None else ()
    yield from dict.fromkeys(flag_words(flag) for flag in flags)
    if exposure is not None and exposure.lost:
        yield say("pieces lost: {n}", n=exposure.lost)


_SEEN: Mapping[str, Mapping[str, Phrase]] = {
    "supers": {
        "off": say("supers off"),
        "on": say("supers on"),
        "not known": say("supers not known"),
    },
    "brood": {
        "none": say("no brood"),
        "hardly any": say("hardly any brood"),
        "yes": say("brood"),
        "not known": say("brood not known"),
    },
}
