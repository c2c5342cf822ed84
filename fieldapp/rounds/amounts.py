"""What each hive gets: the amounts that terms allow, said as the keeper measures them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from fieldapp.words import Phrase, count, say


class Amount(NamedTuple):
    """An amount as one hive gets it. `amount` None: as the label in hand says, not recorded.

    `per_seam`: the amount is for each seam that bees occupy; `cap` is the most for a colony.
    """

    amount: float | None
    unit: str
    of: str
    per: str
    when: str = ""
    cap: float | None = None

    @property
    def by_seams(self) -> bool:
        """Whether the dose differs by hive with its occupied seams."""
        return self.per == "seam" and self.amount is not None

    def given(self, seams: float | None) -> float | None:
        """Return what one hive gets with so many occupied seams; None where not known."""
        if self.amount is None or not self.by_seams:
            return self.amount
        if seams is None:
            return None
        total = self.amount * seams
        return min(total, self.cap) if self.cap is not None else total

    def phrase(self, seams: float | None = None) -> Phrase:
        """Return what one hive gets, in words: *2 strips*, *6 seams: 30 mL*."""
        if self.amount is None:
            return say("as the label says")
        if not self.by_seams:
            return measured(self.amount, self.unit, self.per)
        given = self.given(seams)
        if given is None or seams is None:
            return say("{each} a seam", each=measured(self.amount, self.unit, "hive"))
        return say("{seams} seams: {all}", seams=seams, all=measured(given, self.unit, "hive"))

    def body(self, seams: float | None) -> dict[str, Any]:
        """Return the fields of an ``application`` body that say what was given."""
        given = self.given(seams)
        fields: dict[str, Any] = {}
        if self.by_seams and seams is not None:
            fields["seams"] = seams
        if given is None:
            return fields
        per = "colony" if self.by_seams else self.per
        fields["dose"] = {"amount": given, "unit": self.unit, "of": self.of, "per": per}
        if self.unit in PIECE_UNITS:
            fields["pieces"] = math.ceil(given)
        return fields


#: Units of things that go in and must come out.
PIECE_UNITS = frozenset({"piece", "tray", "tablet"})


def measured(amount: float, unit: str, per: str) -> Phrase:
    """Return an amount with its unit in words."""
    if unit in PIECE_UNITS and amount == int(amount):
        whole = int(amount)
        forms = {
            "piece": lambda: count("{n} piece", "{n} pieces", whole),
            "tray": lambda: count("{n} tray", "{n} trays", whole),
            "tablet": lambda: count("{n} tablet", "{n} tablets", whole),
        }
        said = forms[unit]()
    elif unit in PIECE_UNITS:
        forms_of_part = {
            "piece": say("{amount} pieces", amount=amount),
            "tray": say("{amount} trays", amount=amount),
            "tablet": say("{amount} tablets", amount=amount),
        }
        said = forms_of_part[unit]
    else:
        said = say("{amount} {unit}", amount=amount, unit=unit)
    return _per(said, per)


def _per(said: Phrase, per: str) -> Phrase:
    if per == "brood chamber":
        return say("{amount} a brood chamber", amount=said)
    if per == "box":
        return say("{amount} a box", amount=said)
    if per == "frame of bees":
        return say("{amount} a frame of bees", amount=said)
    if per == "comb side":
        return say("{amount} a comb side", amount=said)
    return said


def offered(values: Mapping[str, Any]) -> list[Amount]:
    """Return the amounts that a ``terms`` body's values allow, a range as its two ends.

    Empty where the terms give no dose: then nothing is assumed.
    """
    entry = values.get("dose")
    if not entry:
        return []
    found: list[Amount] = []
    for dose in entry["value"]:
        ends = (
            [dose["amount"]]
            if "amount" in dose
            else [dose[end] for end in ("least", "most") if end in dose]
        )
        found += [
            Amount(
                end, dose["unit"], dose["of"], dose["per"], dose.get("when", ""), dose.get("cap")
            )
            for end in ends
        ]
    return found


#: The amount was not said: it is left out of the record, and is *not known*.
NOT_SAID = Amount(None, "", "", "")
