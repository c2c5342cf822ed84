"""An own treatment: the terms that a keeper reads off the label in hand.

Each value is asked for with its unit and none is assumed: what the label does not say stays
*not known*, and a number without its unit is refused. Weeks become days exactly; degF become
degC to a tenth.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.library.errors import LibraryError
from fieldapp.journal.kinds import KINDS
from fieldapp.words import Phrase, say

STANDING = "label in hand"
SOURCE = "label"

_DAYS = {"days": 1, "weeks": 7}
#: In the note of the source: after it stand the keys of which the label says nothing.
_SILENT = "silent on: "


class Asked(NamedTuple):
    """One value to ask for: its key in the terms, the question, the units that may be chosen.

    `units` is empty where the value has none or carries its own (the dose, the colony's size).
    """

    key: str
    question: Phrase
    units: tuple[str, ...] = ()


class LabelInHand(NamedTuple):
    """The label from which the keeper reads. `year` is None where it bears none.

    `seen` is the day on which it was read, `silent` the keys of `QUESTIONS` that it does not
    answer, which is more than not to know what it says.
    """

    name: str
    issuer: str | None
    year: int | None
    country: str
    section: str | None = None
    seen: date | None = None
    silent: tuple[str, ...] = ()


#: What is asked, in this order. Cautions, gear and first aid are lines as the label has them.
QUESTIONS = (
    Asked("applications", say("How many applications make a course: at least, usual, at most?")),
    Asked("gap", say("Time between two applications: at least, best, at most?"), tuple(_DAYS)),
    Asked("stay", say("How long do pieces stay in, with and without brood?"), tuple(_DAYS)),
    Asked("rest", say("How long before the next course?"), ("days", "months")),
    Asked("limit", say("How many courses or applications a year at most?")),
    Asked("dose", say("Which dose, of what and per what, and the most for one colony?")),
    Asked("supers", say("Honey supers during the treatment?")),
    Asked("combs_exposed", say("May combs that were present never be extracted for people?")),
    Asked("period", say("Withdrawal period for honey?"), tuple(_DAYS)),
    Asked("temperature", say("Which temperatures, of which days?"), ("degC", "degF")),
    Asked("brood", say("Which brood does it need?")),
    Asked("queen", say("Does it need a queen in the hive?")),
    Asked("colony_size", say("How large must the colony be?")),
    Asked("flow", say("Not during a nectar flow?")),
    Asked("after_last_harvest", say("Only after the year's last harvest?")),
    Asked("whole_apiary", say("All colonies of the apiary at the same time?")),
    Asked("prescription", say("On prescription only?")),
    Asked("reaches_capped", say("Does it reach mites under cappings?")),
    Asked("class", say("Class of the active substance?")),
    Asked("look_queen", say("Look for the queen after?"), tuple(_DAYS)),
    Asked("hive_set_up", say("Entrance, floor, feeding, placing?")),
    Asked("cautions", say("Which cautions?")),
    Asked("protective", say("What does the person wear?")),
    Asked("first_aid", say("Which first aid?")),
)


def own_terms(
    own_id: str,
    name: str,
    active: str,
    method: str,
    form: str,
    label: LabelInHand,
    answers: Mapping[str, Any],
) -> dict[str, Any]:
    """Return the body of the ``terms`` record for an own treatment.

    `own_id` is a UUID chosen by the caller, `form` is ``dose``, ``pieces`` or ``act``. `answers`
    is keyed as `QUESTIONS`; each has the shape of `fieldapp.journal.kinds.labels.VALUES`, with
    ``unit`` besides (in each entry of a list) where `QUESTIONS` names units. A ``rest`` names
    its unit by its field, ``look_queen`` is ``{"days": …, "unit": …}``.

    Raises `LibraryError`, which names the answer and what fits, where one cannot be taken.
    """
    known = {asked.key for asked in QUESTIONS}
    values: dict[str, Any] = {}
    for key, answer in answers.items():
        if key not in known:
            raise LibraryError(key, "a value that is asked for")
        values[key] = {
            "value": _CONVERT.get(key, _as_it_is)(key, answer),
            "standing": STANDING,
            "source": SOURCE,
        }
    source = {
        "title": label.name,
        "issuer": label.issuer,
        "year": label.year,
        "section": label.section,
        "country": label.country,
        "note": _note(label),
    }
    body = {
        "treatment": f"own/{own_id}",
        "name": name,
        "active": active,
        "method": method,
        "country": label.country,
        "label": label.name,
        "form": form,
        "published": True,
        "values": values,
        "sources": {SOURCE: {field: it for field, it in source.items() if it is not None}},
    }
    if unfit := KINDS["terms", 1].check(body):
        raise LibraryError(unfit.where.removeprefix("values."), unfit.expected)
    return body


def silent_in(body: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the keys of which the label is silent, as the body of an own treatment says."""
    _, _, keys = str(body["sources"].get(SOURCE, {}).get("note", "")).partition(_SILENT)
    return tuple(key for key in keys.split(",") if key)


def seen_on(body: Mapping[str, Any]) -> date | None:
    """Return the day on which the label was read, None where the body does not say."""
    before, _, rest = str(body["sources"].get(SOURCE, {}).get("note", "")).partition("seen ")
    try:
        return date.fromisoformat(rest[:10]) if before or rest else None
    except ValueError:
        return None


def _note(label: LabelInHand) -> str:
    """Return the note on a label; with every key in it, it is as long as a note may be."""
    seen = f", seen {label.seen.isoformat()}" if label.seen is not None else ""
    silent = f"; {_SILENT}{','.join(label.silent)}" if label.silent else ""
    return f"label in hand{seen}{silent}"


def _as_it_is(_key: str, answer: Any) -> Any:
    return answer


def _unit(where: str, entry: Any, units: tuple[str, ...]) -> tuple[dict[str, Any], str]:
    """Take the unit out of `entry` and return what is left, and the unit."""
    fields = dict(entry) if isinstance(entry, Mapping) else {}
    unit = fields.pop("unit", None)
    if unit not in units:
        raise LibraryError(f"{where}, unit", "one of: " + ", ".join(units))
    return fields, str(unit)


def _in_days(where: str, entry: Any) -> dict[str, Any]:
    fields, unit = _unit(where, entry, tuple(_DAYS))
    return {
        name: value * _DAYS[unit] if type(value) in (int, float) else value
        for name, value in fields.items()
    }


def _period(where: str, entry: Any) -> Any:
    """Convert a period; only one counted in days has a unit."""
    if isinstance(entry, Mapping) and entry.get("form") == "days":
        return _in_days(where, entry)
    return entry


def _look(where: str, entry: Any) -> Any:
    return _in_days(where, entry).get("days")


def _in_celsius(where: str, entry: Any) -> dict[str, Any]:
    """Convert one temperature; degF become degC to a tenth."""
    fields, unit = _unit(where, entry, ("degC", "degF"))
    if unit == "degF":
        for name in ("low", "high"):
            if type(fields.get(name)) in (int, float):
                fields[name] = round((fields[name] - 32) * 5 / 9, 1)
    return fields


def _each(convert: Callable[[str, Any], Any]) -> Callable[[str, Any], Any]:
    def convert_all(where: str, answer: Any) -> Any:
        if not isinstance(answer, list):
            return answer
        return [convert(f"{where}.{index}", entry) for index, entry in enumerate(answer)]

    return convert_all


_CONVERT: dict[str, Callable[[str, Any], Any]] = {
    "gap": _in_days,
    "stay": _each(_in_days),
    "period": _period,
    "look_queen": _look,
    "temperature": _each(_in_celsius),
}
