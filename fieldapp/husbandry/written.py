"""A dose that somebody entitled wrote down, and the strokes that give it and no more.

Only a *label in hand* or a veterinarian's document tells strokes, and only for the very method
and country that it is about. What it does not tell in grams of oxalic acid for one colony is
not reckoned from it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from fieldapp.husbandry.answers import Reason
from fieldapp.husbandry.applicators import PerStroke, given
from fieldapp.husbandry.figures import Table
from fieldapp.husbandry.mixing.contents import anhydrous_share
from fieldapp.husbandry.mixing.strength import Strength
from fieldapp.journal.corrections import Version
from fieldapp.words import Phrase, say

_IN_HAND = "label in hand"
_ONE = frozenset({"colony", "hive"})
_GRAMS = {"g": 1.0, "mg": 0.001}

NOT_WRITTEN = Reason(
    say("no written dose for this method in this country: ask the authority or a vet")
)


class WrittenDose(NamedTuple):
    """A dose for a method in a country, and who wrote it: `words`, and the records.

    `grams` is g of dihydrate for one colony; None where the document tells it otherwise.
    """

    grams: float | None
    method: str
    country: str
    words: Phrase
    records: tuple[str, ...] = ()


def by_label(terms: Mapping[str, Any], chemistry: Table) -> WrittenDose | None:
    """Return the dose of a label in hand (the body of a ``terms`` record); None without one.

    Of several doses for one colony the smallest counts.
    """
    entry = terms["values"].get("dose")
    if entry is None or entry["standing"] != _IN_HAND:
        return None
    title = str(terms["sources"].get(entry["source"], {}).get("title", ""))
    if not title:
        return None
    told = [grams for dose in entry["value"] if (grams := _grams(dose, chemistry)) is not None]
    words = say("label in hand: {title}", title=title)
    grams = min(told, default=None)
    return WrittenDose(grams, terms["method"], terms.get("country", ""), words)


def by_veterinarian(version: Version, method: str, chemistry: Table) -> WrittenDose | None:
    """Return the dose of a ``written_dose`` record, whose treatment is given by `method`.

    Where versions of it stand side by side the smallest dose counts, and none if one of them
    takes it back or tells it otherwise than in grams.
    """
    if any(each.void for each in version.open):
        return None
    told = [_grams(each.body["dose"], chemistry) for each in version.open]
    known = [grams for grams in told if grams is not None]
    body = version.holds.body
    by = body["given_by"]
    words = say(
        "{name}, {document}, {day}",
        name=by["name"],
        document=by["document"],
        day=date.fromisoformat(by["day"]),
    )
    grams = min(known) if len(known) == len(told) else None
    return WrittenDose(grams, method, body["country"], words, (version.root.id,))


def _grams(dose: Mapping[str, Any], chemistry: Table) -> float | None:
    amount = dose.get("amount", dose.get("most"))
    share = {"dihydrate": 1.0, "anhydrous": 1 / anhydrous_share(chemistry)}.get(dose["of"])
    unit = _GRAMS.get(dose["unit"])
    if not amount or share is None or unit is None or dose["per"] not in _ONE:
        return None
    return float(amount) * unit * share


def strokes_for(
    written: WrittenDose,
    method: str,
    country: str,
    stroke: PerStroke,
    strength: Strength,
    chemistry: Table,
) -> int | Reason:
    """Return the strokes that give a written dose and not more, or the reason why there are none.

    It counts for its very method and country. Rounded down, by the most that a stroke may give.
    """
    if (written.method, written.country) != (method, country):
        return NOT_WRITTEN
    if written.grams is None:
        return Reason(
            say(
                "the written dose ({by}) is not told in g of oxalic acid for one colony: no "
                "strokes from it",
                by=written.words,
            ),
            written.records,
        )
    one = given({"": 1}, stroke, strength, chemistry).grams.high
    if one <= 0:
        return Reason(say("the strokes measured gave nothing: measure again"))
    strokes = math.floor(written.grams / one)
    if strokes < 1:
        return Reason(say("one stroke gives more than the written dose: this will not do"))
    return strokes
