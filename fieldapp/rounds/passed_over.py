"""Before a round: which of its hives were passed over the last time, and why."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from fieldapp.journal import happened
from fieldapp.rounds.cautions import Fact
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.spots import WHY
from fieldapp.words import say

#: Why a hive was passed over is told for so many days.
_TOLD_DAYS = 60


def told_passed(notebook: Notebook, hives: Sequence[str], treatment: str) -> list[Fact]:
    """Return a line for each hive that was last passed over with this treatment."""
    found: list[Fact] = []
    since = notebook.today() - timedelta(days=_TOLD_DAYS + 1)
    for hive in hives:
        for entry in notebook.book.history(hive, since=since):
            held = entry.holds
            of_it = not entry.void and held.body.get("treatment") == treatment
            if not of_it or held.kind not in ("skip", "application", "pieces"):
                continue
            day = happened.civil(held.happened)
            if held.kind == "skip" and (notebook.today(held.apiary) - day).days <= _TOLD_DAYS:
                words = say(
                    "Hive {number} was passed over on {day}: {why}",
                    number=notebook.book.hive(hive).number,
                    day=day,
                    why=WHY.get(held.body["why"], WHY["other"]),
                )
                found.append(Fact(words, "late"))
            break
    return found
