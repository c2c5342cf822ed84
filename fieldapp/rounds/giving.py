"""What a round does at each hive, as it was said before it began; kept on this phone.

The records name what was given; this is what the next tap will log. Where it is lost, a tap
logs what the round's own record says, and no more.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldapp.rounds.amounts import NOT_SAID, Amount
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.strokes_given import Strokes
from fieldapp.rounds.timers import Times

#: What a round of pieces does with those that are in.
Did = Literal["out", "moved"]
_KEPT = "giving"


class Giving(NamedTuple):
    """What each hive gets, from which lot (its root id), how long it takes, or what is done."""

    amount: Amount = NOT_SAID
    lot: str | None = None
    times: Times = Times()
    strokes: Strokes | None = None
    did: Did = "out"

    def keep(self, notebook: Notebook, round_id: str) -> None:
        """Keep it for this round, in place of the round before."""
        notebook.local.put(_KEPT, {"round": round_id, "giving": list(self)})

    @classmethod
    def kept(cls, notebook: Notebook, round_id: str) -> Giving:
        """Return what is kept for this round; what was not said is not known."""
        kept = notebook.local.get(_KEPT)
        if not kept or kept.get("round") != round_id:
            return cls()
        amount, lot, times, strokes, did = kept["giving"]
        if strokes is not None:
            gear, places = strokes
            strokes = Strokes(gear, tuple((place, n) for place, n in places))
        return cls(Amount(*amount), lot, Times(*times), strokes, did)


def forget(notebook: Notebook) -> None:
    """Forget what was kept: the round is over."""
    notebook.local.put(_KEPT, None)
