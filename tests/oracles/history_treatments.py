"""Invented treatments for random histories, of every kind that the rules tell apart."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

_STANDINGS = (
    *("read",) * 60,
    *("computed", "label in hand") * 30,
    *("reported", "from memory", "common practice"),
)


@dataclass(frozen=True)
class Treatment:
    """A treatment's identity and the body of its terms; `id` of the record that holds it."""

    identity: str
    body: dict[str, Any]

    def value(self, name: str) -> Any:
        entry = self.body["values"].get(name)
        return None if entry is None else entry["value"]

    @property
    def in_pieces(self) -> bool:
        return bool(self.body["form"] == "pieces")

    @property
    def gap(self) -> dict[str, int]:
        return dict(self.value("gap") or {})


def some_treatments(chance: Random) -> list[Treatment]:
    """Return two to four treatments that differ in kind."""
    makers = [_trickle, _vapour, _strips, _sponge]
    rarely = [make for make in (_open_gap, _mist) if chance.random() < 0.35]
    return [make(chance) for make in chance.sample(makers + rarely, chance.randint(2, 4))]


def _maybe(chance: Random, **values: Any) -> dict[str, Any]:
    """Return the values; each one's list gives the choices, None leaves it out."""
    chosen = {name: chance.choice(choices) for name, choices in values.items()}
    return {name: value for name, value in chosen.items() if value is not None}


def _days(number: int, **more: Any) -> dict[str, Any]:
    return {"form": "days", "days": number, **more}


_PERIODS = [
    *(_days(number) for number in (0, 0, 0, 0, 1, 3, 7, 7, 14, 14, 28, 30)),
    *(_days(number) for number in (0, 0, 2, 5, 10, 21)),
    *(_days(number) for number in (0, 1, 4, 7, 14, 28)),
    *(_days(number, honey_only=True) for number in (7, 14)),
    {"form": "next season's supers"},
    {"form": "days"},
    None,
]
_SUPERS = [
    *("off", "off", "off, whole course", "off, at applications", "off, at applications"),
    *("allowed", "allowed", None),
]
_RESTS = [{"days": 30}, {"months": 1}, {"days": 10, "months": 2}, {"days": 0}, None]
_LIMITS = [
    {"number": 1, "counts": "courses", "per": "year"},
    {"number": 2, "counts": "courses", "per": "year"},
    {"number": 3, "counts": "applications", "per": "year"},
    None,
]


def changed(chance: Random, treatment: Treatment) -> dict[str, Any]:
    """Return the body of other terms under the same identity, as another library has them."""
    values = dict(treatment.body["values"])
    others = _maybe(chance, period=_PERIODS, supers=_SUPERS, rest=_RESTS, limit=_LIMITS)
    for name in chance.sample(["period", "supers", "rest", "limit"], chance.randint(1, 2)):
        values.pop(name, None)
        if name in others:
            standing = chance.choice(_STANDINGS)
            values[name] = {"value": others[name], "standing": standing, "source": "label"}
    return {**treatment.body, "values": values}


def _treatment(
    chance: Random, name: str, form: str, fixed: dict[str, Any], published: bool = True
) -> Treatment:
    values = fixed | _maybe(
        chance,
        period=_PERIODS,
        supers=_SUPERS,
        rest=_RESTS,
        limit=_LIMITS,
        combs_exposed=[True, None, None, None],
    )
    body: dict[str, Any] = {
        "treatment": f"XX/invented {name}/1/{name}/given",
        "name": f"invented {name}",
        "active": name,
        "method": "given",
        "form": form,
        "published": published,
        "values": {
            key: {"value": value, "standing": chance.choice(_STANDINGS), "source": "label"}
            for key, value in values.items()
        },
        "sources": {"label": {"title": "Invented label", "issuer": "nobody", "year": 2020}},
    }
    return Treatment(body["treatment"], body)


def _trickle(chance: Random) -> Treatment:
    return _treatment(
        chance, "trickle", "dose", {"applications": {"least": 1, "usual": 1, "most": 1}}
    )


def _vapour(chance: Random) -> Treatment:
    applications = chance.choice(
        [
            {"least": 1, "usual": 3, "most": 4},
            {"least": 2, "usual": 3, "most": 3},
            {"least": 1, "usual": 2},
            {"least": 1, "usual": 1, "most": 1},
            {"least": 1, "most": 3},
            None,
        ]
    )
    known = {"least": 4, "target": 5, "most": 7}
    gap = known if chance.random() < 0.85 else chance.choice([{"most": 7}, {}, None])
    fixed = {"applications": applications, "gap": gap}
    given = {name: value for name, value in fixed.items() if value is not None}
    return _treatment(chance, "vapour", "dose", given)


def _open_gap(chance: Random) -> Treatment:
    gap = chance.choice([{"least": 4}, {"least": 4, "target": 5}, {"target": 5}])
    fixed = {"applications": {"least": 1, "usual": 3, "most": 4}, "gap": gap}
    return _treatment(chance, "liquid", "dose", fixed)


def _strips(chance: Random) -> Treatment:
    by_brood = [
        {"when": "no or hardly any brood", "least": 42, "most": 49},
        {"when": "brood", "least": 70, "most": 77},
    ]
    fixed = {"applications": {"least": 1, "usual": 1, "most": 1}} | _maybe(
        chance,
        stay=[
            *(by_brood, by_brood, [{"when": "any", "least": 42, "most": 56}], None),
            *([{"when": "any", "most": 56}], [by_brood[0], {"when": "brood", "most": 77}]),
        ],
    )
    return _treatment(chance, "strips", "pieces", fixed)


def _sponge(chance: Random) -> Treatment:
    fixed = {
        "applications": {"least": 2, "usual": 2, "most": 2},
        "gap": {"least": 7, "target": 8, "most": 10},
        "stay": [{"when": "any", "least": 7, "most": 14}],
    }
    return _treatment(chance, "sponge", "pieces", fixed)


def _mist(chance: Random) -> Treatment:
    fixed = {"applications": {"least": 1, "usual": 1}}
    return _treatment(chance, "mist", "dose", fixed, published=False)
