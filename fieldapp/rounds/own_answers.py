"""Between the small answers about a label in hand and what terms say, in both directions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from fieldapp.husbandry.library import QUESTIONS
from fieldapp.rounds.own_questions import (
    DOSES,
    LINES,
    SILENT,
    STAYS,
    TEMPERATURES,
    UNKNOWN,
    Values,
)

KEYS = tuple(asked.key for asked in QUESTIONS)
_DAYS = ("days", "weeks")
_ENDS = ("least", "target", "most")
_DOSE = ("amount", "least", "most", "unit", "of", "per", "cap", "when")
_TEMPERATURE = ("unit", "what", "low", "high", "weight", "from_day", "to_day")
_LINED = ("hive_set_up", "cautions", "protective", "first_aid")


def answers(values: Values) -> dict[str, Any]:
    """Return what `own_terms` takes: only what was answered, each with its unit."""
    found: dict[str, Any] = {}
    for key in KEYS:
        gate = values.get(key)
        if gate is None or gate in (SILENT, UNKNOWN):
            continue
        answer = _BUILD.get(key, _named)(key, str(gate), values)
        if answer not in (None, [], {}):
            found[key] = answer
    return found


def silent(values: Values) -> tuple[str, ...]:
    """Return the keys of which the label says nothing."""
    return tuple(key for key in KEYS if values.get(key) == SILENT)


def backwards(held: Mapping[str, Any]) -> dict[str, Any]:
    """Return the small answers that make the `values` of a ``terms`` body: in days and degC."""
    found: dict[str, Any] = {}
    for key, entry in held.items():
        if key in KEYS:
            found |= _BACK.get(key, _back_named)(key, entry["value"])
    return found


def _named(_key: str, gate: str, _values: Values) -> Any:
    return {"yes": True, "no": False}.get(gate, gate)


def _back_named(key: str, value: Any) -> dict[str, Any]:
    return {key: {True: "yes", False: "no"}.get(value, value)}


def _fields(at: str, names: tuple[str, ...], values: Values) -> dict[str, Any]:
    return {name: values[f"{at}.{name}"] for name in names if f"{at}.{name}" in values}


def _flat(at: str, entry: Mapping[str, Any]) -> dict[str, Any]:
    return {f"{at}.{name}": value for name, value in entry.items()}


def _applications(key: str, gate: str, values: Values) -> Any:
    if gate == "one":
        return {"least": 1, "usual": 1, "most": 1}
    return _fields(key, ("least", "usual", "most"), values)


def _back_applications(key: str, value: Any) -> dict[str, Any]:
    if value == {"least": 1, "usual": 1, "most": 1}:
        return {key: "one"}
    return {key: "several", **_flat(key, value)}


def _gap(key: str, gate: str, values: Values) -> Any:
    ends = _fields(key, _ENDS, values)
    return {**ends, "unit": gate} if ends else None


def _stay(key: str, gate: str, values: Values) -> Any:
    unit, stays = values.get("stay.unit"), []
    for index, when in enumerate(STAYS[gate]):
        ends = _fields(f"{key}.{index}", ("least", "most"), values)
        if ends:
            stays.append({"when": when, **ends, "unit": unit})
    return stays


def _back_stay(key: str, value: Any) -> dict[str, Any]:
    whens = {entry["when"]: entry for entry in value}
    gate = "one" if "any" in whens else "two"
    found = {key: gate, "stay.unit": "days"}
    for index, when in enumerate(STAYS[gate]):
        ends = {name: it for name, it in whens.get(when, {}).items() if name != "when"}
        found |= _flat(f"{key}.{index}", ends)
    return found


def _rest(key: str, gate: str, values: Values) -> Any:
    number = values.get(f"{key}.number")
    return None if number is None else {gate: number}


def _back_rest(key: str, value: Any) -> dict[str, Any]:
    return next(({key: unit, f"{key}.number": number} for unit, number in value.items()), {})


def _limit(key: str, gate: str, values: Values) -> Any:
    number = values.get(f"{key}.number")
    return None if number is None else {"number": number, "counts": gate, "per": "year"}


def _back_limit(key: str, value: Any) -> dict[str, Any]:
    return {key: value["counts"], f"{key}.number": value["number"]}


def _period(key: str, gate: str, values: Values) -> Any:
    alone = {"honey_only": True} if values.get("period.honey_only") == "yes" else {}
    if gate == "season":
        return {"form": "next season's supers", **alone}
    if gate == "zero":
        return {"form": "days", "days": 0, "unit": "days", **alone}
    days = values.get(f"{key}.days")
    return None if days is None else {"form": "days", "days": days, "unit": gate, **alone}


def _back_period(key: str, value: Any) -> dict[str, Any]:
    found = {"period.honey_only": "yes"} if value.get("honey_only") else {}
    if value["form"] != "days":
        return {key: "season", **found}
    if value.get("days") == 0:
        return {key: "zero", **found}
    return {key: "days", "period.days": value["days"], **found}


def _look(_key: str, gate: str, values: Values) -> Any:
    number = values.get("look_queen.number")
    return None if number is None else {"days": number, "unit": gate}


def _size(key: str, gate: str, values: Values) -> Any:
    ends = _fields(key, ("least", "most"), values)
    return {**ends, "unit": gate} if ends else None


def _back_size(key: str, value: Any) -> dict[str, Any]:
    ends = {name: it for name, it in value.items() if name != "unit"}
    return {key: value["unit"], **_flat(key, ends)}


def _doses(key: str, gate: str, values: Values) -> Any:
    entries = (_fields(f"{key}.{at}", _DOSE, values) for at in range(min(int(gate), DOSES)))
    return [entry for entry in entries if entry]


def _temperatures(key: str, gate: str, values: Values) -> Any:
    at_most = min(int(gate), TEMPERATURES)
    entries = (_fields(f"{key}.{at}", _TEMPERATURE, values) for at in range(at_most))
    return [entry for entry in entries if "low" in entry or "high" in entry]


def _back_entries(key: str, value: Any) -> dict[str, Any]:
    found: dict[str, Any] = {key: str(len(value))}
    for index, entry in enumerate(value):
        unit = {"unit": "degC"} if key == "temperature" else {}
        found |= _flat(f"{key}.{index}", {**entry, **unit})
    return found


def _lines(key: str, _gate: str, values: Values) -> Any:
    return [values[name] for at in range(LINES) if (name := f"{key}.{at}") in values]


def _back_lines(key: str, value: Any) -> dict[str, Any]:
    return {key: "lines", **{f"{key}.{at}": line for at, line in enumerate(value)}}


_BUILD: dict[str, Callable[[str, str, Values], Any]] = {
    "applications": _applications,
    "gap": _gap,
    "stay": _stay,
    "rest": _rest,
    "limit": _limit,
    "dose": _doses,
    "period": _period,
    "temperature": _temperatures,
    "colony_size": _size,
    "look_queen": _look,
    "class": lambda key, _gate, values: values.get(f"{key}.0"),
    **dict.fromkeys(_LINED, _lines),
}
_BACK: dict[str, Callable[[str, Any], dict[str, Any]]] = {
    "applications": _back_applications,
    "gap": lambda key, value: {key: "days", **_flat(key, value)},
    "stay": _back_stay,
    "rest": _back_rest,
    "limit": _back_limit,
    "dose": _back_entries,
    "period": _back_period,
    "temperature": _back_entries,
    "colony_size": _back_size,
    "look_queen": lambda key, value: {key: "days", f"{key}.number": value},
    "class": lambda key, value: _back_lines(key, [value]),
    **dict.fromkeys(_LINED, _back_lines),
}
