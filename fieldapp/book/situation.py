"""What the records say of a hive on a day, in the form in which treatments are chosen by it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, Literal, NamedTuple

from fieldapp.book.answers import Entry
from fieldapp.husbandry.choosing.outlook import DayOutlook
from fieldapp.husbandry.choosing.situation import PastCourse, Situation
from fieldapp.husbandry.days import as_date, as_date_or_none
from fieldapp.husbandry.dosing import Dose, doses
from fieldapp.husbandry.errors import Unfitting
from fieldapp.husbandry.ledger import Ledger, Lot
from fieldapp.husbandry.ledger.units import told_in
from fieldapp.husbandry.progress import course_state, exposures_of, last_day
from fieldapp.husbandry.state import Course, HiveState
from fieldapp.husbandry.staying import LOOK_BEFORE

#: A course that stands so goes on: another application, or a piece out, belongs to it.
_GOES_ON = frozenset({"waiting", "due", "late", "timing not known", "pieces in"})
#: Days before the day asked from which on the records of a hive bear on its situation.
LOOKS_BACK = LOOK_BEFORE
#: What a look counts, by the word for it in terms.
_COUNTED = {
    "frames of brood": "brood_frames",
    "frames of bees": "frames_of_bees",
    "seams": "seams",
    "boxes": "boxes",
}
#: On what a dose stands, by the size that tells how many of it a hive has.
_BASES = {
    "seams": ("seam",),
    "frames of bees": ("frame of bees",),
    "boxes": ("box", "brood chamber"),
}
#: What parts or joins colonies: whose queen is where has to be looked at anew.
_UNSETTLES = frozenset({"colony", "split", "unite", "swarm", "transfer", "death"})
#: What is done with a queen who is then in the hive.
_IN_HIVE = frozenset({"caged", "released"})


class Said(NamedTuple):
    """What no record can know and the keeper says for a day; None is *not known*."""

    flow: bool | None = None
    last_harvest_taken: bool | None = None
    all_at_once: bool | None = None
    supers_off: bool | None = None


class Around(NamedTuple):
    """What is alike for all hives of an apiary on a day.

    `bodies` are the bodies of ``terms`` records by treatment, those of past courses among them.
    """

    day: date
    ledger: Ledger
    outlook: Mapping[date, DayOutlook]
    bodies: Mapping[str, Mapping[str, Any]]
    said: Said = Said()


def situation(state: HiveState, history: Sequence[Entry], around: Around) -> Situation:
    """Return a hive's situation; `history` is what the book has of it, `LOOKS_BACK` days or more.

    A look counts from 7 days before the day asked, as it does for pieces: what was seen
    earlier is *not known* any more.
    """
    recent = _recent(history, around.day)
    looks = [each for each in recent if each.root.kind == "look"]
    brood, brood_records = _brood(state, around.day)
    queen, queen_records = _queen(recent)
    supers, supers_records = _supers(state, around.said)
    sizes, sizes_records = _sizes(state, looks)
    stock, needed, lots = _stock(around, sizes)
    blocked = around.ledger.register.blocked(state.apiary or "", around.day)
    prescribed = {
        lot.treatment: lot.id for lot in around.ledger.stock.lots if _prescribed(lot, around.day)
    }
    whole = around.said.all_at_once
    return Situation(
        brood=brood,
        queen=queen,
        supers=supers,
        sizes=sizes,
        courses=(*_courses(state, around), *_strays(state, around)),
        outlook={day: each.weather for day, each in around.outlook.items()},
        others_untreated=None if whole is None else not whole,
        standstill=blocked is not None,
        flow=around.said.flow,
        last_harvest_taken=around.said.last_harvest_taken,
        stock=stock,
        needed=needed,
        prescribed=dict.fromkeys(prescribed, True),
        grounds={
            "brood": brood_records,
            "queen": queen_records,
            "supers": supers_records,
            "size": sizes_records,
            "outlook": tuple(dict.fromkeys(each.record for each in around.outlook.values())),
            "stock": lots,
            "standstill": blocked.reason.records if blocked is not None else (),
            "prescription": tuple(prescribed.values()),
        },
    )


def _recent(history: Sequence[Entry], day: date) -> list[Entry]:
    """Return the records of the days over which a look counts on `day`, newest first."""
    return [
        each
        for each in history
        if not each.void and 0 <= (day - date.fromisoformat(each.holds.day)).days <= LOOK_BEFORE
    ]


def _queen(
    recent: Sequence[Entry],
) -> tuple[Literal["present", "absent", "not known"], tuple[str, ...]]:
    """Return whether the colony has a queen, by the newest record that tells of her.

    Eggs tell of her as she herself does. Queen cells, a new queen put in, or colonies that
    parted or joined since leave it open.
    """
    for each in recent:
        kind, body = each.root.kind, each.holds.body
        if kind in _UNSETTLES or body.get("did") == "introduced" or body.get("queen") == "cells":
            return "not known", ()
        if kind == "look" and (body.get("queen") == "seen" or body.get("eggs") == "yes"):
            return "present", (each.root.id,)
        if kind == "look" and body.get("queen") == "queenless":
            return "absent", (each.root.id,)
        if kind == "queen":
            return ("present" if body["did"] in _IN_HIVE else "absent"), (each.root.id,)
    return "not known", ()


def _brood(
    state: HiveState, day: date
) -> tuple[Literal["none", "hardly any", "yes", "not known"], tuple[str, ...]]:
    asked = day.toordinal()
    for look in sorted(state.looks, key=lambda each: each.key, reverse=True):
        if asked - LOOK_BEFORE <= look.day <= asked:
            words: dict[str, Literal["none", "hardly any", "yes"]] = {
                "none": "none",
                "hardly any": "hardly any",
                "yes": "yes",
            }
            if look.brood in words:
                return words[look.brood], (look.key[3],)
    return "not known", ()


def _supers(
    state: HiveState, said: Said
) -> tuple[Literal["off", "on", "not known"], tuple[str, ...]]:
    """Return whether supers are on: records that say so stand before the keeper's word."""
    on = [each for each in state.supers if each.hive == state.hive]
    if on:
        return "on", tuple(record for each in on for record in each.records)
    if state.supers_off_on is not None or said.supers_off:
        return "off", ()
    return ("on", ()) if said.supers_off is False else ("not known", ())


