"""What each hive gets: the amounts that terms allow, said as the keeper measures them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from fieldapp.husbandry.amounts import PIECE_UNITS, measured, units
from fieldapp.husbandry.dosing import for_hive
from fieldapp.husbandry.evaporation import daily, rates
from fieldapp.rounds.look_form import in_parts
from fieldapp.words import Phrase, say


class Amount(NamedTuple):
    """An amount as one hive gets it. `amount` None: as the label in hand says, not recorded.

    `cap` is the most for a colony.
    """

    amount: float | None
    unit: str
    of: str
    per: str
    when: str = ""
    cap: float | None = None

    @property
    def counted(self) -> bool:
        """Whether the dose differs by hive with what has to be counted there."""
        return self.per in COUNTED and self.amount is not None

    def given(self, number: float | None) -> float | None:
        """Return what a hive gets that has `number` of the basis; None where not known."""
        return for_hive(self.amount, self.per, number, self.cap)

    def phrase(self, number: float | None = None) -> Phrase:
        """Return what one hive gets, in words: *2 strips*, *6 seams: 30 mL*."""
        if self.amount is None:
            return say("as the label says")
        given = self.given(number)
        if given is None:
            return measured(self.amount, self.unit, self.per)
        said = measured(given, self.unit)
        if number is None or self.per not in _NUMBERED or (number == 1 and not self.counted):
            return said
        basis = units(self.per, number)
        return say("{n} {basis}: {all}", n=_counted(self.per, number), basis=basis, all=said)

    def body(self, number: float | None) -> dict[str, Any]:
        """Return the fields of an ``application`` body that say what was given.

        A dose that differs with what was not counted is left out: not known.
        """
        fields: dict[str, Any] = {}
        if self.per == "seam" and number is not None and self.amount is not None:
            fields["seams"] = number
        given = self.given(number)
        amount, per = (given, self.per if self.per not in _NUMBERED else "colony")
        if given is None and not self.counted:
            amount, per = self.amount, self.per
        if amount is None:
            return fields
        fields["dose"] = {"amount": amount, "unit": self.unit, "of": self.of, "per": per}
        if self.unit in PIECE_UNITS:
            fields["pieces"] = math.ceil(amount)
        return fields


#: Bases that are counted at the hive, for nothing else tells how many there are.
COUNTED = frozenset({"seam", "frame of bees", "comb side"})
#: Bases of which a hive has a number.
_NUMBERED = COUNTED | {"box", "brood chamber"}


def offered(values: Mapping[str, Any]) -> list[Amount]:
    """Return the amounts that a ``terms`` body's values allow, a range as its two ends.

    Empty where the terms give no dose: then nothing is assumed. What is to evaporate in a day
    is no amount to give, where the amount of the whole treatment stands beside it.
    """
    entry = values.get("dose")
    if not entry:
        return []
    found: list[Amount] = []
    by_the_day = bool(rates({"values": values}))
    for dose in entry["value"]:
        if by_the_day and daily(dose):
            continue
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


def _counted(per: str, number: float) -> str | float:
    """Return a number as it is counted at the hive: seams to the quarter."""
    return in_parts(number) if per == "seam" else number


#: The amount was not said: it is left out of the record, and is *not known*.
NOT_SAID = Amount(None, "", "", "")
