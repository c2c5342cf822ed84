"""The honey line of the label in hand, as the keeper reads it out."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.book.signing import Signing
from fieldapp.journal.record import Draft

#: The longest withdrawal that a ``period`` record takes, in days.
MOST_DAYS = 3660


class LabelLine(NamedTuple):
    """The keeper's answer on the honey line of the label in hand."""

    days: int

    def draft(self, signing: Signing, identity: str, name: str, apiary: str) -> Draft:
        """Return the ``period`` record that says so."""
        return Draft(
            "period",
            signing.moment(apiary),
            signing.keeper or "",
            {
                "treatment": identity,
                "period": {"form": "days", "days": self.days},
                "given_by": {
                    "who": "label in hand",
                    "name": name,
                    "day": signing.today(apiary).isoformat(),
                    "document": f"label in hand: {self.days} days",
                },
            },
            apiary=apiary,
        )