def _sizes(state: HiveState, looks: Sequence[Entry]) -> tuple[dict[str, float], tuple[str, ...]]:
    sizes: dict[str, float] = {} if state.boxes is None else {"boxes": float(state.boxes)}
    records: list[str] = []
    for look in reversed(looks):
        for unit, field in _COUNTED.items():
            if field in look.holds.body:
                sizes[unit] = float(look.holds.body[field])
                records.append(look.root.id)
    return sizes, tuple(dict.fromkeys(records))


def _courses(state: HiveState, around: Around) -> list[PastCourse]:
    return [_course(course, state, around) for course in state.courses]


def _course(course: Course, state: HiveState, around: Around) -> PastCourse:
    word = course_state(course, state, around.day.toordinal())
    goes_on = word in _GOES_ON
    return PastCourse(
        course.treatment,
        _class(course.treatment, around),
        tuple(as_date(dose.day) for dose in course.doses),
        None if goes_on else as_date_or_none(last_day(course, state)),
        word == "pieces in",
        tuple(dose.id for dose in course.doses),
    )


def _strays(state: HiveState, around: Around) -> list[PastCourse]:
    """Return pieces in these boxes that no course of this colony put there."""
    own = {id(exposure) for course in state.courses for exposure in exposures_of(course, state)}
    return [
        PastCourse(each.treatment, _class(each.treatment, around), (), None, True, (each.id,))
        for each in state.exposures
        if each.open and id(each) not in own
    ]


def _class(treatment: str, around: Around) -> str | None:
    entry = around.bodies.get(treatment, {}).get("values", {}).get("class")
    return None if entry is None else str(entry["value"])


def _usable(lot: Lot, day: date) -> bool:
    return bool(lot.treatment) and lot.left and (lot.last_day is None or lot.last_day >= day)


def _prescribed(lot: Lot, day: date) -> bool:
    return _usable(lot, day) and "prescription" in lot.record.body


def _stock(
    around: Around, sizes: Mapping[str, float]
) -> tuple[dict[str, float], dict[str, float], tuple[str, ...]]:
    """Return what is on hand and what this hive takes, by treatment, each in the lots' unit.

    Lots of one treatment in units that do not go together add up to nothing known.
    """
    stock: dict[str, float] = {}
    units: dict[str, str] = {}
    mixed: set[str] = set()
    lots = [lot for lot in around.ledger.stock.lots if _usable(lot, around.day)]
    # Used up or expired is none on hand, which is known; never bought is not.
    gone = [lot.treatment for lot in around.ledger.stock.lots if lot.treatment]
    for lot in lots:
        unit = units.setdefault(lot.treatment, lot.unit)
        amount = told_in(lot.on_hand, lot.unit, unit)
        if amount is None:
            mixed.add(lot.treatment)
            continue
        stock[lot.treatment] = stock.get(lot.treatment, 0.0) + amount
    known = {
        treatment: amount
        for treatment, amount in (dict.fromkeys(gone, 0.0) | stock).items()
        if treatment not in mixed
    }
    needed = {}
    for treatment in known:
        amount = _needed(around.bodies.get(treatment), sizes, units.get(treatment, ""))
        if amount is not None:
            needed[treatment] = amount
    return known, needed, tuple(lot.id for lot in lots)


def _needed(body: Mapping[str, Any] | None, sizes: Mapping[str, float], unit: str) -> float | None:
    if body is None:
        return None
    size = {per: sizes[of] for of, bases in _BASES.items() if of in sizes for per in bases}
    try:
        told = doses(body, size)
    except Unfitting:
        # Seams of another program that are no quarters: how much it takes is not known.
        return None
    most = [
        told_in(each.most or each.amount or 0.0, each.unit, unit)
        for each in told
        if isinstance(each, Dose)
    ]
    return max((amount for amount in most if amount), default=None)
